"""What is to be bought for an order: things that go with the work and are not forged."""

from __future__ import annotations

import msgspec

from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Bought, Recipe
from forgelog.units import UnitSystem


class BoughtShown(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of thing to buy for an order."""

    id: str
    name: str
    count: int
    """For the whole order."""
    says: str = ""
    """Which to buy, and what it is for."""
    component: str = ""
    """Id of the component that it goes with, or ""."""
    mass_kg: float | None = None
    """Of all of them; None where the recipe does not say."""

    @property
    def counted(self) -> str:
        """ "8 nuts M10"."""
        return f"{self.count} {self.name}"

    @property
    def words(self) -> str:
        """ "8 nuts M10, on the far side of the wall"."""
        return f"{self.counted}, {self.says}" if self.says else self.counted


def to_buy(recipe: Recipe, sets: int, units: UnitSystem | str) -> tuple[BoughtShown, ...]:
    """Everything that is bought for so many sets, in the recipe's order.

    Args:
        recipe: At the order's sizes.
        sets: How many sets are ordered.
        units: mm or inch.
    """
    return tuple(_shown(one, sets, units) for one in recipe.bought)


def _shown(one: Bought, sets: int, units: UnitSystem | str) -> BoughtShown:
    return BoughtShown(
        id=one.id,
        name=harmless(one.name),
        count=one.each * sets,
        says=render(one.says, units),
        component=one.component,
        mass_kg=one.mass_kg * one.each * sets if one.mass_kg is not None else None,
    )
