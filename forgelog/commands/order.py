"""forgelog order: take customers' orders, look at them, change them.

`order list --json` prints a list of orders, `order show --json` one of them. Keys are stable and
named like the fields of the readout; keys may be added, none goes or changes its meaning:

    id, letter, label, title, recipe, free, count, taken, promised, for_shop, held, closed,
    begun, called_off, delivered, delivered_on, undone[], spares[], left_out[],
    steps_done, steps, customer_file, problems[], offered, notes[],
    sizes[]      name, mm, shown, says, given
    bars[]       component, name, section, shown, cut_mm, cut, given, own, own_cut
    customer     null, or name, address[], notes, more[], problem
    bought[]     id, name, count, says, component, mass_kg
    pieces[]     id, slot, place, step, done, steps, where, note, spare, make_as[]

`order jobs --json` prints a list of tools: id, name, state, since, order, recipes[],
holds_up[] (order, label, steps[]).
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.order_view import OrderShown
    from forgelog.desk.shop import Shop
    from forgelog.work.state import Order


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    deeds = parser.add_subparsers(dest="deed", metavar="DEED", required=True)
    take = deeds.add_parser("take", help="take an order")
    take.add_argument("recipe", help="id of a recipe in the book")
    take.add_argument("--title", default="", help="what it is called on the screen")
    take.add_argument("--label", default="", help="your own number or a short name")
    take.add_argument("--count", type=int, default=1, help="how many sets (default 1)")
    take.add_argument(
        "--size",
        action="append",
        default=[],
        metavar="NAME=LENGTH",
        help='a size of the customer\'s, like post=120mm or "post=4 3/4 in"; may be repeated',
    )
    take.add_argument(
        "--for",
        dest="customer",
        default="",
        metavar="NAME",
        help="who it is for; kept in a file of its own, customers/ORDER.toml",
    )
    take.add_argument(
        "--for-shop",
        action="store_true",
        help="a tool or jig of the shop's own: it is there once the order is finished",
    )
    take.add_argument("--promised", default="", metavar="DATE", help="YYYY-MM-DD")
    begin = deeds.add_parser("begin", help="work without a recipe: say what it was as you go")
    begin.add_argument("title", help="what is made, in a few words")
    begin.add_argument(
        "--piece",
        action="append",
        default=[],
        metavar="NAME=BAR[, LENGTH]",
        help='like "latch=12 mm square, 180 mm" or "4 hook=10 mm round"; may be repeated',
    )
    begin.add_argument("--steel", default="mild", help="mild, a grade, or unknown")
    begin.add_argument("--label", default="", help="your own number or a short name")
    begin.add_argument("--count", type=int, default=1, help="how many of it (default 1)")
    listing = deeds.add_parser("list", help="open orders, the next one promised first")
    listing.add_argument("--closed", action="store_true", help="closed ones as well")
    listing.add_argument("--json", action="store_true", help="print a JSON list")
    jobs = deeds.add_parser("jobs", help="tools to be made or repaired, and what they hold up")
    jobs.add_argument("--json", action="store_true", help="print a JSON list")
    show = _on_order(deeds, "show", "one order: sizes, how far it is, where its pieces lie")
    show.add_argument("--json", action="store_true", help="print one JSON object")
    size = _on_order(deeds, "size", "the customer's sizes are others")
    size.add_argument("sizes", nargs="+", metavar="NAME=LENGTH", help="like post=120mm")
    bar = _on_order(deeds, "bar", "cut a component from the bar that lies there")
    bar.add_argument(
        "bars",
        nargs="+",
        metavar="COMPONENT=BAR",
        help='like "strap=40 x 10 mm flat", or strap=recipe for the recipe\'s own again',
    )
    customer = _on_order(deeds, "for", "say who it is for, where nobody is named yet")
    customer.add_argument("name", help="a name; the rest goes into customers/ORDER.toml by hand")
    hold = _on_order(deeds, "hold", "nothing is to be done on it for now")
    hold.add_argument("why", nargs="?", default="", help="a few words")
    _on_order(deeds, "free", "it may be worked on again")
    promise = _on_order(deeds, "promise", "promise a date, or none any more")
    promise.add_argument("date", help='YYYY-MM-DD, or "none"')
    spare = _on_order(deeds, "spare", "make more of a component than the order wants")
    spare.add_argument("component", help="id of a component that is cut from the bar")
    spare.add_argument("--count", type=int, default=1, help="how many (default 1)")
    spare.add_argument("--mark", default="", help="which hand or variant, where it has several")
    deliver = _on_order(deeds, "deliver", "the customer has it; refused while steps are undone")
    deliver.add_argument("--note", default="", help="a few words: who fetched it, the carrier")
    deliver.add_argument("--how", default="", help="fetched, sent or fitted")
    deliver.add_argument("--on", dest="day", default="", metavar="DATE", help="today if not given")
    close = _on_order(deeds, "close", "done with and not delivered: kept, given away, called off")
    close.add_argument("why", nargs="?", default="", help="a few words")
    close.add_argument(
        "--called-off", metavar="WHY", default="", help="give it up, whatever is undone, and why"
    )
    for deed in (deliver, close):
        deed.add_argument(
            "--keep-spares", action="store_true", help="note of spares that they are on the shelf"
        )
        deed.add_argument(
            "--hours",
            action="append",
            default=[],
            metavar="KIND=HOURS",
            help="what it took besides fire and bench, like design=2.5; may be repeated",
        )
    hours = _on_order(deeds, "hours", "what it took besides fire and bench: the next quote knows")
    hours.add_argument("hours", nargs="+", metavar="KIND=HOURS", help="like design=2.5; =none")


def run(args: argparse.Namespace) -> int:
    """Do the deed and say what stands then."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop

    try:
        return _DEEDS[args.deed](open_shop(args.book), args)
    except CannotDo as problem:
        raise Refused(str(problem)) from None


