"""forgelog draft: a recipe out of work that was done without one."""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("order", help="its label, its letter, or the beginning of its id")
    parser.add_argument(
        "-o", "--out", metavar="FILE", help="where to; among the book's recipes without it"
    )
    parser.add_argument("--look", action="store_true", help="print it; nothing is written")


def run(args: argparse.Namespace) -> int:
    """Write the draft, and say how many gaps are to be filled in."""
    from pathlib import Path

    from forgelog.desk.draft import GAP, draft_of, write_draft
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.orders import find_order
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        draft = draft_of(shop, find_order(shop.state, args.order))
        if args.look:
            print(draft.text, end="")
            return CLEAN
        path = write_draft(shop, draft, Path(args.out) if args.out else None)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    print(f'written: {path}, with {draft.gaps} gaps marked "{GAP}"')
    print(f"fill them in, then: forgelog check {path}")
    return CLEAN
