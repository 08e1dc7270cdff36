"""What is still to be cut for an order: lay-out and cut list ask here, so that they agree."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.money.cutting import rounded_up_mm
from forgelog.recipe.resolved import Component, Recipe, Stock
from forgelog.trade.sections import Section
from forgelog.units import UnitSystem
from forgelog.work.queries import live, pieces_of
from forgelog.work.sawn import Blank, blanks_ready
from forgelog.work.state import Order, State

GRAIN_MM = {UnitSystem.MM: 0.5, UnitSystem.INCH: 25.4 / 32}
"""What a cut length is rounded up to."""
NEAR_MM = 0.5
"""A blank that is shorter than wanted by no more than a saw's grain will do."""


class Wanted(msgspec.Struct, frozen=True, kw_only=True):
    """Pieces of one component, by the recipe that they follow."""

    order: Order
    recipe: Recipe
    component: Component
    stock: Stock
    count: int
    """Pieces that have not been taken up; parts, of a handful."""
    ready: int
    """So many of their blanks were sawn and lie ready."""
    unfit: tuple[Blank, ...] = ()
    """Blanks that were sawn from another bar, or too short for what is wanted now."""
    workpieces: tuple[str, ...] = ()
    """Ids, where they have been made, a handful's as often as it has parts."""

    @property
    def to_cut(self) -> int:
        """How many are still to be sawn."""
        return self.count - self.ready

    @property
    def long_mm(self) -> float:
        """Of each as it is cut, grip and all; 0 where the recipe gives no length."""
        if self.stock.cut_mm is not None:
            return self.stock.cut_mm
        return self.stock.sum_mm if self.stock.volume_mm3 > 0 else 0.0


def wanted_of(state: State, order: Order, newest: Recipe) -> Iterator[Wanted]:
    """What an order's pieces that were not begun are cut from, and how many lie ready.

    A piece counts as begun once it was taken up at all: its blank was cut then.

    Args:
        state: What stands.
        order: The order.
        newest: The recipe that it works from; before its first lay-out, that it will work from.
    """
    groups = tuple(_groups(state, order, newest))
    last = {component.id: place for place, (_, component, _, _) in enumerate(groups)}
    left: dict[str, list[Blank]] = {}
    for place, (recipe, component, count, workpieces) in enumerate(groups):
        stock = component.stock
        if stock is None:
            continue
        if component.id not in left:
            left[component.id] = list(blanks_ready(state, order.id, component.id))
        blanks = left[component.id]
        one = Wanted(
            order=order,
            recipe=recipe,
            component=component,
            stock=stock,
            count=count,
            ready=0,
            workpieces=workpieces,
        )
        ready, left[component.id] = _taken(blanks, stock.section, one.long_mm, count)
        short = ready < count and place == last[component.id]
        unfit = tuple(left[component.id]) if short else ()
        yield msgspec.structs.replace(one, ready=ready, unfit=unfit, workpieces=workpieces[ready:])


def _groups(
    state: State, order: Order, newest: Recipe
) -> Iterator[tuple[Recipe, Component, int, tuple[str, ...]]]:
    if not order.pins:
        for component in newest.components:
            yield newest, component, component.each * order.count, ()
        return
    waiting = [p for p in pieces_of(state, order.id) if live(p) and not p.begun]
    for pin, recipe in enumerate(order.pins):
        for component in recipe.components:
            mine = [p for p in waiting if p.pin == pin and p.component == component.id]
            if mine:
                ids = tuple(p.id for p in mine for _ in range(p.lot or 1))
                yield recipe, component, len(ids), ids


def _taken(
    blanks: list[Blank], section: Section, long_mm: float, count: int
) -> tuple[int, list[Blank]]:
    """How many of the blanks will do, and the blanks that are left."""
    ready = 0
    left = []
    for blank in blanks:
        fits = same_section(blank.section, section) and blank.cut_mm >= long_mm - NEAR_MM
        less = min(count - ready, blank.count) if fits and long_mm else 0
        ready += less
        if blank.count > less:
            left.append(msgspec.structs.replace(blank, count=blank.count - less))
    return ready, left


def same_section(one: Section, other: Section) -> bool:
    """Whether two sections are the same bar, as near as bars are sold."""
    return one.kind == other.kind and all(
        abs(a - b) < 0.05 for a, b in zip(one.sizes_mm, other.sizes_mm, strict=True)
    )


def as_cut_mm(long_mm: float, units: UnitSystem | str) -> float:
    """A length as it is cut: up to the next 0.5 mm or 1/32 in, never down."""
    return rounded_up_mm(long_mm, GRAIN_MM[UnitSystem(units)]) if long_mm else 0.0
