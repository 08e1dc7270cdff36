"""forgelog cut: which piece is sawn from which bar, and what is to be bought.

    forgelog cut                    over all open orders that are not held
    forgelog cut 14 17              only these
    forgelog cut --done 14          it has been sawn as the list says: the rack knows
    forgelog cut --done --bar 3     only bar 3 of the list was sawn; --bar more than once for more
    forgelog cut --take-back        the last --done was wrong: as before

With `--json` one object is printed. Keys are stable; a length is in mm where its key ends in
`_mm`, a mass in kg. Keys may be added; none of these goes or changes its meaning:

    orders[]      id, label, title
    pieces, mass_kg, mass, kerf_mm, kerf, least_mm, least, bar_mm, bar, first
    buy[], unsized[], left_out[], notes[]
    sections[]    section, section_written, steel, pieces, needed_mm, needed, mass_kg, mass,
                  buy, buy_mm, buy_kg, buy_words, lacking[], notes[]
    sections[].bars[]         number, kind (offcut, bar, new), words, label, where, long_mm, long,
                              cuts, kerf_mm, kerf, rest_mm, rest, rest_label, rest_words
    sections[].bars[].runs[]  order, label, component, name, count, long_mm, long, marks_mm[],
                              marks[], workpieces[], grip_mm, proved, words, note
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.telling import print_json, width_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.cut_told import CutTold


WIDEST = 120


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("orders", nargs="*", metavar="ORDER", help="label, letter, or part of id")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    deeds = parser.add_mutually_exclusive_group()
    deeds.add_argument("--done", action="store_true", help="it has been sawn as the list says")
    parser.add_argument(
        "--bar",
        action="append",
        type=int,
        default=[],
        metavar="N",
        help="with --done: only this bar of the list; may be given more than once",
    )
    deeds.add_argument("--take-back", action="store_true", help="what was last sawn was not")


def run(args: argparse.Namespace) -> int:
    """Print the cut list, or write down that it was sawn."""
    from forgelog.desk.as_lit import clock_of
    from forgelog.desk.cut import cut_of
    from forgelog.desk.cut_done import cut_done, done_words, take_back
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.orders import find_order
    from forgelog.desk.shop import open_shop

    try:
        if args.bar and not args.done:
            raise Refused("--bar says which bar was sawn: give it with --done")
        shop = open_shop(args.book)
        if args.take_back:
            if args.orders:
                raise Refused("--take-back takes back what was last written down: name no order")
            print(f"taken back: {take_back(shop, clock=clock_of(shop))}")
            return CLEAN
        orders = [find_order(shop.state, name).id for name in args.orders]
        if not args.done:
            told = cut_of(shop, orders)
            return _print(told, args)
        told = cut_done(shop, orders, bars=args.bar, clock=clock_of(shop))
        if args.json:
            print_json(told)
            return CLEAN
        print(f"written down as sawn: {told.first}")
        for line in done_words(shop, told):
            print(f"  {line}")
        if args.bar:
            print("What is left to saw is worked out and numbered anew: `forgelog cut` tells it.")
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return CLEAN


def _print(told: CutTold, args: argparse.Namespace) -> int:
    if args.json:
        print_json(told)
        return CLEAN
    from textwrap import fill

    from forgelog.desk.cut_pages import NARROWEST, write_cut

    width = width_of(least=NARROWEST)
    parts = [fill(told.first, width)]
    parts += ["\n".join((page.title, *page.lines)).rstrip() for page in write_cut(told, width)]
    print("\n\n".join(parts))
    return CLEAN
