"""forgelog new-book: make the folder of a shop."""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "path", nargs="?", help="the folder; where none is named, the usual place of this device"
    )


def run(args: argparse.Namespace) -> int:
    """Make the book, and say what lies in it and what to do next."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.founding import found_book

    try:
        made = found_book(args.path or args.book)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    print(f"The book is in {made.book}")
    for line in made.lines:
        print(f"  {line}")
    print(f"Next: look over shop.toml, then: forgelog{made.book_words} order take RECIPE")
    return CLEAN
