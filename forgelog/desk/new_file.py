"""Writes a file where the smith wants it; what lies there already is never written over."""

from __future__ import annotations

from pathlib import Path

from forgelog.book.disk import why_not, write_new
from forgelog.desk.errors import CannotDo
from forgelog.recipe.plain import harmless


def put_new(path: Path, text: str) -> Path:
    """Write a file that is not there yet: whole, or not at all.

    Args:
        path: Where.
        text: All that is to stand in it; what UTF-8 cannot hold becomes a question mark.

    Returns:
        The path.

    Raises:
        CannotDo: something of that name is there, or the disk does not take it.
    """
    try:
        write_new(path, text.encode("utf-8", "replace"))
    except FileExistsError:
        raise CannotDo(f"{harmless(str(path))} is there already; name another file") from None
    except OSError as problem:
        why = why_not(problem).replace("the book's folder", "that folder")
        raise CannotDo(f"nothing was written: {why}") from None
    return path