def _on_order(deeds: argparse._SubParsersAction, name: str, says: str) -> argparse.ArgumentParser:  # type: ignore[type-arg]
    deed: argparse.ArgumentParser = deeds.add_parser(name, help=says)
    deed.add_argument("order", help="its label, its letter, or the beginning of its id")
    return deed


def _take(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.customers import customer_name, note_customer
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import read_sizes, take_order

    name = customer_name(args.customer)
    order = take_order(
        shop,
        args.recipe,
        label=args.label,
        title=args.title,
        count=args.count,
        sizes_mm=read_sizes(args.size),
        promised=args.promised,
        for_shop=args.for_shop,
    )
    not_noted = ""
    try:
        if name:
            note_customer(shop, order, name)
    except CannotDo as problem:
        not_noted = str(problem)
    print("taken: ", end="")
    _print_order(order_shown(shop.again(), order))
    if not_noted:
        raise Refused(f"the order is taken; {not_noted}")
    return CLEAN


def _begin(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.free_work import read_part, take_free
    from forgelog.desk.order_view import order_shown

    order = take_free(
        shop,
        args.title,
        [read_part(text) for text in args.piece],
        steel=args.steel,
        label=args.label,
        count=args.count,
    )
    print("begun: ", end="")
    _print_order(order_shown(shop.again(), order))
    return CLEAN


def _list(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import orders_shown

    shown = orders_shown(shop, closed=args.closed)
    if args.json:
        _print_json(shown)
        return CLEAN
    for row in order_rows(shown):
        print(row)
    if not shown:
        print("no open orders; `forgelog order take RECIPE` takes one")
    return CLEAN


def _jobs(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.tool_jobs import tool_jobs

    jobs = tool_jobs(shop)
    if args.json:
        _print_json(jobs)
        return CLEAN
    for job in jobs:
        print(f"{job.name}: {job.state}, since {job.since}")
        for held in job.holds_up:
            print(f"    holds up {held.label}: {', '.join(held.steps)}")
        if job.order:
            print(f"    order {job.order} makes it")
        for recipe in () if job.order else job.recipes:
            print(f"    `forgelog order take {recipe} --for-shop` takes it in hand")
    if not jobs:
        print("no tool holds up a step")
    return CLEAN


def _show(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order

    shown = order_shown(shop, find_order(shop.state, args.order))
    if args.json:
        _print_json(shown)
    else:
        _print_order(shown)
    return CLEAN


def _size(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import change_sizes, find_order, read_sizes
    from forgelog.desk.recipe_moved import moved_lines

    order = find_order(shop.state, args.order)
    change_sizes(shop, order, read_sizes(args.sizes))
    shop = shop.again()
    order = shop.state.orders[order.id]
    print("changed: ", end="")
    _print_order(order_shown(shop, order))
    for line in moved_lines(shop, order):
        print(line)
    return CLEAN


def _bar(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.bars import choose_bars, read_bars
    from forgelog.desk.layout_doubts import doubts_of
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order
    from forgelog.desk.recipe_moved import moved_lines

    order = find_order(shop.state, args.order)
    choose_bars(shop, order, read_bars(args.bars))
    shop = shop.again()
    order = shop.state.orders[order.id]
    print("changed: ", end="")
    _print_order(order_shown(shop, order))
    for doubt in doubts_of(shop, order):
        print(f"  look at: {doubt}")
    for line in moved_lines(shop, order):
        print(line)
    return CLEAN


def _for(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.customers import note_customer
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    note_customer(shop, order, args.name)
    return _now(shop, order.id)


def _hold(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.orders import find_order, hold_order

    order = find_order(shop.state, args.order)
    hold_order(shop, order, args.why)
    return _now(shop, order.id)


def _free(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.orders import find_order, free_order

    order = find_order(shop.state, args.order)
    free_order(shop, order)
    return _now(shop, order.id)


def _promise(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.orders import find_order, promise_order

    order = find_order(shop.state, args.order)
    promise_order(shop, order, "" if args.date == "none" else args.date)
    return _now(shop, order.id)


def _close(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.done_with import call_off, close_order, must_be_done
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    if not args.called_off:
        must_be_done(shop.state, order, "closed")
    shop = _with_hours(shop, order, args)
    if args.called_off:
        call_off(shop, order, args.called_off)
        return _now(shop, order.id)
    close_order(shop, order, args.why, keep_spares=args.keep_spares)
    return _done_with(shop, order.id)


def _deliver(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.done_with import deliver_order, must_be_done
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    must_be_done(shop.state, order, "delivered")
    shop = _with_hours(shop, order, args)
    deliver_order(shop, order, args.how, args.note, day=args.day, keep_spares=args.keep_spares)
    return _done_with(shop, order.id)


def _spare(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order
    from forgelog.desk.spares import add_spares

    order = find_order(shop.state, args.order)
    add_spares(shop, order, args.component, args.count, mark=args.mark)
    shop = shop.again()
    for spare in order_shown(shop, shop.state.orders[order.id]).spares:
        print(f"spare: {spare}")
    return CLEAN


def _with_hours(shop: Shop, order: Order, args: argparse.Namespace) -> Shop:
    """What it took besides fire and bench, told before the order is done with."""
    if not args.hours:
        return shop
    from forgelog.desk.offers import read_hours, tell_hours

    tell_hours(shop, order, read_hours(args.hours))
    return shop.again()


def _hours(shop: Shop, args: argparse.Namespace) -> int:
    from forgelog.desk.offers import read_hours, tell_hours
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    after = tell_hours(shop, order, read_hours(args.hours)).orders[order.id]
    told = ", ".join(f"{kind} {hours} h" for kind, hours in after.hours.items())
    print(f"told: {told or 'nothing'}")
    return CLEAN


_DEEDS = {
    "take": _take,
    "begin": _begin,
    "list": _list,
    "jobs": _jobs,
    "show": _show,
    "size": _size,
    "bar": _bar,
    "for": _for,
    "hold": _hold,
    "free": _free,
    "promise": _promise,
    "spare": _spare,
    "deliver": _deliver,
    "close": _close,
    "hours": _hours,
}


def _now(shop: Shop, order: str) -> int:
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import order_shown

    shop = shop.again()
    for row in order_rows((order_shown(shop, shop.state.orders[order]),)):
        print(row)
    return CLEAN


def _done_with(shop: Shop, order: str) -> int:
    """The order as it was closed, and what was left of it: spares, and pieces left out."""
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import order_shown

    shop = shop.again()
    shown = order_shown(shop, shop.state.orders[order])
    for row in order_rows((shown,)):
        print(row)
    for spare in shown.spares:
        print(f"spare left: {spare}")
    for words in shown.left_out:
        print(f"left out: {words}")
    return CLEAN


def _print_order(shown: OrderShown) -> None:
    from forgelog.desk.order_text import order_lines

    for line in order_lines(shown):
        print(line)


def _print_json(value: object) -> None:
    import msgspec

    data = msgspec.json.format(msgspec.json.encode(value), indent=2)
    print(data.decode())
