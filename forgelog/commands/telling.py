"""How a command tells what it has: on a screen, as plain lines, or as JSON."""

from __future__ import annotations

import sys

from forgelog.commands.numbers import whole

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable
    from typing import Protocol

    class ToldPage(Protocol):
        """A page as the desk tells it."""

        @property
        def title(self) -> str:
            """Its head line."""

        @property
        def lines(self) -> tuple[str, ...]:
            """Final words."""


NARROWEST, WIDEST = 80, 120


def ways_of_telling(parser: argparse.ArgumentParser) -> None:
    """What a command takes that opens a screen or prints."""
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plain", action="store_true", help="print lines, in a terminal too")
    parser.add_argument(
        "--width", type=whole, metavar="COLUMNS", help="of the plain lines; else the terminal's"
    )


def on_terminal() -> bool:
    """Whether somebody is there to look at a screen and to press keys."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def wants_screen(args: argparse.Namespace) -> bool:
    """Whether nothing else was asked for and a screen can be opened."""
    return not (args.json or args.plain or args.width is not None) and on_terminal()


def width_of(told: int | None = None, *, least: int = NARROWEST) -> int:
    """Columns of plain lines.

    Args:
        told: As the smith said; None for the terminal's, or 80 where there is none.
        least: No narrower than this.
    """
    if told is None:
        if not sys.stdout.isatty():
            return NARROWEST
        from shutil import get_terminal_size

        told = get_terminal_size().columns
    return max(least, min(WIDEST, told))


def print_json(value: object) -> None:
    """A record, or a list of them, as JSON."""
    import msgspec

    print(msgspec.json.format(msgspec.json.encode(value), indent=2).decode())


def as_lines(heads: Iterable[str], pages: Iterable[ToldPage], width: int) -> str:
    """What stands above, then page after page, as plain lines."""
    from textwrap import fill

    parts = [fill(head, width) for head in heads]
    parts += ["\n".join((page.title, *page.lines)) for page in pages]
    return "\n\n".join(parts)
