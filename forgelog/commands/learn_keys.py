"""forgelog learn-keys: ask for the four keys of a pedal or remote, and keep them."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes: nothing."""


def run(args: argparse.Namespace) -> int:
    """Open the page."""
    from forgelog.screens.app import run as open_app
    from forgelog.screens.keys import KeysScreen

    return open_app(lambda app: KeysScreen())
