"""What another smith's records say, in words."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.recipe.method_words import METHOD_WORDS
from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.slugs import step_slugs
from forgelog.recipe.written import WrittenRecipe
from forgelog.recipe.written_evidence import (
    WrittenEvidence,
    WrittenHeatsTaken,
    WrittenRested,
    WrittenTaken,
)

Place = tuple[str, str]
"""Ids of component and step."""


def evidence_lines(evidence: WrittenEvidence, recipe: WrittenRecipe) -> tuple[str, ...]:
    """One line for each step, rest and cause; rows of steps that the recipe has not are left out.

    Args:
        evidence: As it came with the recipe.
        recipe: The recipe, for the names.
    """
    return tuple(_lines(evidence, _names(recipe)))


def _lines(evidence: WrittenEvidence, names: dict[Place, str]) -> Iterator[str]:
    for row in evidence.steps:
        if name := names.get((row.component, row.step)):
            yield f"{name}{_by(row)}: {_pieces(row.pieces)}{_taken(row)}"
    for rest in evidence.rests:
        if name := names.get((rest.component, rest.step)):
            yield f"{name}: {_pieces(rest.pieces)}, {_kept(rest)}"
    for spoilt in evidence.spoilt:
        if name := names.get((spoilt.component, spoilt.step)):
            yield f"{name}: {_pieces(spoilt.pieces)} spoilt, {harmless(spoilt.why)}"


def _names(recipe: WrittenRecipe) -> dict[Place, str]:
    found: dict[Place, str] = {}
    for component in recipe.component:
        deeds = [step.do for step in component.step]
        for step in component.step:
            for number, slug in enumerate(step_slugs(step), 1):
                words = f"{component.name}, {step.do}"
                if step.cycles > 1:
                    words += f" (cycle {number})"
                elif deeds.count(step.do) > 1:
                    words += f" ({slug})"
                found[component.id, slug] = harmless(words)
    return found


def _by(row: WrittenTaken) -> str:
    return f" {METHOD_WORDS[row.by]}" if row.by else ""


def _pieces(count: int) -> str:
    return f"{count} {'piece' if count == 1 else 'pieces'}"


def _taken(row: WrittenTaken) -> str:
    words = f", {heats_words(row.heats)}" if row.heats else ""
    if row.time:
        least, middle, most = (
            harmless(text) for text in (row.time.least, row.time.middle, row.time.most)
        )
        spread = f" ({least} to {most})" if least != most else ""
        words += f", {middle}{spread}"
    if row.sections:
        words += f", of {listed((harmless(s) for s in row.sections), 'and')}"
    if row.fires:
        words += f", in a {listed(row.fires, 'and')} fire"
    return words


def heats_words(heats: WrittenHeatsTaken) -> str:
    """ "4 heats (3 to 6)"."""
    spread = f" ({heats.least} to {heats.most})" if heats.least != heats.most else ""
    return f"{heats.middle} {'heat' if heats.middle == 1 else 'heats'}{spread}"


def _kept(rest: WrittenRested) -> str:
    told = (
        (rest.kept, "kept"),
        (rest.unsure, "unsure"),
        (rest.short, "cut short"),
        (rest.skipped, "skipped"),
    )
    return listed((f"{count} {word}" for count, word in told if count), "and") or "no verdict"
