"""The smith's small file on the customer of an order: name, address, what is known of the place."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

_PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,99}")
LARGEST = 64 * 1024
"""Bytes; a larger file is no customer's."""


def customer_words(book: Path, order: str) -> tuple[tuple[str, str], ...]:
    """What the file says, key by key in its own order; nothing where there is none.

    Any key is taken that has a text or a number, for the file is the smith's own; tables are
    passed over.

    Args:
        book: The book's folder.
        order: Id of the order, which names the file.

    Raises:
        ValueError: the file is no TOML, too large, or not in UTF-8.
        OSError: it is there and cannot be read.
    """
    if not _PLAIN_NAME.fullmatch(order):
        return ()
    path = book / "customers" / f"{order}.toml"
    if not path.is_file():
        return ()
    if path.stat().st_size > LARGEST:
        raise ValueError("it is too large")
    table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    return tuple(
        (key, str(value).strip())
        for key, value in table.items()
        if isinstance(value, str | int | float) and not isinstance(value, bool)
    )
