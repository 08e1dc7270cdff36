"""What a recipe must keep to beyond its shape: small rules, each looking at the whole recipe.

To add one, write a function like those here and put it in `RULES`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from forgelog.recipe.rules import components, doubts, evidence, sizes, sizing, steel, steps, texts
from forgelog.recipe.rules.found import Found, default_sizes_mm
from forgelog.recipe.written import WrittenRecipe

Rule = Callable[[WrittenRecipe, Mapping[str, float]], Iterator[Found]]
"""Takes the recipe and its sizes in mm, and gives all that it finds wrong."""

RULES: tuple[Rule, ...] = (
    *sizes.RULES,
    *texts.RULES,
    *components.RULES,
    *steps.RULES,
    *evidence.RULES,
)
"""What makes a recipe wrong."""

DOUBTS: tuple[Rule, ...] = (*doubts.RULES, *steel.RULES, *sizing.RULES, *evidence.DOUBTS)
"""What makes a recipe doubtful; they are asked only of a recipe that is not wrong."""


def check_rules(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float] | None = None
) -> tuple[Found, ...]:
    """Look for everything wrong with a recipe, and if nothing is, for what is doubtful.

    Args:
        recipe: As the smith wrote it; of the right shape.
        sizes_mm: The sizes by name, mm; the recipe's own defaults where None.
    """
    sizes = default_sizes_mm(recipe) if sizes_mm is None else sizes_mm
    return find_errors(recipe, sizes) or tuple(
        found for rule in DOUBTS for found in rule(recipe, sizes)
    )


def find_errors(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> tuple[Found, ...]:
    """Look for everything wrong with a recipe at given sizes, and for no doubts."""
    return tuple(found for rule in RULES for found in rule(recipe, sizes_mm))
