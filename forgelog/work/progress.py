"""How far an order is, in steps done of steps to do."""

from __future__ import annotations

import msgspec

from forgelog.recipe.resolved import Recipe
from forgelog.work.queries import pieces_of, steps_of
from forgelog.work.state import SCRAPPED, Order, State


class Progress(msgspec.Struct, frozen=True, kw_only=True):
    """Steps done of steps to do. A handful of small parts counts as one piece."""

    done: int
    steps: int

    @property
    def words(self) -> str:
        """As Home shows it: "12 of 41 steps"."""
        return f"{self.done} of {self.steps} steps"

    @property
    def finished(self) -> bool:
        """All that was to be done is done."""
        return self.steps > 0 and self.done >= self.steps


def progress_of(state: State, order: Order) -> Progress:
    """How far an order is whose workpieces have been made.

    Scrapped pieces count for nothing, nor do spares.
    """
    pieces = [p for p in pieces_of(state, order.id) if p.place != SCRAPPED and not p.spare]
    steps = [len(steps_of(state, piece)) for piece in pieces]
    return Progress(
        done=sum(min(p.step, count) for p, count in zip(pieces, steps, strict=True)),
        steps=sum(steps),
    )


def planned_progress(recipe: Recipe, count: int) -> Progress:
    """How far an order is that has not been begun: nothing of all that the recipe asks for.

    Args:
        recipe: At the order's sizes.
        count: How many sets.
    """
    steps = sum(
        len(component.steps) * (1 if component.lot else component.each * count)
        for component in recipe.components
    )
    return Progress(done=0, steps=steps)
