"""In which units and dialect an answer is told: as the shop's book has it, else mm and UK."""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import os
import sys
from typing import NamedTuple


class Look(NamedTuple):
    """Units and dialect."""

    units: str = "mm"
    dialect: str = "uk"


def look_of(book: str | None = None) -> Look:
    """As the settings of the book say; a book that is not there or cannot be read says nothing.

    Args:
        book: The book's folder as told, or None for the usual one.
    """
    named = book or os.environ.get("FORGELOG_BOOK", "")
    if not named and not _usual_is_there():
        return Look()
    from forgelog.book.folders import book_folder
    from forgelog.book.settings import read_settings

    shop = read_settings(book_folder(book)).shop
    return Look(units=str(shop.units), dialect=shop.dialect)


def _usual_is_there() -> bool:
    if sys.platform.startswith("linux"):
        # Said here once more, because what knows it for every system takes as long as a sum.
        data = os.environ.get("XDG_DATA_HOME", "").strip() or os.path.expanduser("~/.local/share")
        return os.path.isfile(os.path.join(data, "forgelog", "book", "shop.toml"))
    from forgelog.book.folders import book_folder

    return (book_folder() / "shop.toml").is_file()
