"""Finds two recipes by their names, with what the records say of each, and compares them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from statistics import median

from forgelog.book.index_catching_up import Report
from forgelog.desk.comparing import Compared, Records, compare
from forgelog.desk.errors import CannotDo
from forgelog.desk.evidence_words import heats_words
from forgelog.desk.indexed import ask_index
from forgelog.desk.recipes import CannotRead, find_recipe, read_recipe_file
from forgelog.desk.shop import Shop, at_sizes, open_shop
from forgelog.learn.rows import StepRow
from forgelog.recipe.method_words import METHOD_WORDS
from forgelog.recipe.plain import harmless, listed, quoted
from forgelog.recipe.resolved import Recipe
from forgelog.recipe.written import WrittenRecipe
from forgelog.units import UnitSystem, show_time


def side_by_side(
    book: str | None, first: str, second: str, *, report: Report | None = None
) -> Compared:
    """Compare two recipes by name.

    Args:
        book: The shop's folder as told; without a book, files and shipped recipes can be compared.
        first: A file, an id, or ID@REVISION for one that an order was worked from.
        second: The same of the other.
        report: Told of the progress, where the index has to be caught up.

    Raises:
        CannotDo: one of them cannot be found or read.
    """
    try:
        shop: Shop | None = open_shop(book)
    except CannotDo:
        if book:
            raise
        shop = None
    units = shop.settings.shop.units if shop else UnitSystem.MM
    (one, said), (other, also) = (_named(shop, book, name, report) for name in (first, second))
    return compare(one, other, units, said, also)


def _named(
    shop: Shop | None, book: str | None, name: str, report: Report | None
) -> tuple[Recipe, Records]:
    recipe_id, at, revision = name.partition("@")
    if at and shop is not None:
        recipe = _pinned(shop, recipe_id, revision, report)
        return recipe, _own_records(shop, recipe, name, report)
    try:
        read = read_recipe_file(find_recipe(name, book))
    except CannotRead as problem:
        raise CannotDo(str(problem)) from None
    if read.recipe is None:
        errors = [p.text for p in read.problems if p.severity == "error"]
        raise CannotDo("\n".join([f"{quoted(name)} has errors:", *errors]))
    recipe = at_sizes(read.recipe, {})
    if shop is not None and read.path.parent == shop.book / "recipes":
        return recipe, _own_records(shop, recipe, "", report)
    return recipe, _others_records(read.recipe)


def _pinned(shop: Shop, recipe_id: str, revision: str, report: Report | None) -> Recipe:
    pins = ask_index(shop, lambda index: index.revisions(recipe_id), report=report)
    found = [p for p in pins if revision in (p.revision, p.process_hash)]
    if found:
        return found[-1]
    words = f"no order was worked from {quoted(recipe_id)} at revision {quoted(revision)}"
    known = list(dict.fromkeys(p.revision for p in pins))
    if known:
        words += f"; there is work from revision {listed(map(harmless, known), 'and')}"
    raise CannotDo(words)


def _own_records(shop: Shop, recipe: Recipe, name: str, report: Report | None) -> Records:
    """What the journal says of each step of a recipe, or of one revision of it alone."""
    practice = shop.is_practice_copy
    steps = ask_index(
        shop, lambda index: index.rows(index.worked_from(recipe.id)).steps, report=report
    )
    rows = [
        row
        for row in steps
        if row.recipe == recipe.id
        and row.practice == practice
        and (not name or row.revision == recipe.revision)
        and not (row.scrapped or row.again)
    ]
    heaps: dict[tuple[str, str], list[StepRow]] = {}
    for row in rows:
        heaps.setdefault((row.component, row.step), []).append(row)
    return {place: _said(of) for place, of in heaps.items()}


def _said(rows: Iterable[StepRow]) -> str:
    rows = list(rows)
    parts = []
    for method in dict.fromkeys(row.method for row in rows):
        heats = [row.heats for row in rows if row.method == method and row.forged and row.heats]
        if heats:
            spread = f" ({min(heats)} to {max(heats)})" if min(heats) != max(heats) else ""
            middle = f"{median(heats):g} heat{'' if median(heats) == 1 else 's'}"
            parts.append(f"{middle}{spread} {METHOD_WORDS.get(method, method)}")
    times = [row.work_s for row in rows if row.work_s > 0.0]
    if times:
        parts.append(show_time(median(times)))
    count = f"{len(rows)} piece{'' if len(rows) == 1 else 's'}"
    return ", ".join([count, *parts])


def _others_records(recipe: WrittenRecipe) -> Mapping[tuple[str, str], str]:
    said: dict[tuple[str, str], str] = {}
    for row in recipe.evidence.steps if recipe.evidence else ():
        words = f"{row.pieces} piece{'' if row.pieces == 1 else 's'}"
        if row.heats:
            words += f", {heats_words(row.heats)}"
        if row.by:
            words += f" {METHOD_WORDS[row.by]}"
        if row.time:
            words += f", {harmless(row.time.middle)}"
        place = (row.component, row.step)
        said[place] = f"{said[place]}; {words}" if place in said else words
    return said
