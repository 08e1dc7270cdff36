"""forgelog next: what to take now, and why.

With `--json` one object is printed. Keys are stable and may be added to:

    running          by a session that runs or was cut off; else as if the fire were lit now
    next[]           workpiece, piece, order, step, why; the first thing first
    left_out[]       open orders that cannot be worked on, with the reason
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up
from forgelog.commands.telling import print_json

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(args: argparse.Namespace) -> int:
    """Print the advice."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.next_up import next_up
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        read_up(shop)
        view = next_up(shop)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    if args.json:
        print_json(view)
        return CLEAN
    for number, one in enumerate(view.next, 1):
        print(f"{number:2}  {one.order}: {one.piece}, {one.step} ({one.why})")
    if not view.next:
        print("nothing can be taken now")
    for line in view.left_out:
        print(f"left out: {line}")
    return CLEAN
