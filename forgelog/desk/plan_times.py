"""Minutes of the steps that are still to be done, as the journal has taught them."""

from __future__ import annotations

import math

from forgelog.desk.clock import Clock
from forgelog.desk.quote_past import past_of
from forgelog.desk.shop import Shop
from forgelog.floor.planning.from_state import StepKey
from forgelog.floor.planning.piece_steps import planned_heats
from forgelog.floor.settings import FloorSettings, LearntSeconds
from forgelog.learn.records import HAND_S_A_HEAT
from forgelog.recipe.resolved import FORGING_KINDS
from forgelog.work.queries import live, recipe_of, steps_of
from forgelog.work.state import State

ENOUGH = 3
"""Fewer pieces of the smith's own say less than the plan. Stated, not measured."""
HIGH_Z = 1.2816
"""Four in five lie within so many spreads of a normal law."""


def learnt_times(
    shop: Shop, state: State, settings: FloorSettings, clock: Clock
) -> dict[StepKey, LearntSeconds]:
    """Time at the bench, and in hand for one heat, of every step that lies ahead.

    Args:
        shop: The book.
        state: What stands.
        settings: Of the floor, for the heats that are planned.
        clock: Of the book.
    """
    past = past_of(shop, clock=clock)
    found: dict[StepKey, LearntSeconds] = {}
    for piece in state.pieces.values():
        if not live(piece) or piece.lot:
            continue
        recipe = recipe_of(state, piece).id
        for step in steps_of(state, piece)[piece.step :]:
            key = (recipe, piece.component, step.id, state.method)
            if key in found:
                continue
            heats = 1
            if step.kind in FORGING_KINDS:
                heats = planned_heats(state, piece, step, settings)
                time = past.hand.ask(key, HAND_S_A_HEAT * heats)
            elif step.minutes_s:
                time = past.bench.ask((*key[:3], ""), step.minutes_s)
            else:
                continue
            if time.records >= ENOUGH:
                found[key] = LearntSeconds(
                    seconds=time.centre_s / heats,
                    spread=math.log(time.high_s / time.centre_s) / HIGH_Z,
                )
    return found
