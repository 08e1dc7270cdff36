"""Finds recipe files and reads them: those named, those in a folder, the shop's, the shipped."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator

import msgspec

from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.problems import Problem
from forgelog.recipe.read import read_recipe
from forgelog.recipe.syntax import LARGEST_BYTES
from forgelog.recipe.written import WrittenRecipe

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path

_NO_RECIPES = frozenset({"shop.toml", "tools.toml", "stock.toml", "pyproject.toml"})
"""Files of a book and of a project that are TOML and no recipe."""
_NO_FOLDERS = frozenset({"journal", "customers", "node_modules", "__pycache__"})


class CannotRead(Exception):
    """A path that is no recipe file that can be read; its words go to the smith."""


class RecipeFile(msgspec.Struct, frozen=True, kw_only=True):
    """A recipe as it was read from the disk."""

    path: Path
    recipe: WrittenRecipe | None
    """None where it has errors."""
    problems: tuple[Problem, ...]


def read_recipe_file(path: Path) -> RecipeFile:
    """Read one recipe with all its problems.

    Raises:
        CannotRead: there is no such file, or it is no plain file, or may not be read.
    """
    recipe, problems = read_recipe_at(str(path))
    return RecipeFile(path=path, recipe=recipe, problems=problems)


def read_recipe_at(path: str) -> tuple[WrittenRecipe | None, tuple[Problem, ...]]:
    """The same for a path that is a text; `forgelog check` starts without pathlib.

    Raises:
        CannotRead: there is no such file, or it is no plain file, or may not be read.
    """
    try:
        kind = os.stat(path).st_mode
        if stat.S_ISDIR(kind):
            raise CannotRead(f"{harmless(path)} is a folder; name the recipe in it")
        if not stat.S_ISREG(kind):
            raise CannotRead(f"{harmless(path)} is no plain file")
        with open(path, "rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise CannotRead(f"{harmless(path)} cannot be read: {_reason(error)}") from None
    return read_recipe(data, path)


def recipe_files(path: str | Path) -> Iterator[str]:
    """The recipe files under a path: itself, or in a folder every .toml that can be a recipe.

    Of a shop's folder these are its recipes, not its settings; hidden folders are passed over.

    Raises:
        CannotRead: there is nothing at the path, or no recipe in the folder.
    """
    path = _tidied(str(path))
    if not os.path.isdir(path):
        yield path
        return
    none = True
    for folder, folders, names in os.walk(path, onerror=_cannot_list):
        folders[:] = sorted(f for f in folders if f not in _NO_FOLDERS and not f.startswith("."))
        for name in sorted(names):
            if name.endswith(".toml") and name not in _NO_RECIPES and not name.startswith("."):
                none = False
                yield _tidied(os.path.join(folder, name))
    if none:
        raise CannotRead(f"{harmless(path)} has no recipe in it, no file that ends in .toml")


def here_or_in_book(path: str, book: str | None = None) -> str:
    """A path as it was typed, or where nothing lies there, that of the book: "recipes/" is known.

    Args:
        path: Of a file or a folder.
        book: The folder that was named; None for the usual one.
    """
    if os.path.isabs(path) or os.path.exists(path):
        return path
    from forgelog.book.folders import book_folder

    there = book_folder(book) / path
    return str(there) if there.exists() else path


def _tidied(path: str) -> str:
    """The path as pathlib writes it: "./a//b" is "a/b"."""
    if os.altsep:
        from pathlib import Path

        return str(Path(path))
    root = os.sep if path.startswith(os.sep) else ""
    return root + os.sep.join(p for p in path.split(os.sep) if p not in ("", ".")) or "."


def find_recipe(name: str, book: str | Path | None = None) -> Path:
    """The file of a recipe that is named by its path or its id.

    Args:
        name: "recipes/gate-hook.toml", or the id of a recipe in the book or among the shipped.
        book: The shop's folder as the command line names it; the usual one where None.

    Raises:
        CannotRead: no such recipe; names the nearest.
    """
    from pathlib import Path

    path = Path(name)
    if path.suffix == ".toml" or os.sep in name or path.is_file():
        return path
    from forgelog.book.folders import book_folder

    folders = [book_folder(book) / "recipes", shipped_folder()]
    files = [file for folder in folders if folder for file in sorted(folder.glob("*.toml"))]
    for file in files:
        if file.stem == name:
            return file
    ids = {_id_of(file) or file.stem: file for file in reversed(files)}
    if name in ids:
        return ids[name]
    hint = did_you_mean(name, ids)
    words = f"there is no recipe {quoted(name)}"
    if ids:
        words += f"; there are {listed(sorted(map(harmless, ids)), 'and')}"
    raise CannotRead(f"{words}\n    {hint}" if hint else words)


def shipped_folder() -> Path | None:
    """Where the recipes lie that come with forgelog; None where it came without."""
    from forgelog.book.shipped import shipped_folder as folder

    try:
        return folder("recipes")
    except FileNotFoundError:
        return None


def _id_of(file: Path) -> str:
    try:
        read = read_recipe_file(file)
    except CannotRead:
        return ""
    return read.recipe.id if read.recipe else ""


def _cannot_list(error: OSError) -> None:
    raise CannotRead(f"{harmless(str(error.filename))} cannot be read: {_reason(error)}")


def _reason(error: OSError | ValueError) -> str:
    if isinstance(error, FileNotFoundError):
        return "there is no such file"
    if isinstance(error, PermissionError):
        return "it may not be read"
    return (getattr(error, "strerror", None) or "its name cannot be").lower()
