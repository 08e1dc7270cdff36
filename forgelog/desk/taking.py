"""Takes another smith's recipe: looked over, told in plain words, and only then put in the book.

Everything in the file is a stranger's. It is read as a recipe and as nothing else; nothing that it
says is run, opened or fetched, and none of its words becomes a path.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import msgspec

from forgelog.book.disk import why_not, write_new
from forgelog.desk.comparing import Compared, compare, compared_lines
from forgelog.desk.errors import CannotDo
from forgelog.desk.evidence_words import evidence_lines
from forgelog.desk.layout_tools import NOT_LISTED, tools_shown
from forgelog.desk.recipes import CannotRead, read_recipe_file
from forgelog.desk.shop import Shop, at_sizes
from forgelog.recipe.plain import harmless, listed, quoted
from forgelog.recipe.problems import Problem
from forgelog.recipe.process import process_hash
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Recipe
from forgelog.recipe.write import write_recipe
from forgelog.recipe.written import WrittenRecipe
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.sections import show_section
from forgelog.units import show_length

_ID = re.compile(r"[a-z][a-z0-9-]{0,39}")

NEW, SAME_PROCESS, ANOTHER = "new", "same process", "another process"


class Looked(msgspec.Struct, frozen=True, kw_only=True):
    """A stranger's recipe, looked over; nothing is in the book yet."""

    recipe: WrittenRecipe
    problems: tuple[Problem, ...]
    """Doubts; a recipe with errors is not taken at all."""
    lines: tuple[str, ...]
    """What it is, in plain words."""
    standing: str
    """new, same process or another process: against the recipe of this id in the book."""
    compared: Compared | None = None
    """The book's own beside it, where there is one of this id."""
    trusted: bool = False
    """The checksum is that of the process: its evidence speaks of this very process."""

    @property
    def id(self) -> str:
        """Its id."""
        return self.recipe.id


def look_at(shop: Shop, path: Path) -> Looked:
    """Look a shared file over.

    Args:
        shop: The book that it may go into.
        path: The file.

    Raises:
        CannotDo: it cannot be read, or is no recipe, or has errors; says all of them.
    """
    try:
        read = read_recipe_file(path)
    except CannotRead as problem:
        raise CannotDo(str(problem)) from None
    written = read.recipe
    if written is None:
        errors = [p.text for p in read.problems if p.severity == "error"]
        raise CannotDo("\n".join([f"{harmless(str(path))} cannot be taken:", *errors]))
    recipe = at_sizes(written, {})
    own = _own(shop, written.id)
    compared = None
    standing = NEW
    if own is not None:
        standing = SAME_PROCESS if process_hash(own) == recipe.process_hash else ANOTHER
        compared = compare(at_sizes(own, {}), recipe, shop.settings.shop.units)
    trusted = written.shared is not None and written.shared.process == recipe.process_hash
    return Looked(
        recipe=written,
        problems=read.problems,
        lines=tuple(_lines(shop, written, recipe, trusted=trusted)),
        standing=standing,
        compared=compared,
        trusted=trusted,
    )


def put_in_book(shop: Shop, looked: Looked, *, new_id: str = "") -> Path:
    """Write the recipe into the book as a file of its own; no file that is there is touched.

    Args:
        shop: The book; open it again afterwards.
        looked: As `look_at` gave it.
        new_id: Another id, to have it beside one that has its own; "" keeps it.

    Returns:
        The file.

    Raises:
        CannotDo: the book has a recipe of this id, the id cannot be, or the disk does not take it.
    """
    name = new_id or looked.id
    if not _ID.fullmatch(name):
        raise CannotDo(
            f"{quoted(name)} is no id; write small letters, digits and dashes, a letter first"
        )
    if _own(shop, name) is not None:
        raise CannotDo(
            f"the book has a recipe {quoted(name)}; it is yours and stays as it is. "
            f"Take this one under another id: forgelog take FILE --as {name}-2"
        )
    recipe = looked.recipe
    if not looked.trusted:
        # Records of another process would only mislead.
        recipe = msgspec.structs.replace(recipe, shared=None, evidence=None)
    recipe = msgspec.structs.replace(recipe, id=name)
    path = shop.book / "recipes" / f"{name}.toml"
    try:
        write_new(path, write_recipe(recipe).encode())
    except FileExistsError:
        raise CannotDo(f"there is a file {path.name} among the recipes already") from None
    except OSError as problem:
        raise CannotDo(f"nothing was written: {why_not(problem)}") from None
    return path


