"""The smith's small file on the customer of an order: name, address, what is known of the place.

forgelog writes it once, where there is none, and only reads it afterwards. It may be changed or
deleted at any time; it is never in the journal and never shared.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from forgelog.book.disk import write_new

_PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,99}")
LARGEST = 64 * 1024
"""Bytes; a larger file is no customer's."""

_FILE = """\
# Who this order is for. Yours: change it, add to it, delete it. forgelog only reads it from now on;
# it is never in the journal and never shared. Any key of your own may stand here too.
{name}
# address = \"\"\"
# 1 Example Lane
# Exampleton\"\"\"
# notes = "ring before you come; the dog is friendly"
"""


def customer_file(book: Path, order: str) -> Path | None:
    """Where the file of an order lies, there or not; None where its id can name no file.

    An id comes from a journal, which may be another machine's: it must lead to no other folder.
    """
    return book / "customers" / f"{order}.toml" if _PLAIN_NAME.fullmatch(order) else None


def write_customer(book: Path, order: str, name: str) -> Path:
    """Write a new file with the name in it and room for the rest.

    Raises:
        FileExistsError: there is one already; it is left as it is.
        OSError: it cannot be written.
    """
    from tomli_w import dumps

    path = customer_file(book, order)
    if path is None:
        raise OSError(0, "its id can name no file")
    write_new(path, _FILE.format(name=dumps({"name": name}).strip()).encode())
    return path


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
    path = customer_file(book, order)
    if path is None or not path.is_file():
        return ()
    if path.stat().st_size > LARGEST:
        raise ValueError("it is too large")
    table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    return tuple(
        (key, str(value).strip())
        for key, value in table.items()
        if isinstance(value, str | int | float) and not isinstance(value, bool)
    )
