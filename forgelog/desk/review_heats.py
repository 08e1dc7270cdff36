"""What a review tells of heats and minutes: planned, taken, most often next; and what to ask."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from forgelog.desk.learnt import ENOUGH_RECORDS, shown_heats
from forgelog.desk.review_facts import (
    AskHeats,
    BenchTold,
    NextHeats,
    NextTime,
    StepTold,
    UnusualTold,
)
from forgelog.desk.review_read import Past
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_sums import Done, Sums
from forgelog.desk.review_words import minutes, row_piece, row_step, step_words
from forgelog.learn.heats import HeatRecord, LearntSteps, StepKey
from forgelog.learn.minutes import STEADY_RUN, LearntTimes, RunTime
from forgelog.learn.records import HAND_S_A_HEAT, heat_records, heats_to_tell
from forgelog.learn.rows import OrderRow, StepRow
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import FORGING_KINDS, METHODS, Component, Recipe, Step

MORE = "more"
"""The choice that asks again with larger numbers."""


def tell_steps(
    past: Past, sums: Sums, scope: Scope, learnt: LearntSteps, times: LearntTimes | None
) -> tuple[StepTold, ...]:
    """Heats of every forging step of the recipes that were worked from, in the recipe's order.

    Args:
        past: Its recipes.
        sums: What was done of what is told of.
        scope: How much is told.
        learnt: Heats, of all sessions.
        times: Time in hand, of all sessions; None leaves it out.
    """
    by_key = {done.key: done for done in sums.steps if done.newest.forged}
    told: list[StepTold] = []
    worked = {key[0] for key in by_key}
    for recipe in past.recipes.values():
        if recipe.id not in worked:
            continue
        for component, step in _steps(recipe):
            if step.kind not in FORGING_KINDS:
                continue
            made = [m for m in METHODS if (recipe.id, component.id, step.id, m) in by_key]
            planned = [m for m in METHODS if m in step.heats]
            for method in made or ([] if scope.session else planned[:1]):
                key = (recipe.id, component.id, step.id, method)
                do = step_words(step, step.id, scope.units)
                plan = step.heats.get(method)
                left = by_key.pop(key, None)
                told.append(_step(left, key, component.name, do, plan, learnt, times))
    for key, left in by_key.items():
        do, plan = row_step(left.newest, scope.units), left.newest.planned_now
        told.append(_step(left, key, key[1], do, plan, learnt, times))
    return tuple(told)


def _steps(recipe: Recipe) -> Iterator[tuple[Component, Step]]:
    return ((c, s) for c in recipe.components for s in c.steps)


def _step(
    done: Done | None,
    key: StepKey,
    component_name: str,
    do: str,
    planned: int | None,
    learnt: LearntSteps,
    times: LearntTimes | None,
) -> StepTold:
    heats = shown_heats(learnt, key, planned) if planned else None
    in_hand: RunTime | None = None
    if planned and times is not None:
        in_hand = times.run(key, HAND_S_A_HEAT * planned, STEADY_RUN, 1)
    return StepTold(
        recipe=key[0],
        component=key[1],
        component_name=harmless(component_name),
        step=key[2],
        do=do,
        method=key[3],
        planned_heats=planned,
        taken_heats=tuple(heats or None for _, heats, _ in done.taken) if done else (),
        shared=done.shared if done else 0,
        corrected=done.corrected if done else 0,
        spoilt=done.spoilt if done else 0,
        next=None
        if heats is None
        else NextHeats(
            heats=heats.heats,
            low_heats=heats.low,
            high_heats=heats.high,
            records=heats.records,
        ),
        in_hand=_next_time(in_hand),
    )


def _next_time(time: RunTime | None) -> NextTime | None:
    if time is None or time.records < ENOUGH_RECORDS:
        return None
    return NextTime(
        steady_min=minutes(time.centre_s),
        low_min=minutes(time.low_s),
        high_min=minutes(time.high_s),
        records=time.records,
    )


def tell_bench(past: Past, sums: Sums, scope: Scope, times: LearntTimes) -> tuple[BenchTold, ...]:
    """Minutes of every cold step that was done and that the recipe plans minutes for.

    Args:
        past: Its recipes.
        sums: What was done of what is told of.
        scope: How much is told.
        times: Of all sessions.
    """
    by_place: dict[tuple[str, str, str], list[Done]] = {}
    for done in sums.steps:
        if not done.newest.forged and done.worked:
            by_place.setdefault(done.key[:3], []).append(done)
    told: list[BenchTold] = []
    for recipe in past.recipes.values():
        for component, step in _steps(recipe):
            place = (recipe.id, component.id, step.id)
            if place not in by_place or not step.minutes_s:
                continue
            taken = sorted(one for done in by_place[place] for one in _timed(done))
            told.append(
                BenchTold(
                    recipe=recipe.id,
                    component=component.id,
                    component_name=harmless(component.name),
                    step=step.id,
                    do=step_words(step, step.id, scope.units),
                    planned_min=minutes(step.minutes_s),
                    taken_min=tuple(minutes(work_s) for _, work_s in taken),
                    next=_next_time(times.run((*place, ""), step.minutes_s, STEADY_RUN, 1)),
                )
            )
    return tuple(told)


def _timed(done: Done) -> Iterator[tuple[float, float]]:
    return ((ended_s, work_s) for ended_s, _, work_s in done.taken if work_s)


def tell_unusual(
    past: Past, beside: Iterable[StepRow], learnt: LearntSteps, scope: Scope
) -> tuple[UnusualTold, ...]:
    """Pieces of the shown session that took unusually many or few heats for this smith.

    Args:
        past: Its shown session.
        beside: What was done in that session, and before it of the same steps, oldest first.
        learnt: Without what the session itself adds: that must not widen what it is judged by.
        scope: How much is told.
    """
    earlier: dict[StepKey, list[HeatRecord]] = {}
    told: list[UnusualTold] = []
    rows = tuple(beside)
    known = {(r.workpiece, r.step): r for r in heat_records(rows)}
    for one in rows:
        record = known.get((one.workpiece, one.key))
        if record is None or one.again:
            continue
        before = earlier.setdefault(one.key, [])
        takes = one.session == past.shown and scope.takes(one.recipe, one.session)
        judged = learnt.judge(record, before) if takes else None
        before.append(record)
        if judged is None or not judged.flagged:
            continue
        told.append(
            UnusualTold(
                recipe=one.recipe,
                workpiece=one.workpiece,
                piece=row_piece(one, past.orders),
                step=one.step,
                do=row_step(one, scope.units),
                method=one.method,
                taken_heats=record.taken,
                usual_heats=round(judged.usual, 1),
            )
        )
    return tuple(told)


def ask_heats(
    steps: Iterable[StepRow], orders: Mapping[str, OrderRow], scope: Scope
) -> tuple[AskHeats, ...]:
    """Heats that nobody pressed, on orders that are open, the latest first.

    Args:
        steps: Oldest first.
        orders: The orders that they are of, by id.
        scope: What is asked about.
    """
    return tuple(
        AskHeats(
            recipe=one.recipe,
            workpiece=one.workpiece,
            step=one.step,
            words=f"{row_piece(one, orders)}, {row_step(one, scope.units)}",
            choices=more_heats(0),
        )
        for one in reversed(heats_to_tell(steps))
        if orders[one.order].closed is None and scope.takes(one.recipe, one.session)
    )


def more_heats(above: int) -> tuple[str, ...]:
    """The choices above a number of heats: "5", "6", "7", "8", "more" above 4."""
    return (*(str(above + more) for more in range(1, 5)), MORE)
