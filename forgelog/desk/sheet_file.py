"""Where sheets lie: in the book's folder `sheets/`, which may be deleted at any time."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from forgelog.book.disk import why_not, write_over
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop

FOLDER = "sheets"
LONGEST = 48
"""Letters of one part of a name."""


def sheet_name(kind: str, *parts: str, ending: str = "html") -> str:
    """The file name of a sheet, whatever the labels and ids: "job-gate-14-demo-k3f9.html".

    Only small letters, digits and dashes stand in it. Where that loses something, the beginning
    of a fingerprint keeps two sheets apart.

    Args:
        kind: job, cut and so on; begins the name, so that no name is one that a system keeps.
        parts: Label and id of the order, or the session.
        ending: html or txt.
    """
    words = []
    for part in parts:
        plain = re.sub(r"[^a-z0-9]+", "-", part.casefold()).strip("-")[:LONGEST].strip("-")
        if plain != part.casefold():
            mark = hashlib.sha256(part.encode("utf-8", "surrogatepass")).hexdigest()[:6]
            plain = f"{plain}-{mark}".strip("-")
        words.append(plain)
    return f"{'-'.join([kind, *filter(None, dict.fromkeys(words))])}.{ending}"


def keep_sheet(shop: Shop, name: str, text: str) -> Path:
    """Write a sheet into the book, in the place of the one of before.

    Args:
        shop: The book.
        name: As `sheet_name` made it.
        text: The whole sheet.

    Returns:
        Where it lies.

    Raises:
        CannotDo: the disk does not take it.
    """
    path = shop.book / FOLDER / name
    try:
        write_over(path, text.encode("utf-8", "replace"))
    except OSError as problem:
        raise CannotDo(f"the sheet was not written: {why_not(problem)}") from None
    return path
