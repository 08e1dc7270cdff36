"""Opens a book: settings, recipes, and what stands in the journal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from pathlib import Path

import msgspec

from forgelog.book.device import Device, read_device
from forgelog.book.folders import (
    book_folder,
    cache_folder,
    device_folder,
    is_book,
    is_practice_copy,
)
from forgelog.book.noticed import files_with
from forgelog.book.sessions import SessionFile, SetAside, first_line, journal_files, read_sessions
from forgelog.desk.errors import CannotDo
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.work.facts import OrderClosed, OrderDelivered, OrderTaken, Press, SessionBegan
from forgelog.work.fold import fold
from forgelog.work.only import narrowed, only_tools, orders_in
from forgelog.work.state import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.book.settings import BookSettings
    from forgelog.desk.recipes import RecipeFile
    from forgelog.recipe.resolved import Recipe
    from forgelog.recipe.written import WrittenRecipe
    from forgelog.trade.sections import Section

    _Asked = tuple[str, frozenset[tuple[str, float]], frozenset[tuple[str, Section]]]
    """Name of a recipe, its sizes and its bars."""

# Settings and recipes are read by modules that are loaded when they are asked for: Home shows the
# orders before either, and half of the time of a start would go into loading them.

_TOOL_SEEN = b'"fact":"tool seen"'


class Shop:
    """A shop's book as it lies on the disk now.

    What is not asked for is not read. After something was written, open it again.
    """

    def __init__(self, book: Path, device: Device) -> None:
        self.book = book
        self.device = device
        self._read: dict[Path, RecipeFile] = {}
        self._resolved: dict[_Asked, Recipe] = {}

    @cached_property
    def settings(self) -> BookSettings:
        """The settings files."""
        from forgelog.book.settings import read_settings

        return read_settings(self.book)

    @cached_property
    def is_practice_copy(self) -> bool:
        """Whether practice sessions may be written to it."""
        return is_practice_copy(self.book)

    @cached_property
    def recipes(self) -> tuple[RecipeFile, ...]:
        """Every recipe file of the book, sound or not, by name."""
        from forgelog.desk.recipes import CannotRead, RecipeFile
        from forgelog.recipe.problems import Problem

        found: list[RecipeFile] = []
        for path in sorted((self.book / "recipes").glob("*.toml")):
            try:
                found.append(self._recipe_file(path))
            except CannotRead as problem:
                name = harmless(path.name)
                found.append(
                    RecipeFile(
                        path=path,
                        recipe=None,
                        problems=(Problem(file=name, found=str(problem)),),
                    )
                )
        return tuple(found)

    @cached_property
    def files(self) -> tuple[SessionFile, ...]:
        """The sessions that say something of open orders, with only what they say of those."""
        return self._opened[0]

    @cached_property
    def set_aside(self) -> tuple[SetAside, ...]:
        """Lines that could not be taken, of the files that were read."""
        return self._opened[1]

    @cached_property
    def state(self) -> State:
        """What stands on all open orders; of closed ones only what was agreed."""
        return fold(self.files)

    @cached_property
    def whole(self) -> tuple[SessionFile, ...]:
        """Every session of the book, whole: for review and for learning."""
        return tuple(read_sessions(journal_files(self.book)))

    @cached_property
    def whole_state(self) -> State:
        """What stands and stood on all orders, closed ones too."""
        return fold(self.whole)

    def again(self) -> Shop:
        """The same book, read anew."""
        return Shop(self.book, self.device)

    def recipe(self, name: str) -> WrittenRecipe:
        """A recipe of the book by its id, its file's name or its own name.

        Raises:
            CannotDo: there is none, or it has errors; says the nearest, or the errors.
        """
        file = self._file_named(name) or next((f for f in self.recipes if _is(f, name)), None)
        if file is None:
            raise CannotDo(self._no_recipe(name))
        if file.recipe is None:
            errors = [p.text for p in file.problems if p.severity == "error"]
            raise CannotDo("\n".join([f"the recipe {quoted(name)} has errors:", *errors]))
        return file.recipe

    def resolved(
        self, name: str, sizes_mm: Mapping[str, float], bars: Mapping[str, Section] | None = None
    ) -> Recipe:
        """A recipe of the book at some sizes, as the file is now.

        Args:
            name: Its id, its file's name or its own name.
            sizes_mm: The sizes that are not the recipe's own, by name.
            bars: The bars that are used in place of the recipe's, by component.

        Raises:
            CannotDo: there is no such recipe, it has errors, or a size or bar cannot be; all are
                told.
        """
        key = (name, frozenset(sizes_mm.items()), frozenset((bars or {}).items()))
        if key not in self._resolved:
            self._resolved[key] = at_sizes(self.recipe(name), sizes_mm, bars)
        return self._resolved[key]

    def _file_named(self, name: str) -> RecipeFile | None:
        """The file of this name, where it holds the recipe of this id: most do."""
        from forgelog.desk.recipes import CannotRead

        if not name.replace("-", "").isalnum():
            return None
        try:
            file = self._recipe_file(self.book / "recipes" / f"{name}.toml")
        except CannotRead:
            return None
        return file if file.recipe is not None and file.recipe.id == name else None

    def _recipe_file(self, path: Path) -> RecipeFile:
        from forgelog.desk.recipes import read_recipe_file

        if path not in self._read:
            self._read[path] = read_recipe_file(path)
        return self._read[path]

    def _no_recipe(self, name: str) -> str:
        names = [f.recipe.id if f.recipe else f.path.stem for f in self.recipes]
        words = f"the book has no recipe {quoted(name)}"
        if names:
            words += f"; it has {listed(sorted(names), 'and')}"
        hint = did_you_mean(name, names)
        return f"{words}\n    {hint}" if hint else words

    @cached_property
    def headers(self) -> dict[Path, SessionBegan | None]:
        """The first line of every file of the journal, oldest first."""
        return {path: first_line(path) for path in journal_files(self.book)}

    @property
    def last_at_fire(self) -> str:
        """The newest session at the fire that this device began and none continues, or ""."""
        known = [h for h in self.headers.values() if h is not None and h.kind == "floor"]
        went_on = {h.continues for h in known}
        floors = [
            h.session for h in known if h.device == self.device.id and h.session not in went_on
        ]
        return max(floors, default="")

    @cached_property
    def _opened(self) -> tuple[tuple[SessionFile, ...], tuple[SetAside, ...]]:
        at_desk = [p for p, h in self.headers.items() if h is None or h.kind == "desk"]
        desk = read_sessions(at_desk)
        still_open = open_orders(desk)
        chosen: list[Path] = []
        others: list[Path] = []
        for path, header in self.headers.items():
            if header is not None and header.kind != "desk":
                named = still_open.intersection(header.orders)
                (chosen if named else others).append(path)
        floor = read_sessions(chosen)
        tools = read_sessions(files_with(_TOOL_SEEN, others, cache_folder()))
        files = [
            *(with_presses(f, (narrowed(p, still_open) for p in f.presses)) for f in desk),
            *(with_presses(f, (narrowed(p, still_open) for p in f.presses)) for f in floor),
            *(with_presses(f, map(only_tools, f.presses)) for f in tools),
        ]
        aside = tuple(a for f in (*desk, *floor, *tools) for a in f.set_aside)
        return tuple(sorted(files, key=lambda f: f.session)), aside


def at_sizes(
    written: WrittenRecipe,
    sizes_mm: Mapping[str, float],
    bars: Mapping[str, Section] | None = None,
) -> Recipe:
    """A recipe at an order's sizes, from the bars that are used.

    Raises:
        CannotDo: a size is none of the recipe's, or out of its range, or a bar cannot be; all of
            them are told.
    """
    from forgelog.recipe.resolve import ResolveError, resolve

    try:
        return resolve(written, sizes_mm, bars)
    except ResolveError as problem:
        raise CannotDo(str(problem)) from None


def open_shop(book: str | Path | None = None) -> Shop:
    """Open a shop's book.

    Args:
        book: The folder as told; None or "" for the usual one.

    Raises:
        CannotDo: there is no book there; says how to make one.
    """
    folder = book_folder(book)
    if not is_book(folder):
        where = harmless(str(folder))
        there = "is no shop's book" if folder.exists() else "is not there"
        raise CannotDo(f"{where} {there}; `forgelog new-book {where}` makes one")
    return Shop(folder, read_device(device_folder()))


def _is(file: RecipeFile, name: str) -> bool:
    known = {file.path.stem, file.path.name}
    if file.recipe is not None:
        known |= {file.recipe.id, file.recipe.name}
    return name in known


def open_orders(files: Iterable[SessionFile]) -> frozenset[str]:
    """Orders that were taken and neither delivered nor closed."""
    taken: set[str] = set()
    closed: set[str] = set()
    for file in files:
        for press in file.presses:
            for fact in press.facts:
                if isinstance(fact, OrderTaken):
                    taken.add(fact.order)
                elif isinstance(fact, OrderClosed | OrderDelivered):
                    closed.add(fact.order)
    return frozenset(taken - closed)


def with_presses(file: SessionFile, presses: Iterable[Press]) -> SessionFile:
    """The session with other presses."""
    return msgspec.structs.replace(file, presses=tuple(presses))


def seen_by(files: Iterable[SessionFile], orders: Iterable[str]) -> dict[str, int]:
    """Of every session that says something of these orders, the number of its last press."""
    wanted = frozenset(orders)
    return {
        file.session: file.presses[-1].seq
        for file in files
        if file.presses and wanted & orders_in(file.presses)
    }
