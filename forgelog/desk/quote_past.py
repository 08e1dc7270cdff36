"""What the journal knows that a quote wants to know: times, fuel, pieces spoilt, hours told."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from decimal import Decimal, InvalidOperation
from statistics import median

import msgspec

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.review_read import Folded, fold_whole
from forgelog.desk.shop import Shop
from forgelog.learn.minutes import LearntTimes, learn_times
from forgelog.learn.records import bench_times, done_steps, hand_times, practice_sessions
from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import StepRow
from forgelog.recipe.resolved import FORGING_KINDS, HEAT_KINDS
from forgelog.work.state import FINISHED, FITTED, SCRAPPED, State

FIRE_MIN_A_HEAT = 2.75
"""A heat, its time in the fire and the waiting included, minutes: 2 to 3.5 for 10 to 25 mm bar.
Common practice. Against a minute in hand, which is the yardstick of what is learnt."""
FIRE_SPREAD = math.log(3.5 / 2.75)
SETTLED_H = 1.0
"""The assumed figure counts for so many hours in hand of the record. Stated, not measured."""


class AtFire(msgspec.Struct, frozen=True, kw_only=True):
    """How long the smith stands at the fire for the time that a piece is in his hand."""

    times: float
    """Time at the fire, waiting and all, over time in hand."""
    spread: float
    """Half of its range, logarithmic."""
    hand_h: float
    """Of the record."""


class Weighed(msgspec.Struct, frozen=True, kw_only=True):
    """What a kind of fire burnt by the scale."""

    kg_h: float
    sessions: int


class Past(msgspec.Struct, frozen=True, kw_only=True):
    """The record of the shop."""

    state: State
    """What stands on all orders, closed ones too."""
    practice: bool
    steps: tuple[StepRow, ...]
    """Steps done, of real work, or in a practice copy of practice."""
    hand: LearntTimes
    bench: LearntTimes
    at_fire: AtFire
    session_fire_s: dict[str, float]
    """Of each session at the fire, without its time at the bench."""
    session_hand_s: dict[str, float]
    burnt: dict[str, Weighed]
    """By kind of fire."""
    made: dict[str, tuple[int, int]]
    """By recipe: pieces scrapped, and pieces finished or scrapped."""
    told: dict[str, dict[str, tuple[Decimal, int]]]
    """By recipe and kind: the usual hours of an order, and of how many orders."""


def past_of(shop: Shop, clock: Clock | None = None) -> Past:
    """The record of a shop; of real work alone, or in a practice copy of practice.

    Args:
        shop: The book.
        clock: Of this machine where None.
    """
    folded = fold_whole(shop.whole, None, (clock or RealClock()).stamp())
    state, practice = folded.state, shop.is_practice_copy
    rows = tuple(row for row in make_rows(state).steps if row.practice == practice)
    done = done_steps(state, practice=practice)
    hand_s, fire_s = _sessions(folded, rows, practice)
    return Past(
        state=state,
        practice=practice,
        steps=rows,
        hand=learn_times(hand_times(done)),
        bench=learn_times(bench_times(done)),
        at_fire=_at_fire(sum(hand_s.values()), sum(fire_s.values())),
        session_fire_s=fire_s,
        session_hand_s=hand_s,
        burnt=_burnt(state, fire_s),
        made=_made(state, practice),
        told=_told(state),
    )


def at_the_fire(kind: str) -> bool:
    """Whether a step of this kind is worked at the fire."""
    return kind in FORGING_KINDS or kind in HEAT_KINDS


def number(text: str) -> Decimal | None:
    """The number that a text of the journal begins with: "3.50 h"; None where it has none."""
    try:
        found = Decimal(text.split()[0]) if text.split() else None
    except InvalidOperation:
        return None
    return found if found is not None and found.is_finite() else None


def _sessions(
    folded: Folded, rows: Iterable[StepRow], practice: bool
) -> tuple[dict[str, float], dict[str, float]]:
    """Of each session at the fire: time in hand, and all its time but that at the bench."""
    practised = practice_sessions(folded.state)
    hand_s = {
        record.id: 0.0
        for record in folded.state.sessions
        if record.kind == "floor" and (record.id in practised) == practice
    }
    bench_s = dict.fromkeys(hand_s, 0.0)
    for row in rows:
        if row.session in hand_s:
            times = hand_s if at_the_fire(row.kind) else bench_s
            times[row.session] += row.work_s
    fire_s = {
        session: max(hand_s[session], folded.worked_s.get(session, 0.0) - bench_s[session])
        for session in hand_s
    }
    return hand_s, fire_s


def _at_fire(hand_s: float, fire_s: float) -> AtFire:
    hand_h, fire_h = hand_s / 3600, fire_s / 3600
    times = (FIRE_MIN_A_HEAT * SETTLED_H + fire_h) / (SETTLED_H + hand_h)
    spread = FIRE_SPREAD * math.sqrt(SETTLED_H / (SETTLED_H + hand_h))
    return AtFire(times=times, spread=spread, hand_h=hand_h)


def _burnt(state: State, fire_s: Mapping[str, float]) -> dict[str, Weighed]:
    sums: dict[str, tuple[float, float, int]] = {}
    for session, burnt in state.fuel.items():
        long_s = fire_s.get(session, 0.0)
        if long_s > 0.0:
            kg, seconds, count = sums.get(burnt.fire_kind, (0.0, 0.0, 0))
            sums[burnt.fire_kind] = (kg + burnt.kg, seconds + long_s, count + 1)
    return {
        kind: Weighed(kg_h=kg / seconds * 3600, sessions=count)
        for kind, (kg, seconds, count) in sums.items()
    }


def _made(state: State, practice: bool) -> dict[str, tuple[int, int]]:
    practised = practice_sessions(state)
    made: dict[str, tuple[int, int]] = {}
    for piece in state.pieces.values():
        ended = piece.place in (FINISHED, FITTED, SCRAPPED)
        if not ended or not piece.done or (piece.done[-1].session in practised) != practice:
            continue
        recipe = state.orders[piece.order].recipe
        spoilt, all_of_it = made.get(recipe, (0, 0))
        count = piece.lot or 1
        spoilt += count if piece.place == SCRAPPED else 0
        made[recipe] = (spoilt, all_of_it + count)
    return made


def _told(state: State) -> dict[str, dict[str, tuple[Decimal, int]]]:
    heard: dict[str, dict[str, list[Decimal]]] = {}
    for order in state.orders.values():
        for kind, text in order.hours.items():
            if (hours := number(text)) is not None:
                heard.setdefault(order.recipe, {}).setdefault(kind, []).append(hours)
    return {
        recipe: {kind: (median(hours), len(hours)) for kind, hours in kinds.items()}
        for recipe, kinds in heard.items()
    }
