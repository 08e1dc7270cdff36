"""forgelog quote: what an order costs by each method, what is asked for it, how it came out.

With `--json` one object is printed. Its keys are stable; keys may be added, none of these goes or
changes its meaning. An amount is text in whole coins ("133.00"), "" where it is not known; a
quantity stands with its unit; a day is YYYY-MM-DD:

    order, label, title, recipe, recipe_name, says, count, sizes[], shop, day, valid_until,
    promised, currency, digits, method, rounding, problems[]
    columns[]    method, words, cost, net, net_low, net_high, tax, tax_words, total, deposit,
                 deposit_words, rest, without[], without_words
      lines[]    id, group, title, words, quantity, each, amount, missing, note
      hours[]    kind, words, hours, low, high, source
    own[]        lines of this order alone, as in lines[]
    offers[]     number, day, valid_until, method, net, tax, total, deposit, currency, answer,
                 lapsed
    actual       null before any work; finished, hours, earned_hour, earned_words
      lines[]    id, words, quoted, actual, difference, why
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up
from forgelog.commands.telling import as_lines, print_json, wants_screen, ways_of_telling, width_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping
    from decimal import Decimal

    from forgelog.desk.quote_told import QuoteTold
    from forgelog.desk.shop import Shop
    from forgelog.work.state import Order


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("order", help="its label, its letter, or the beginning of its id")
    parser.add_argument("--method", default="", help="hand, striker, power or press")
    parser.add_argument(
        "--hours",
        action="append",
        default=[],
        metavar="KIND=HOURS",
        help="hours of this order, like design=2 or pack=45min; may be repeated",
    )
    parser.add_argument(
        "--cost",
        action="append",
        default=[],
        metavar="WORDS=AMOUNT",
        help='a cost of this order alone, kept with it, like carriage=35 or "site survey=40"; '
        "carriage=none takes it off; may be repeated",
    )
    deeds = parser.add_mutually_exclusive_group()
    deeds.add_argument("--offer", action="store_true", help="write down that you offer this price")
    deeds.add_argument("--accepted", action="store_true", help="the customer took the last offer")
    deeds.add_argument("--declined", action="store_true", help="the customer did not take it")
    deeds.add_argument("--actual", action="store_true", help="only how the work came out")
    ways_of_telling(parser)


def run(args: argparse.Namespace) -> int:
    """Open the quote on a screen; print it where there is no terminal, or something was done."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.offers import read_costs, read_hours, set_costs
    from forgelog.desk.orders import find_order
    from forgelog.desk.quote import method_of, quote_of
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        order = find_order(shop.state, args.order)
        hours, costs = read_hours(args.hours), read_costs(args.cost)
        method_of(args.method)
        read_up(shop)
        if costs:
            set_costs(shop, order, costs)
            shop = shop.again()
        deed = args.offer or args.accepted or args.declined or args.actual or bool(costs)
        if not deed and wants_screen(args):
            from forgelog.screens.app import run as open_app
            from forgelog.screens.quote import QuoteScreen

            page = QuoteScreen(shop, order.id, method=args.method, hours=hours)
            return open_app(lambda app: page)
        told = quote_of(shop, order, method=args.method, hours=hours)
        if args.offer or args.accepted or args.declined:
            _write(shop, order, told, hours, args)
            told = quote_of(shop.again(), order, method=told.method)
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    _print(told, args)
    return CLEAN


def _write(
    shop: Shop,
    order: Order,
    told: QuoteTold,
    hours: Mapping[str, Decimal | None],
    args: argparse.Namespace,
) -> None:
    from forgelog.desk.offers import answer_offer, make_offer

    if args.offer:
        make_offer(shop, told, hours=hours)
    else:
        answer_offer(shop, order, accepted=args.accepted)


def _print(told: QuoteTold, args: argparse.Namespace) -> None:
    if args.json:
        print_json(told)
        return
    from textwrap import fill

    from forgelog.desk.quote_pages import first_words, write_actual, write_quote

    width = width_of(args.width)
    sets = "1 set" if told.count == 1 else f"{told.count} sets"
    head = f"{told.label}: {told.title}, {sets}"
    if args.actual:
        lines = list(write_actual(told, width)) or ["No work was done on it yet."]
        print("\n".join((fill(head, width), "", *(line.rstrip() for line in lines))))
        return
    print(as_lines([head, first_words(told)], write_quote(told, width), width))
