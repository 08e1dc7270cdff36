"""forgelog, without a command: Home, and from there to the fire."""

from __future__ import annotations

from forgelog.commands import Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes besides the book: nothing."""


def run(args: argparse.Namespace) -> int:
    """Open Home on the shop's book."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop
    from forgelog.screens.app import run as open_app
    from forgelog.screens.home import HomeScreen

    try:
        shop = open_shop(args.book)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return open_app(lambda app: HomeScreen(shop))