def looked_lines(looked: Looked) -> Iterator[str]:
    """All that is told before it is put in the book, in lines for the shell or a screen."""
    yield from looked.lines
    if looked.problems:
        yield "Doubts about it:"
        yield from (f"  {problem.text}" for problem in looked.problems)
    if looked.standing == SAME_PROCESS:
        yield "Your book has this very process already."
    elif looked.compared is not None:
        yield "Your book has another process of this id. Yours first, then this one:"
        yield from (f"  {line}" for line in compared_lines(looked.compared))


def _own(shop: Shop, name: str) -> WrittenRecipe | None:
    return next((f.recipe for f in shop.recipes if f.recipe and f.recipe.id == name), None)


def _lines(shop: Shop, written: WrittenRecipe, recipe: Recipe, *, trusted: bool) -> Iterator[str]:
    units = shop.settings.shop.units
    yield f"{harmless(recipe.name).upper()} ({recipe.id}), revision {harmless(recipe.revision)}"
    yield from _from_whom(written, trusted=trusted)
    if recipe.says:
        yield from (line for line in render(recipe.says, units).splitlines() if line.strip())
    yield f"Steel: {harmless(recipe.steel)}"
    yield "It makes:"
    for component in recipe.components:
        marks = (
            f", {listed(map(harmless, dict.fromkeys(component.marks)), 'and')}"
            if any(component.marks)
            else ""
        )
        stock = f", from {show_section(component.stock.section, units)}" if component.stock else ""
        steps = f"{len(component.steps)} step{'' if len(component.steps) == 1 else 's'}"
        yield f"  {component.each} {harmless(component.name)}{marks}{stock}: {steps}"
    if recipe.sizes_mm:
        sizes = (f"{name} {show_length(mm, units)}" for name, mm in recipe.sizes_mm.items())
        yield f"Sizes that an order may change: {', '.join(sizes)}"
    yield from _tools(shop, recipe)
    if recipe.bought:
        yield f"To buy: {listed((f'{b.each} {harmless(b.name)}' for b in recipe.bought), 'and')}"
    yield from _cautions(written, recipe)
    if written.evidence is not None and trusted:
        practised = written.shared is not None and written.shared.practice
        of = " of practice, not of real work," if practised else ""
        yield f"What its sharer's records{of} say:"
        yield from (f"  {line}" for line in evidence_lines(written.evidence, written))


def _from_whom(written: WrittenRecipe, *, trusted: bool) -> Iterator[str]:
    told = [f"by {harmless(written.maker)}"] if written.maker else []
    shared = written.shared
    if shared is not None and shared.by:
        told.append(f"shared by {harmless(shared.by)}")
    if shared is not None and shared.on:
        told.append(f"on {shared.on}")
    told.append(
        f"licence {harmless(written.licence)}" if written.licence else "no licence is given"
    )
    yield ", ".join(told)
    if shared is None:
        yield "It has no checksum: whether it was changed on the way nobody can say."
    elif trusted:
        yield "The checksum fits: the process is as it was shared."
    else:
        yield "THE PROCESS WAS CHANGED since it was shared; its records are left out."


def _tools(shop: Shop, recipe: Recipe) -> Iterator[str]:
    steps = [step for component in recipe.components for step in component.steps]
    tools = tools_shown(shop, steps)
    for words, of in (
        ("Tools that you have", [t for t in tools if t.state != NOT_LISTED and not t.missing]),
        ("Tools that are not ready", [t for t in tools if t.missing]),
        ("Tools that tools.toml does not list", [t for t in tools if t.state == NOT_LISTED]),
    ):
        if of:
            yield f"{words}: {', '.join(harmless(t.name) for t in of)}"


def _cautions(written: WrittenRecipe, recipe: Recipe) -> Iterator[str]:
    own = set(written.cautions) | {
        name for c in written.component for step in c.step for name in step.cautions
    }
    yield "Cautions:"
    for name in recipe.cautions:
        words = CAUTIONS[name].short if name in CAUTIONS else harmless(name)
        yield f"  ! {words}" + ("" if name in own else " (the recipe lacks it; added here)")
