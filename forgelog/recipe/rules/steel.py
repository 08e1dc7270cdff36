"""Doubts about heats: what the recipe asks of its steel against what the tables say of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forgelog.recipe.heats import heat, heat_range
from forgelog.recipe.kinds import kind_of
from forgelog.recipe.plain import did_you_mean, listed, quoted
from forgelog.recipe.problems import Path
from forgelog.recipe.rules.found import Found, all_steps, doubtful, steel_of
from forgelog.recipe.written import WrittenRecipe, WrittenStep
from forgelog.trade.steels import Grade, Span, grades

NEAR_DEGC = 15.0
"""Heats that lie outside a span by less than this are not doubted."""


def steel_is_known(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Of a steel that is in no table there are no heats to compare with."""
    if steel_of(recipe) is None:
        names = [grade.id for grade in grades()]
        yield doubtful(
            ("steel",),
            f"is {quoted(recipe.steel)}, of which no heats are known here",
            f"the steels are {listed(names, 'and')}",
            did_you_mean(recipe.steel, names),
        )


def heats_suit_the_steel(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Forging, normalising, hardening and tempering lie within what the sources say."""
    steel = steel_of(recipe)
    if steel is None:
        return
    for path, step in all_steps(recipe):
        kind = kind_of(step)
        if kind in ("harden", "temper"):
            yield from _hardening(path, step, kind, steel)
        if kind in ("normalise", "harden", "temper"):
            span = {"normalise": steel.normalise, "harden": steel.harden, "temper": steel.temper}
            yield from _within(path, step, span[kind], steel)
        start = heat_range(step.work) if step.work else None
        if isinstance(start, tuple) and steel.start and start[0] > steel.start.high + NEAR_DEGC:
            yield doubtful(
                (*path, "work"),
                f"starts at {start[0]:g} degC, and {steel.name} is forged no hotter than "
                f"{steel.start.high:g} ({steel.start.source})",
                "look at the maker's sheet",
            )


def _hardening(path: Path, step: WrittenStep, kind: str, steel: Grade) -> Iterator[Found]:
    if steel.hardenable is False:
        yield doubtful(path, f"is to {kind} {steel.name}, which does not harden", "look at steel")
    elif steel.hardenable is None:
        yield doubtful(
            path,
            f"is to {kind} {steel.name}",
            "find out what it is, or make a test piece first: the floor will ask for one",
        )
    elif step.quench and step.quench not in steel.quench:
        yield doubtful(
            (*path, "quench"),
            f"is {step.quench}, and {steel.name} is hardened in {listed(steel.quench)} "
            f"({steel.quench_source})",
            "look at the maker's sheet: the wrong quench cracks it",
        )


def _within(path: Path, step: WrittenStep, span: Span | None, steel: Grade) -> Iterator[Found]:
    degc = heat(step.at) if step.at else None
    if span is None or not isinstance(degc, float):
        return
    if not span.low - NEAR_DEGC <= degc <= span.high + NEAR_DEGC:
        yield doubtful(
            (*path, "at"),
            f"is {degc:.0f} degC, and the sources say {_reach(span)} for {steel.name} "
            f"({span.source})",
            "look at the maker's sheet",
        )


def _reach(span: Span) -> str:
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"


RULES = (steel_is_known, heats_suit_the_steel)
