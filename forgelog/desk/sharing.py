"""Shares a recipe: one readable file with the process, its checksum and what the records say."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.evidence_words import evidence_lines
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.new_file import put_new
from forgelog.desk.shop import Shop, at_sizes
from forgelog.learn.evidence import evidence_of
from forgelog.recipe.plain import harmless, quoted
from forgelog.recipe.problems import Problem
from forgelog.recipe.process import process_hash
from forgelog.recipe.read import read_recipe
from forgelog.recipe.write import write_recipe
from forgelog.recipe.written import WrittenRecipe
from forgelog.recipe.written_evidence import WrittenEvidence, WrittenShared

_HEAD = """\
# A recipe as one smith shares it with another: `forgelog take FILE` shows what is in it and puts it
# in a book. It is followed with judgement; it says nothing of what a piece may carry.
"""


class Shared(msgspec.Struct, frozen=True, kw_only=True):
    """A recipe as it would be shared; nothing is written yet."""

    id: str
    text: str
    """The whole file."""
    lines: tuple[str, ...]
    """What goes out with it, in plain words, for the smith to look over."""
    problems: tuple[Problem, ...] = ()
    """Doubts about the recipe."""

    @property
    def file_name(self) -> str:
        """What the file is called where the smith names none."""
        return f"{self.id}.shared.toml"


def share(
    shop: Shop,
    name: str,
    *,
    by: str = "",
    on: str = "",
    evidence: bool = True,
) -> Shared:
    """Make a recipe of the book ready to be shared.

    Only the shop's own records go with it: evidence that came with the recipe is not handed on,
    or it would come back one day as somebody else's.

    Args:
        shop: The book.
        name: The recipe's id, its file's name or its own name.
        by: Who shares it; "" says nobody.
        on: The day, YYYY-MM-DD; "" says none.
        evidence: False leaves the records out.

    Raises:
        CannotDo: there is no such recipe, it has errors, or the name or the day cannot be.
    """
    if on:
        try:
            date.fromisoformat(on)
        except ValueError:
            raise CannotDo(f"{quoted(on)} is no date; write it as YYYY-MM-DD") from None
    written = shop.recipe(name)
    found = _evidence(shop, written) if evidence else None
    made = msgspec.structs.replace(
        written,
        shared=WrittenShared(
            process=process_hash(written),
            by=by or None,
            on=on or None,
            practice=shop.is_practice_copy and found is not None,
        ),
        evidence=found,
    )
    text = _HEAD + "\n" + write_recipe(made)
    again, problems = read_recipe(text.encode(), f"{written.id}.toml")
    if again is None:
        raise CannotDo("\n".join(["it cannot be shared so:", *(p.text for p in problems)]))
    return Shared(id=written.id, text=text, lines=tuple(_lines(made)), problems=problems)


def write_shared(shared: Shared, path: Path) -> Path:
    """Write the file; one that is there already is left as it is.

    Raises:
        CannotDo: there is a file of this name, or the disk does not take it.
    """
    if path.is_dir():
        path = path / shared.file_name
    return put_new(path, shared.text)


def _evidence(shop: Shop, written: WrittenRecipe) -> WrittenEvidence | None:
    fires = {fire.name: fire.kind for fire in shop.settings.shop.fires}
    fires |= {fire.id: fire.kind for fire in shop.settings.shop.fires}
    recipe = at_sizes(written, {})

    def ask(index: Index) -> WrittenEvidence | None:
        rows = index.rows(index.worked_from(recipe.id))
        return evidence_of(recipe, rows, index.floors, fires, practice=shop.is_practice_copy)

    return ask_index(shop, ask)


def _lines(recipe: WrittenRecipe) -> Iterator[str]:
    shared, evidence = recipe.shared, recipe.evidence
    assert shared is not None
    yield f"{harmless(recipe.name)}, revision {harmless(str(recipe.revision))}"
    yield f"checksum of the process: {shared.process}"
    told = [f"maker: {harmless(recipe.maker)}"] if recipe.maker else []
    told += [f"shared by: {harmless(shared.by)}"] if shared.by else []
    told += [f"on: {shared.on}"] if shared.on else []
    yield "; ".join(told) if told else "no name and no date go with it"
    if recipe.licence:
        yield f"licence: {harmless(recipe.licence)}"
    else:
        yield 'it says no licence: write one in the recipe, like licence = "CC-BY-4.0"'
    if evidence is None:
        yield "no records go with it"
        return
    whose = "records of practice" if shared.practice else "your records of it"
    yield f"{whose}, without customer, order, mark or day:"
    yield from (f"  {line}" for line in evidence_lines(evidence, recipe))
