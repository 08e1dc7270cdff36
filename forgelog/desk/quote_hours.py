"""Hours of an order by kind: from the recipe's plan, what the journal taught, and what was told."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal

import msgspec

from forgelog.desk.quote_past import FIRE_MIN_A_HEAT, Past
from forgelog.floor.planning.piece_steps import BENCH_S, OTHER_BENCH_S
from forgelog.learn.minutes import LearntTimes
from forgelog.learn.records import HAND_S_A_HEAT
from forgelog.learn.whole_time import RunOfStep, WholeTime, whole_time
from forgelog.money.lines import quantity_of
from forgelog.money.rates import HOURS, OF_STEPS, Rates
from forgelog.recipe.resolved import Component, Recipe, Step, at_the_fire


class KindHours(msgspec.Struct, frozen=True, kw_only=True):
    """Hours of one kind."""

    kind: str
    hours: Decimal | None
    """None where nobody has said."""
    low: Decimal | None = None
    high: Decimal | None = None
    source: str = ""
    in_hand: Decimal = Decimal(0)
    """Of hours at the fire, those with a piece in hand."""


def hours_of(
    recipe: Recipe,
    count: int,
    method: str,
    *,
    past: Past,
    rates: Rates,
    told: Mapping[str, Decimal],
    spares: Mapping[str, int] | None = None,
) -> tuple[KindHours, ...]:
    """Hours of an order, kind by kind, in the order in which the work goes.

    Args:
        recipe: At the order's sizes.
        count: How many sets.
        method: By which it is forged.
        past: The record.
        rates: Whose usual hours stand in where nobody has said.
        told: What the smith said for this order, by kind; it outranks all else.
        spares: Pieces beyond those that the sets want, by component.
    """
    found: list[KindHours] = []
    for kind in HOURS:
        if kind in told:
            in_hand = told[kind] / Decimal(repr(past.at_fire.times)) if kind == "fire" else 0
            hours = KindHours(
                kind=kind,
                hours=quantity_of(told[kind]),
                source="told",
                in_hand=quantity_of(in_hand),
            )
        elif kind in OF_STEPS:
            hours = _of_steps(kind, recipe, count, method, past, spares or {})
        else:
            hours = _of_record(kind, recipe.id, past, rates)
        found.append(hours)
    return tuple(found)


def kind_of(step_kind: str) -> str:
    """The kind of hour that a kind of step takes; "" for a rest."""
    if at_the_fire(step_kind):
        return "fire"
    return {"rest": "", "finish": "finish"}.get(step_kind, "bench")


def planned_heats(step: Step, method: str) -> int:
    """Heats that the recipe plans by a method, or by the one that is nearest to it."""
    for name in (method, {"striker": "hand", "press": "power"}.get(method, ""), "hand"):
        if name in step.heats:
            return max(1, step.heats[name])
    return max([1, *step.heats.values()])


def _of_steps(
    kind: str,
    recipe: Recipe,
    count: int,
    method: str,
    past: Past,
    spares: Mapping[str, int],
) -> KindHours:
    runs = [
        _run(recipe, component, step, component.each * count + spares.get(component.id, 0), method)
        for component in recipe.components
        for step in component.steps
        if kind_of(step.kind) == kind
    ]
    times: LearntTimes = past.hand if kind == "fire" else past.bench
    whole = whole_time(times, runs)
    if kind != "fire":
        return _kind_hours(kind, whole, 1.0, whole.spread, "the recipe's minutes")
    fire = past.at_fire
    spread = math.hypot(whole.spread, fire.spread) if runs else 0.0
    plan = f"the recipe's heats, {fire.times:.1f} min at the fire for each minute in hand"
    if not fire.hand_h:
        plan = f"the recipe's heats at {FIRE_MIN_A_HEAT:g} min (common practice)"
    return _kind_hours(kind, whole, fire.times, spread, plan)


def _kind_hours(kind: str, whole: WholeTime, times: float, spread: float, plan: str) -> KindHours:
    hours = whole.centre_s / 3600 * times
    source = f"{plan}, no record yet"
    if whole.records:
        source = f"{plan}; {whole.known} of {whole.steps} steps learnt from {whole.records} records"
    if whole.first_s:
        source += f"; first pieces add {whole.first_s / 3600 * times:.2f} h"
    return KindHours(
        kind=kind,
        hours=quantity_of(hours),
        low=quantity_of(hours * math.exp(-spread)),
        high=quantity_of(hours * math.exp(spread)),
        source=source if whole.steps else "",
        in_hand=quantity_of(whole.centre_s / 3600) if kind == "fire" else Decimal(0),
    )


def _run(recipe: Recipe, component: Component, step: Step, pieces: int, method: str) -> RunOfStep:
    if at_the_fire(step.kind):
        heats = planned_heats(step, method) if step.heats else 1
        key = (recipe.id, component.id, step.id, method)
        return RunOfStep(step=key, planned_s=HAND_S_A_HEAT * heats, pieces=pieces)
    planned_s = step.minutes_s or BENCH_S.get(step.kind, OTHER_BENCH_S)
    key = (recipe.id, component.id, step.id, "")
    # The minutes of a handful are those of all of it.
    return RunOfStep(
        step=key,
        planned_s=planned_s,
        pieces=1 if component.lot else pieces,
        steady=component.lot,
    )


def _of_record(kind: str, recipe: str, past: Past, rates: Rates) -> KindHours:
    told = past.told.get(recipe, {}).get(kind)
    if told is not None:
        orders = "the last order" if told[1] == 1 else f"{told[1]} orders"
        source = f"told of {orders} of this recipe"
        return KindHours(kind=kind, hours=quantity_of(told[0]), source=source)
    usual = rates.hours.get(kind)
    source = f"shop.toml [quote] {kind.replace('-', '_')}" if usual is not None else ""
    return KindHours(kind=kind, hours=usual, source=source)
