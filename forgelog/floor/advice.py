"""What to take next: a plain order of reasons. One function of the state.

Hot pieces and rests that are due come first, the same step on all pieces of a set, then the order
with the nearest date. Advice is never an order: any other piece is one key away.
"""

from __future__ import annotations

import msgspec

from forgelog.floor.blocks import (
    block,
    chains,
    lock_holder,
    waits_for_temper,
    waived,
)
from forgelog.floor.names import ready_like
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import look_s
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire, in_hand, live, order_open, recipe_of, step_of, steps_of
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, WAITING, State, Workpiece


class Advice(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to take, and why."""

    piece: str
    why: str
    """At most six words: "hot now", "rest done 2 min ago"."""
    rank: int
    """Lower is sooner."""


def room(state: State) -> int:
    """Free places in the fire; a piece in hand keeps its own."""
    if not state.fire.lit:
        return 0
    held = in_hand(state)
    keeps = 1 if held is not None else 0
    return max(0, state.fire.places - len(in_fire(state)) - keeps)


def rest_left_s(piece: Workpiece, now: Moment) -> float:
    """Seconds until the rest is due; below 0 when it has been for so long."""
    if piece.rest is None:
        return 0.0
    return piece.rest.started_s + piece.rest.needed_s - now.rest_s


def next_step(state: State, piece: Workpiece) -> Step | None:
    """The step that a press would begin: after the rest, for a piece that rests."""
    if piece.place == RESTING and piece.rest is not None and piece.rest.step:
        steps = steps_of(state, piece)
        index = piece.step + 1
        return steps[index] if index < len(steps) else None
    return step_of(state, piece)


def wants_heat(step: Step) -> bool:
    """Forging and heat treatment want the fire."""
    return step.kind == "forge" or step.kind in HEAT_KINDS


def _number_in_recipe(state: State, piece: Workpiece) -> int:
    ids = [c.id for c in recipe_of(state, piece).components]
    return ids.index(piece.component)


def _minutes(seconds: float) -> str:
    minutes = int(seconds // 60)
    if minutes >= 48 * 60:
        return f"{minutes // (24 * 60)} days"
    if minutes >= 120:
        return f"{minutes // 60} h"
    return f"{minutes} min" if minutes else f"{int(seconds)} s"


def advise(state: State, now: Moment, settings: FloorSettings) -> tuple[Advice, ...]:
    """Everything worth taking now, soonest first; alike pieces once.

    Never a piece that is blocked, a rest cut short, or anything between harden and temper but the
    piece itself.
    """
    found: list[tuple[tuple[object, ...], Advice]] = []
    seen: set[str] = set()
    free = room(state)
    holder = lock_holder(state)
    dated = sorted(
        state.orders.values(), key=lambda o: (o.promised or "9999-99-99", o.taken_s, o.id)
    )
    place_of = {o.id: i for i, o in enumerate(dated)}
    tempers = {p.id for p in waits_for_temper(state)}
    for piece in state.pieces.values():
        if not live(piece) or piece.id in seen or not order_open(state.orders[piece.order]):
            continue
        alike = ready_like(state, piece)
        seen.update(p.id for p in alike)
        for one in alike if piece.place in (FIRE, RESTING) else alike[:1]:
            advice = _one(state, one, now, settings, free=free, tempers=tempers, holder=holder)
            if advice is None:
                continue
            locked = holder is not None and holder.id != one.id
            if locked and one.place != FIRE and advice.rank > 1:
                step = next_step(state, one)
                if step is not None and wants_heat(step):
                    continue
            chain = chains(steps_of(state, one))
            at = chain[one.step] if one.step < len(chain) else 0
            key = (
                advice.rank,
                not one.heats,
                place_of[one.order],
                _number_in_recipe(state, one),
                at,
                one.since_s,
                one.serial,
            )
            found.append((key, advice))
    found.sort(key=lambda pair: pair[0])
    return tuple(advice for _, advice in found)


def _one(
    state: State,
    piece: Workpiece,
    now: Moment,
    settings: FloorSettings,
    *,
    free: int,
    tempers: set[str],
    holder: Workpiece | None,
) -> Advice | None:
    step = next_step(state, piece)
    if step is None:
        return None
    if piece.place == HAND:
        return Advice(piece=piece.id, why="in hand", rank=0)
    if piece.place == FIRE:
        left_s = look_s(state, piece, settings) - (now.rest_s - piece.since_s)
        if left_s <= 0:
            return Advice(piece=piece.id, why="hot now", rank=1)
        return Advice(piece=piece.id, why=f"look in about {_minutes(left_s)}", rank=6)
    if piece.place == BENCH:
        return Advice(piece=piece.id, why="on the bench", rank=4)
    if piece.place == RESTING:
        left_s = rest_left_s(piece, now)
        if left_s > 0:
            return None
        why = f"rest done {_minutes(-left_s)} ago"
        rank = 2 if wants_heat(step) else 5
    elif piece.place == WAITING:
        if step.kind == "rest":
            return Advice(piece=piece.id, why="wants its rest", rank=2)
        why = "fire has room" if wants_heat(step) else "bench work"
        rank = 3 if wants_heat(step) else 5
    else:
        return None
    if piece.id in tempers:
        why = "temper at once" if step.kind == "temper" else "then temper at once"
        if wants_heat(step) and free < 1:
            why = "temper at once: the fire is full"
        return Advice(piece=piece.id, why=why, rank=0)
    blocked = block(state, piece, step, settings, holder=holder)
    if blocked is not None and not waived(piece, step, blocked.kind):
        return None
    if wants_heat(step) and free < 1:
        return None
    if step.kind == "gauge":
        why, rank = "to be gauged", 2
    return Advice(piece=piece.id, why=why, rank=rank)
