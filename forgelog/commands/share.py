"""forgelog share: a recipe with what the records say of it, as one file for another smith."""

from __future__ import annotations

import sys

from forgelog.commands import CLEAN, NOT_DONE, Refused
from forgelog.commands.progress import read_up

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("recipe", help="a recipe of the book, by its id or its file's name")
    parser.add_argument("-o", "--out", metavar="FILE", help="write it there, once you have seen it")
    parser.add_argument("--by", default="", help="your name, if it is to go with it")
    parser.add_argument("--on", default="", metavar="DATE", help="the day, if it is to go with it")
    parser.add_argument("--no-records", action="store_true", help="the process alone")
    parser.add_argument("--yes", action="store_true", help="do not ask before writing")


def run(args: argparse.Namespace) -> int:
    """Print the file; with -o, show what goes out with it, ask, and write it."""
    from pathlib import Path

    from forgelog.commands.asking import agreed, show
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.sharing import share, write_shared
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        if not args.no_records:
            read_up(shop)
        shared = share(
            shop,
            args.recipe,
            by=args.by,
            on=args.on,
            evidence=not args.no_records,
        )
        show(shared.lines, sys.stderr)
        for problem in shared.problems:
            print(problem.text, file=sys.stderr)
        if not args.out:
            print(shared.text, end="")
            return CLEAN
        if not args.yes:
            print(shared.text, end="")
            if not agreed("Write this file?"):
                print("nothing was written", file=sys.stderr)
                return NOT_DONE
        print(f"written: {write_shared(shared, Path(args.out))}")
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return CLEAN
