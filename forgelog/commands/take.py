"""forgelog take: look another smith's recipe over, and put it in the book."""

from __future__ import annotations

import sys

from forgelog.commands import CLEAN, NOT_DONE, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", help="a recipe file that somebody shared")
    parser.add_argument(
        "--as", dest="new_id", default="", metavar="ID", help="another id, beside one of your own"
    )
    parser.add_argument("--look", action="store_true", help="only look; the book stays as it is")
    parser.add_argument("--yes", action="store_true", help="do not ask before it goes in the book")


def run(args: argparse.Namespace) -> int:
    """Tell what is in it; then, once agreed to, put it in the book."""
    from pathlib import Path

    from forgelog.commands.asking import agreed, show
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop
    from forgelog.desk.taking import SAME_PROCESS, look_at, looked_lines, put_in_book

    try:
        shop = open_shop(args.book)
        looked = look_at(shop, Path(args.file))
        show(looked_lines(looked))
        if args.look or (looked.standing == SAME_PROCESS and not args.new_id):
            return CLEAN
        if not args.yes and not agreed("Put it in the book?"):
            print("the book stays as it is", file=sys.stderr)
            return NOT_DONE
        print(f"in the book: {put_in_book(shop, looked, new_id=args.new_id)}")
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return CLEAN
