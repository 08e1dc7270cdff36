"""Rules of the sizes that an order may change."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from forgelog.recipe.expressions import is_unit, worked_out
from forgelog.recipe.plain import quoted
from forgelog.recipe.problems import Fault
from forgelog.recipe.rules.found import Found, default_sizes_mm, mm_of, sizes_in, wrong
from forgelog.recipe.written import WrittenRecipe
from forgelog.units import show_length


def names_are_no_units(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A size called "in" or "m" would make every dimension doubtful."""
    for name in recipe.sizes:
        if is_unit(name):
            yield wrong(("sizes", name), f"has the name of a unit, {quoted(name)}", "rename it")


def can_be_worked_out(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A default, a least and a most are lengths, or sums over other sizes."""
    for name, size in recipe.sizes.items():
        for key, text in (("default", size.default), ("least", size.least), ("most", size.most)):
            value = worked_out(text, sizes_mm, zero=True) if text else 0.0
            if isinstance(value, Fault):
                yield Found(path=("sizes", name, key), fault=value)


def defaults_make_no_circle(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """No size follows itself, even by way of others."""
    for name in recipe.sizes:
        behind: set[str] = set()
        still = sizes_in(recipe, name)
        while still:
            other = still.pop()
            if other not in behind:
                behind.add(other)
                still.extend(sizes_in(recipe, other))
        if name in behind:
            found = f"leads from {quoted(name)} back to {quoted(name)}"
            expected = 'one of them stands by itself: write a length, like "100 mm"'
            yield wrong(("sizes", name, "default"), found, expected)


def defaults_lie_within(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """The default is from least to most, and least is no more than most, all at their defaults."""
    if not any(size.least or size.most for size in recipe.sizes.values()):
        return
    defaults = default_sizes_mm(recipe)
    for name, size in recipe.sizes.items():
        default, least, most = (_mm(t, defaults) for t in (size.default, size.least, size.most))
        if least > most:
            found = f"is {quoted(size.least or '')}, more than most = {quoted(size.most or '')}"
            yield wrong(("sizes", name, "least"), found, "make least no more than most")
        elif default < least:
            found = f"is {quoted(size.default)}, less than least = {quoted(size.least or '')}"
            yield wrong(("sizes", name, "default"), found, "choose one from least to most")
        elif default > most:
            found = f"is {quoted(size.default)}, more than most = {quoted(size.most or '')}"
            yield wrong(("sizes", name, "default"), found, "choose one from least to most")


def given_lie_within(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What an order asks for, and what follows from it, is from least to most."""
    if sizes_mm == default_sizes_mm(recipe):
        return
    for name, size in recipe.sizes.items():
        asked = sizes_mm.get(name, math.nan)
        for key, text in (("least", size.least), ("most", size.most)):
            limit = _mm(text, sizes_mm)
            if (asked < limit) if key == "least" else (asked > limit):
                side = "less than" if key == "least" else "more than"
                sum_of = f", which is {text} here" if text and _is_sum(text) else ""
                found = f"is {asked:g} mm, {side} the {key}, {show_length(limit)}{sum_of}"
                yield wrong(("sizes", name), found, "choose one within the recipe's limits")


def _mm(text: str | None, sizes_mm: Mapping[str, float]) -> float:
    """A length or a sum, mm; not a number where there is none or it cannot be worked out."""
    mm = mm_of(text, sizes_mm)
    return math.nan if mm is None else mm


def _is_sum(text: str) -> bool:
    return isinstance(worked_out(text, {}, zero=True), Fault)


RULES = (
    names_are_no_units,
    can_be_worked_out,
    defaults_make_no_circle,
    defaults_lie_within,
    given_lie_within,
)
