"""forgelog, without a command: Home, and from there to the fire."""

from __future__ import annotations

from forgelog.commands import Refused
from forgelog.commands.numbers import times_as_fast

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes besides the book."""
    parser.add_argument(
        "--speed",
        type=times_as_fast,
        default=0.0,
        metavar="N",
        help="practice: the clock runs N times as fast (on a practice copy only)",
    )


def run(args: argparse.Namespace) -> int:
    """Open Home on the shop's book."""
    from forgelog.desk.demo import demo_clock
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop
    from forgelog.screens.app import run as open_app
    from forgelog.screens.home import HomeScreen

    try:
        shop = open_shop(args.book)
        # Whatever opens a practice copy, nothing in it is real work, or its records would be
        # told apart from those of the practice before.
        clock = demo_clock(shop, args.speed) if shop.is_practice_copy else None
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    if args.speed and clock is None:
        raise Refused(
            "practice is never written into a real book; `forgelog demo --speed N` has a copy"
        )
    return open_app(lambda app: HomeScreen(shop, clock=clock))
