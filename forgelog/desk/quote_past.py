"""What the journal knows that a quote wants to know: times, fuel, pieces spoilt, hours told."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from statistics import median

import msgspec

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.lessons import lessons
from forgelog.desk.shop import Shop
from forgelog.learn.minutes import LearntTimes
from forgelog.learn.rows import StepRow
from forgelog.work.state import State

FIRE_MIN_A_HEAT = 2.75
"""A heat, its time in the fire and the waiting included, minutes: 2 to 3.5 for 10 to 25 mm bar.
Common practice. Against a minute in hand, which is the yardstick of what is learnt."""
FIRE_SPREAD = math.log(3.5 / 2.75)
MOST = Decimal(10) ** 12
"""A larger number in the journal is no amount and no quantity."""
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

    steps: tuple[StepRow, ...]
    """Steps done on the order that is asked about."""
    hand: LearntTimes
    bench: LearntTimes
    at_fire: AtFire
    session_fire_s: dict[str, float]
    """Of each session at the fire, without its time at the bench."""
    session_hand_s: dict[str, float]
    burnt: dict[str, Weighed]
    """By kind of fire."""
    made: dict[str, tuple[int, int]]
    """By recipe: pieces scrapped, and pieces that were worked on."""
    told: dict[str, dict[str, tuple[Decimal, int]]]
    """By recipe and kind: the usual hours of an order, and of how many orders."""


def past_of(shop: Shop, order: str = "", *, clock: Clock | None = None) -> Past:
    """The record of a shop; of real work alone, or in a practice copy of practice.

    Args:
        shop: The book.
        order: Whose steps are wanted; "" for none.
        clock: Of this machine where None.
    """

    def read(index: Index) -> Past:
        hand_s, fire_s = _sessions(index)
        learnt = lessons(index, index.practice)
        rows = index.rows([order] if order else []).steps
        return Past(
            steps=tuple(row for row in rows if row.practice == index.practice),
            hand=learnt.hand,
            bench=learnt.bench,
            # What stood idle in a session without a heat is no waiting for heats.
            at_fire=_at_fire(
                sum(hand_s.values()), sum(fire_s[name] for name, s in hand_s.items() if s > 0.0)
            ),
            session_fire_s=fire_s,
            session_hand_s=hand_s,
            burnt=_burnt(shop.state, fire_s),
            made=_made(index),
            told=_told(shop.state),
        )

    return ask_index(shop, read, at=(clock or RealClock()).stamp())


def number(text: str) -> Decimal | None:
    """The number, from nothing up, that a text of the journal begins with: "3.50 h"; or None."""
    try:
        found = Decimal(text.split()[0]) if text.split() else None
    except InvalidOperation:
        return None
    return found if found is not None and found.is_finite() and 0 <= found < MOST else None


def _sessions(index: Index) -> tuple[dict[str, float], dict[str, float]]:
    """Of each session at the fire: time in hand, and all its time but that at the bench."""
    sessions = [session for session in index.floors if session.practice == index.practice]
    hand_s = {session.session: 0.0 for session in sessions}
    bench_s = dict.fromkeys(hand_s, 0.0)
    for order in index.kept_orders.values():
        for spent in order.spent:
            if spent.practice == index.practice and spent.session in hand_s:
                hand_s[spent.session] += spent.hand_s
                bench_s[spent.session] += spent.bench_s
    fire_s = {s.session: max(hand_s[s.session], s.worked_s - bench_s[s.session]) for s in sessions}
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


def _made(index: Index) -> dict[str, tuple[int, int]]:
    made: dict[str, tuple[int, int]] = {}
    for order in index.kept_orders.values():
        for tally in order.tallies:
            if tally.practice == index.practice and tally.worked:
                lost, worked = made.get(tally.recipe, (0, 0))
                made[tally.recipe] = (lost + tally.lost, worked + tally.worked)
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
