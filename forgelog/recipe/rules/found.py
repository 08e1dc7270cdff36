"""What a rule finds, and what several rules ask of a recipe."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import msgspec

from forgelog.recipe.expressions import names_in, worked_out
from forgelog.recipe.form import section_of as section_of
from forgelog.recipe.problems import Fault, Path, Severity
from forgelog.recipe.written import (
    WrittenComponent,
    WrittenNeed,
    WrittenRecipe,
    WrittenStep,
)
from forgelog.trade.steels import Grade, find_grade


class Found(msgspec.Struct, frozen=True, kw_only=True):
    """Something wrong or doubtful, and its path."""

    path: Path
    fault: Fault
    severity: Severity = "error"
    missing: bool = False
    """True where a key is missed that may be there, but wrong, and reported for that."""


def wrong(path: Path, found: str, expected: str = "", hint: str = "") -> Found:
    """An error at a path; `found` follows the name of the key."""
    return Found(path=path, fault=Fault(found=found, expected=expected, hint=hint))


def missing(path: Path, found: str, expected: str = "") -> Found:
    """An error at the path of a table that lacks a key."""
    return Found(path=path, fault=Fault(found=found, expected=expected), missing=True)


def doubtful(path: Path, found: str, expected: str = "", hint: str = "") -> Found:
    """A warning at a path."""
    fault = Fault(found=found, expected=expected, hint=hint)
    return Found(path=path, fault=fault, severity="warning")


def default_sizes_mm(recipe: WrittenRecipe) -> dict[str, float]:
    """The sizes at their defaults, mm; not a number where a default cannot be worked out.

    What is worked out with one that is not a number is passed over, since the default itself
    has been reported.
    """
    return sizes_at(recipe, {})


def sizes_at(recipe: WrittenRecipe, given: Mapping[str, float]) -> dict[str, float]:
    """Every size of the recipe, mm: as it is given, else its default, which may follow others.

    Args:
        recipe: As the smith wrote it.
        given: The sizes that an order changes, by name, mm; other names are passed over.

    Returns:
        By name, in the recipe's order; not a number where a default cannot be worked out.
    """
    found = {
        name: given[name] if name in given else plain_mm(size.default)
        for name, size in recipe.sizes.items()
    }
    waiting = [n for n, mm in found.items() if math.isnan(mm) and n not in given]
    while waiting:
        ready = [n for n in waiting if not set(sizes_in(recipe, n)) & set(waiting)]
        if not ready:
            break  # They lead in a circle, which a rule reports.
        for name in ready:
            value = worked_out(recipe.sizes[name].default, found, zero=True)
            found[name] = math.nan if isinstance(value, Fault) else value
        waiting = [n for n in waiting if n not in ready]
    return found


def sizes_in(recipe: WrittenRecipe, name: str) -> list[str]:
    """The sizes that the default of a size follows, each once; none where it is a plain length."""
    default = recipe.sizes[name].default
    named = names_in(default) if math.isnan(plain_mm(default)) else []
    return [other for other in dict.fromkeys(named) if other in recipe.sizes]


def plain_mm(text: str | None) -> float:
    """A length that is no sum, mm; not a number where it cannot be read."""
    value = worked_out(text, {}, zero=True) if text else math.nan
    return math.nan if isinstance(value, Fault) else value


def mm_of(text: str | None, sizes_mm: Mapping[str, float]) -> float | None:
    """A dimension in mm, or None where it is not given or has been reported."""
    value = worked_out(text, sizes_mm, zero=True) if text else None
    return None if value is None or isinstance(value, Fault) or math.isnan(value) else value


def all_components(recipe: WrittenRecipe) -> Iterator[tuple[Path, WrittenComponent]]:
    """Each component with its path."""
    for number, component in enumerate(recipe.component):
        yield ("component", number), component


def all_steps(recipe: WrittenRecipe) -> Iterator[tuple[Path, WrittenStep]]:
    """Each step of each component with its path."""
    for path, component in all_components(recipe):
        for number, step in enumerate(component.step):
            yield (*path, "step", number), step


def steel_of(recipe: WrittenRecipe) -> Grade | None:
    """What is known of the recipe's steel, or None where it is in no table."""
    return find_grade(recipe.steel)


def need_of(need: str | WrittenNeed) -> tuple[str, int]:
    """The component that is needed and how many of it."""
    return (need, 1) if isinstance(need, str) else (need.component, need.count)
