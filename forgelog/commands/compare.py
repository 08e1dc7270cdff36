"""forgelog compare: two recipes, or two revisions of one, step by step."""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import Progress
from forgelog.commands.telling import print_json

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    one = "a recipe by its id or file; ID@REVISION is one that an order was worked from"
    parser.add_argument("first", help=one)
    parser.add_argument("second", help="the other")
    parser.add_argument("--all", action="store_true", help="tell the steps that are the same, too")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(args: argparse.Namespace) -> int:
    """Print what differs, and what the records say of each step."""
    from forgelog.commands.asking import show
    from forgelog.desk.comparing import compared_lines
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.side_by_side import side_by_side

    try:
        compared = side_by_side(args.book, args.first, args.second, report=Progress())
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    if args.json:
        print_json(compared)
        return CLEAN
    show(compared_lines(compared, whole=args.all))
    return CLEAN
