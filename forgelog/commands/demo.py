"""forgelog demo: practise in the book of a simulated shop."""

from __future__ import annotations

from forgelog.commands import Refused
from forgelog.commands.numbers import times_as_fast

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "--speed",
        type=times_as_fast,
        default=0.0,
        metavar="N",
        help="the clock runs N times as fast; 20 is good for trying everything out",
    )
    parser.add_argument(
        "--folder", metavar="PATH", help="where the copy lies; else in the usual place"
    )
    parser.add_argument(
        "--keep", action="store_true", help="go on with what was practised there last time"
    )


def run(args: argparse.Namespace) -> int:
    """Copy the demo, and open Home on it."""
    from forgelog.desk.demo import check_speed, demo_clock, lay_out_demo
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop
    from forgelog.screens.app import run as open_app
    from forgelog.screens.home import HomeScreen

    try:
        check_speed(args.speed)
        demo = lay_out_demo(args.folder or args.book, keep=args.keep)
        print(demo.did, flush=True)
        shop = open_shop(demo.folder)
        clock = demo_clock(shop, args.speed)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return open_app(lambda app: HomeScreen(shop, clock=clock))
