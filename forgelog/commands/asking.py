"""What a command shows on the shell before it does something, and its one question."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable
from typing import TextIO

from forgelog.commands import Refused

WIDTH = 80
"""Columns of an old shop laptop's terminal."""


def agreed(question: str) -> bool:
    """Ask; only "y" or "yes" is a yes.

    Raises:
        Refused: nobody is there to be asked; says how to say yes beforehand.
    """
    if not sys.stdin.isatty():
        raise Refused("nobody is there to answer; say --yes if it is to be done")
    print(f"{question} (y for yes) ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().lower() in ("y", "yes")


def show(lines: Iterable[str], out: TextIO | None = None) -> None:
    """Print lines, long ones over several; what is set in stays set in.

    Args:
        lines: Final texts.
        out: Where to; standard output where None.
    """
    for line in lines:
        indent = line[: len(line) - len(line.lstrip())]
        rows = textwrap.wrap(line, WIDTH, subsequent_indent=f"{indent}    ") or [""]
        print("\n".join(rows), file=out or sys.stdout)
