"""The deeds of forgelog order, and what each takes."""

from __future__ import annotations

from forgelog.commands.numbers import whole

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    deeds = parser.add_subparsers(dest="deed", metavar="DEED", required=True)
    take = deeds.add_parser("take", help="take an order")
    take.add_argument("recipe", help="id of a recipe in the book")
    take.add_argument("--title", default="", help="what it is called on the screen")
    take.add_argument("--label", default="", help="your own number or a short name")
    take.add_argument("--count", type=whole, default=1, help="how many sets (default 1)")
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
    begin.add_argument("--count", type=whole, default=1, help="how many of it (default 1)")
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
    spare.add_argument("--count", type=whole, default=1, help="how many (default 1)")
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


def _on_order(deeds: argparse._SubParsersAction, name: str, says: str) -> argparse.ArgumentParser:  # type: ignore[type-arg]
    deed: argparse.ArgumentParser = deeds.add_parser(name, help=says)
    deed.add_argument("order", help="its label, its letter, or the beginning of its id")
    return deed
