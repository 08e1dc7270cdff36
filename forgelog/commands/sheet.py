"""forgelog sheet: a printable page of an order or of a session.

An HTML file of its own: nothing to fetch, nothing that runs; any browser prints it. It is written
into the book's folder `sheets/`, which may be deleted at any time, or where -o says. With --text
it is lines for a line printer, to the standard output where -o does not say otherwise.
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

KINDS = ("job", "cut", "quote", "inner", "pack")
PAPERS = ("a4", "letter")


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "order",
        nargs="?",
        default="",
        help="its label, its letter, or the beginning of its id; --kind cut alone takes all",
    )
    parser.add_argument(
        "--session", metavar="SESSION", help="the page of a session: its number, its id, or last"
    )
    parser.add_argument("--kind", choices=KINDS, default="job", help="which sheet (default job)")
    parser.add_argument("--paper", choices=PAPERS, help="else by the shop's units")
    parser.add_argument("-o", "--out", metavar="FILE", help="where to; - for standard output")
    parser.add_argument("--text", action="store_true", help="lines of 80 letters, form feeds")
    parser.add_argument(
        "--customer", action="store_true", help="with what the customer's file says"
    )
    parser.add_argument("--plan", action="store_true", help="with the plan of the day (job)")


def run(args: argparse.Namespace) -> int:
    """Write the sheet, and say where it lies."""
    from pathlib import Path

    from forgelog.desk.errors import CannotDo
    from forgelog.desk.new_file import put_new
    from forgelog.desk.shop import open_shop
    from forgelog.recipe.plain import harmless
    from forgelog.sheets.making import Wanted, keep, set_sheet

    if bool(args.order) == bool(args.session) and (args.order or args.kind != "cut"):
        raise Refused("name an order, or a session with --session")
    wanted = Wanted(
        kind="session" if args.session else args.kind,
        order=args.order,
        session="" if args.session in (None, "last") else args.session,
        paper=args.paper or "",
        text=args.text,
        customer=args.customer,
        plan=args.plan,
    )
    try:
        shop = open_shop(args.book)
        read_up(shop)
        made = set_sheet(shop, wanted)
        if args.out == "-" or (args.text and not args.out):
            print(made.text, end="")
            return CLEAN
        if args.out:
            path = Path(args.out).expanduser()
            put_new(path, made.text)
        else:
            path = keep(shop, made)
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    print(f"written: {harmless(str(path))}")
    return CLEAN
