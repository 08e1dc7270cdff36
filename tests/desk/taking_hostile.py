"""Takes one hostile file as a smith would, and says whether anything of it came through."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from pathlib import Path

from forgelog.book.device import Device
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop, at_sizes
from forgelog.desk.taking import look_at, looked_lines, put_in_book
from forgelog.recipe.sheet import process_sheet
from forgelog.sheets.making import Wanted, set_sheet

JOINERS = "\u200c\u200d"
"""Some scripts need them inside words."""


def take_hostile(data: bytes, folder: Path) -> bool:
    """Look the file over and put it in an empty book.

    Args:
        data: The file.
        folder: An empty folder.

    Returns:
        Whether it was taken.

    Raises:
        AssertionError: something of it reached the terminal, or a place outside the recipes.
    """
    book = folder / "book"
    (book / "recipes").mkdir(parents=True)
    file = folder / "from-a-stranger.toml"
    file.write_bytes(data)
    shop = Shop(book, Device(id="anvil7k"))
    try:
        looked = look_at(shop, file)
        shown = [*looked_lines(looked), process_sheet(at_sizes(looked.recipe, {}), looked.recipe)]
        path = put_in_book(shop, looked)
    except CannotDo as refused:
        assert_harmless([str(refused)])
        assert sorted(_files(folder)) == [file]
        return False
    assert_harmless(shown)
    assert path.parent == book / "recipes"
    assert sorted(_files(folder)) == [path, file]
    page, lines = _sheets(shop.again(), looked.id)
    assert_harmless([page, lines])
    assert not any(tag in page for tag in ("<script", "<img", "onerror=alert(1)>", "javascript:"))
    again = look_at(shop.again(), path)
    assert again.recipe == looked.recipe or not looked.trusted
    return True


def assert_harmless(texts: list[str]) -> None:
    """No text holds anything that a terminal obeys or that turns the line round."""
    for text in texts:
        for sign in text:
            hidden = unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp")
            assert not hidden or sign in "\n" + JOINERS, f"U+{ord(sign):04X} comes through"


def _sheets(shop: Shop, recipe: str) -> tuple[str, str]:
    """The job sheet of an order of it, as a page and as lines."""
    clock = FakeClock()
    order = take_order(shop, recipe, clock=clock)
    page, lines = (
        set_sheet(shop.again(), Wanted(kind="job", order=order.id, text=text), clock=clock).text
        for text in (False, True)
    )
    return page, lines.replace("\f", "\n")


def _files(folder: Path) -> Iterator[Path]:
    return (path for path in folder.rglob("*") if path.is_file())
