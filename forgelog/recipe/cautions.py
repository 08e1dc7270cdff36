"""The cautions of a recipe and of its steps: those that it lists, and those that the work needs."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.recipe.kinds import kind_of
from forgelog.recipe.rules.found import section_of
from forgelog.recipe.written import WrittenHeats, WrittenRecipe, WrittenStep
from forgelog.trade.cautions import usual_for

EVERYDAY = frozenset(usual_for("forge"))
"""Cautions of all work at the fire: told at lay-out, and no more on every step."""


def recipe_cautions(recipe: WrittenRecipe) -> tuple[str, ...]:
    """The cautions for lay-out and sheet, each once; the recipe's own first."""
    found = list(recipe.cautions)
    for component in recipe.component:
        section = section_of(component.stock.section) if component.stock else None
        for step in component.step:
            found += step.cautions
            found += usual_for(
                kind_of(step) or "",
                f"{step.do} {step.says}",
                steel=recipe.steel,
                quench=step.quench or "",
                methods=_methods(step.heats),
                section_kind=section.kind if section else "",
                piece=recipe.name,
            )
    return _each_once(found)


def step_cautions(step: WrittenStep, kind: str) -> tuple[str, ...]:
    """The cautions for the card of a step: its own, and those that not every step has."""
    usual = usual_for(kind, step.do, steel="known", quench=step.quench or "")
    return _each_once([*step.cautions, *(one for one in usual if one not in EVERYDAY)])


def _methods(heats: WrittenHeats | None) -> tuple[str, ...]:
    planned = msgspec.structs.asdict(heats) if heats else {}
    return tuple(method for method, count in planned.items() if count is not None)


def _each_once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name in names if name))
