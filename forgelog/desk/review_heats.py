"""What a review tells of heats and minutes: planned, taken, most often next; and what to ask."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.learnt import ENOUGH_RECORDS, latest_recipes, shown_heats
from forgelog.desk.review_facts import (
    AskHeats,
    BenchTold,
    NextHeats,
    NextTime,
    StepTold,
    UnusualTold,
)
from forgelog.desk.review_read import Folded
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import minutes, piece_words, step_words
from forgelog.learn.heats import LearntSteps, StepKey, learn_heats
from forgelog.learn.minutes import LearntTimes, SteadyTime, learn_times
from forgelog.learn.records import (
    HAND_S_A_HEAT,
    DoneStep,
    bench_times,
    done_steps,
    hand_times,
    heat_records,
    heats_to_tell,
)
from forgelog.learn.unusual import judge_piece
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import FORGING_KINDS, METHODS, Component, Recipe, Step
from forgelog.work.state import State

MORE = "more"
"""The choice that asks again with larger numbers."""


def tell_steps(folded: Folded, scope: Scope) -> tuple[StepTold, ...]:
    """Heats of every forging step of the recipes that were worked from, in the recipe's order."""
    done = done_steps(folded.state, practice=folded.practice)
    learnt = learn_heats(heat_records(done))
    times = learn_times(hand_times(done))
    by_key: dict[StepKey, list[DoneStep]] = {}
    for one in done:
        if one.forged and scope.takes(one.recipe, one.record.session):
            by_key.setdefault(one.key, []).append(one)
    told: list[StepTold] = []
    worked = {key[0] for key in by_key}
    for recipe in latest_recipes(folded.state).values():
        if recipe.id not in worked:
            continue
        for component, step in _steps(recipe):
            if step.kind not in FORGING_KINDS:
                continue
            made = [m for m in METHODS if (recipe.id, component.id, step.id, m) in by_key]
            planned = [m for m in METHODS if m in step.heats]
            for method in made or ([] if scope.session else planned[:1]):
                key = (recipe.id, component.id, step.id, method)
                told.append(_step(by_key.pop(key, []), key, component, step, learnt, times, scope))
    for key, left in by_key.items():
        told.append(_step(left, key, None, left[-1].step, learnt, times, scope))
    return tuple(told)


def _steps(recipe: Recipe) -> Iterator[tuple[Component, Step]]:
    return ((c, s) for c in recipe.components for s in c.steps)


def _step(
    done: list[DoneStep],
    key: StepKey,
    component: Component | None,
    step: Step | None,
    learnt: LearntSteps,
    times: LearntTimes,
    scope: Scope,
) -> StepTold:
    planned = step.heats.get(key[3]) if step else None
    heats = shown_heats(learnt, key, planned) if planned else None
    in_hand = times.ask(key, HAND_S_A_HEAT * planned) if planned else None
    sound = [d for d in done if not d.record.scrapped]
    return StepTold(
        recipe=key[0],
        component=key[1],
        component_name=harmless(component.name if component else key[1]),
        step=key[2],
        do=step_words(step, key[2], scope.units),
        method=key[3],
        planned_heats=planned,
        taken_heats=tuple(d.record.heats or None for d in sound),
        shared=sum(d.record.shared for d in sound),
        corrected=sum(d.record.corrected for d in sound),
        spoilt=len(done) - len(sound),
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


def _next_time(time: SteadyTime | None) -> NextTime | None:
    if time is None or time.records < ENOUGH_RECORDS:
        return None
    return NextTime(
        steady_min=minutes(time.centre_s),
        low_min=minutes(time.low_s),
        high_min=minutes(time.high_s),
        records=time.records,
    )


def tell_bench(folded: Folded, scope: Scope) -> tuple[BenchTold, ...]:
    """Minutes of every cold step that was done and that the recipe plans minutes for."""
    done = done_steps(folded.state, practice=folded.practice)
    times = learn_times(bench_times(done))
    by_place: dict[tuple[str, str, str], list[DoneStep]] = {}
    for one in done:
        if not one.forged and one.record.work_s and scope.takes(one.recipe, one.record.session):
            by_place.setdefault(one.key[:3], []).append(one)
    told: list[BenchTold] = []
    for recipe in latest_recipes(folded.state).values():
        for component, step in _steps(recipe):
            place = (recipe.id, component.id, step.id)
            if place not in by_place or not step.minutes_s:
                continue
            told.append(
                BenchTold(
                    recipe=recipe.id,
                    component=component.id,
                    component_name=harmless(component.name),
                    step=step.id,
                    do=step_words(step, step.id, scope.units),
                    planned_min=minutes(step.minutes_s),
                    taken_min=tuple(
                        minutes(d.record.work_s) for d in by_place[place] if not d.record.scrapped
                    ),
                    next=_next_time(times.ask((*place, ""), step.minutes_s)),
                )
            )
    return tuple(told)


def tell_unusual(folded: Folded, scope: Scope) -> tuple[UnusualTold, ...]:
    """Pieces of the shown session that took unusually many or few heats for this smith."""
    earlier: dict[StepKey, list[int]] = {}
    told: list[UnusualTold] = []
    done = done_steps(folded.state, practice=folded.practice)
    known = {(r.workpiece, r.step): r.taken for r in heat_records(done)}
    for one in done:
        taken = known.get((one.piece.id, one.key))
        if taken is None or one.again:
            continue
        before = earlier.setdefault(one.key, [])
        judged = judge_piece(taken, before)
        before.append(taken)
        if judged is None or not judged.flagged or one.record.session != folded.shown:
            continue
        if scope.takes(one.recipe, one.record.session):
            told.append(
                UnusualTold(
                    recipe=one.recipe,
                    workpiece=one.piece.id,
                    piece=piece_words(folded.state, one.piece),
                    step=one.record.step,
                    do=step_words(one.step, one.record.step, scope.units),
                    method=one.record.method,
                    taken_heats=taken,
                    usual_heats=round(judged.usual, 1),
                )
            )
    return tuple(told)


def ask_heats(state: State, scope: Scope, *, practice: bool = False) -> tuple[AskHeats, ...]:
    """Heats that nobody pressed, on orders that are open, the latest first."""
    return tuple(
        AskHeats(
            recipe=one.recipe,
            workpiece=one.piece.id,
            step=one.record.step,
            words=f"{piece_words(state, one.piece)}, "
            f"{step_words(one.step, one.record.step, scope.units)}",
            choices=more_heats(0),
        )
        for one in reversed(heats_to_tell(done_steps(state, practice=practice)))
        if state.orders[one.piece.order].closed is None
        and scope.takes(one.recipe, one.record.session)
    )


def more_heats(above: int) -> tuple[str, ...]:
    """The choices above a number of heats: "5", "6", "7", "8", "more" above 4."""
    return (*(str(above + more) for more in range(1, 5)), MORE)
