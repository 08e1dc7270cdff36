"""Numbers on the command line, refused in the smith's words."""

from __future__ import annotations


def whole(text: str) -> int:
    """A whole number.

    Raises:
        ArgumentTypeError: it is none; argparse says its words after the name of the option.
    """
    try:
        return int(text)
    except ValueError:
        from argparse import ArgumentTypeError

        from forgelog.recipe.plain import quoted

        raise ArgumentTypeError(f'{quoted(text)} is no whole number; write it like "2"') from None


def times_as_fast(text: str) -> float:
    """A speed of the practice clock.

    Raises:
        ArgumentTypeError: it is no number.
    """
    try:
        return float(text)
    except ValueError:
        from argparse import ArgumentTypeError

        from forgelog.recipe.plain import quoted

        raise ArgumentTypeError(f'{quoted(text)} is no number; write it like "20"') from None
