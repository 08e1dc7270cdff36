"""Where things lie: the book, this device's own settings, and what can be thrown away."""

from __future__ import annotations

import os
from pathlib import Path

PRACTICE_MARK = "practice-copy.txt"
"""A file of this name says that a book is for practice only."""

_PRACTICE_WORDS = """\
This folder is a practice copy: what is done in it is no record of real work.
forgelog takes practice sessions here, and in no other book. Throw the folder away at any time.
"""


def book_folder(told: str | Path | None = None) -> Path:
    """The shop's folder: as told, else FORGELOG_BOOK, else in the user's own data folder.

    Args:
        told: What the command line says; None or "" when it says nothing.
    """
    named = str(told or "") or os.environ.get("FORGELOG_BOOK", "")
    if named:
        return Path(named).expanduser().absolute()
    from platformdirs import user_data_path

    return user_data_path("forgelog", appauthor=False) / "book"


def device_folder() -> Path:
    """This device's own settings: keys, bell, light. FORGELOG_DEVICE outranks it."""
    named = os.environ.get("FORGELOG_DEVICE", "")
    if named:
        return Path(named).expanduser().absolute()
    from platformdirs import user_config_path

    return user_config_path("forgelog", appauthor=False)


def cache_folder() -> Path:
    """What can be deleted at any time: index, lock, reports. FORGELOG_CACHE outranks it."""
    named = os.environ.get("FORGELOG_CACHE", "")
    if named:
        return Path(named).expanduser().absolute()
    from platformdirs import user_cache_path

    return user_cache_path("forgelog", appauthor=False)


def is_book(folder: Path) -> bool:
    """Whether the folder is a shop's book."""
    return (folder / "shop.toml").is_file() or (folder / "journal").is_dir()


def is_practice_copy(book: Path) -> bool:
    """Whether the book is for practice only."""
    return (book / PRACTICE_MARK).is_file()


def mark_as_practice(book: Path) -> None:
    """Say of a book, for good, that it is for practice only.

    Raises:
        OSError: the mark cannot be made.
    """
    from forgelog.book.disk import write_new

    if not is_practice_copy(book):
        write_new(book / PRACTICE_MARK, _PRACTICE_WORDS.encode())
