"""Founds a shop's book: settings to fill in, and the recipes that come with forgelog."""

from __future__ import annotations

from pathlib import Path

import msgspec

from forgelog.book.disk import why_not
from forgelog.book.folders import book_folder
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.errors import CannotDo
from forgelog.recipe.plain import harmless


class NewBook(msgspec.Struct, frozen=True, kw_only=True):
    """A book that was just made."""

    folder: Path
    recipes: int
    usual: bool
    """True where it lies where forgelog looks when it is told nothing."""

    @property
    def book(self) -> str:
        """Its folder, fit to be shown."""
        return harmless(str(self.folder))

    @property
    def book_words(self) -> str:
        """What a command needs to find it: " --book PATH", or "" in the usual place."""
        if self.usual:
            return ""
        return f' --book "{self.book}"' if " " in self.book else f" --book {self.book}"

    @property
    def lines(self) -> tuple[str, ...]:
        """What lies in it."""
        recipes = "1 recipe" if self.recipes == 1 else f"{self.recipes} recipes"
        return (
            "shop.toml    the shop: units, fires, methods",
            "tools.toml   tools and jigs",
            "stock.toml   bars and offcuts",
            f"recipes/     {recipes} of our own invention to try, and yours",
            "journal/     what happens, written by forgelog alone",
            "customers/   one small file an order, yours; never shared",
        )


def found_book(told: str | Path | None = None) -> NewBook:
    """Make a book.

    Args:
        told: The folder; None or "" for the usual place.

    Raises:
        CannotDo: something lies there already, or the disk does not take it.
    """
    folder = book_folder(told)
    recipes = shipped_recipes()
    try:
        make_book(folder, [*recipes, *_beside(recipes)])
    except FileExistsError:
        where = harmless(str(folder))
        raise CannotDo(f"{where} is there already and is not empty; nothing was made") from None
    except OSError as problem:
        raise CannotDo(f"no book was made: {why_not(problem)}") from None
    return NewBook(folder=folder, recipes=len(recipes), usual=folder == book_folder())


def _beside(recipes: list[Path]) -> list[Path]:
    """What lies with the shipped recipes and helps to write more: the page, and the schema."""
    if not recipes:
        return []
    names = ("README.md", "recipe.schema.json")
    return [path for name in names if (path := recipes[0].with_name(name)).is_file()]
