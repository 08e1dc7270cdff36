"""Rests as facts: laid down with the predicted time, ended with a verdict, skipped."""

from __future__ import annotations

from forgelog.floor.sums import (
    STOP_DEGC,
    hot_laid_down,
    needed_s,
    section_of,
    within_reach,
)
from forgelog.recipe.resolved import RestGoal, Step
from forgelog.trade.rests import cycle_counts, rest_verdict, spread
from forgelog.trade.sections import Section
from forgelog.trade.steels import find_grade, through_degc
from forgelog.work.facts import (
    AnyFact,
    RestEnded,
    RestSkipped,
    RestStarted,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    recipe_of,
    step_of,
    steps_of,
)
from forgelog.work.state import RESTING, State, Workpiece

Facts = tuple[AnyFact, ...]


def rest_over(state: State, piece: Workpiece, now: Moment) -> Facts:
    """The rest that runs ends now, with its verdict; nothing when the piece does not rest."""
    rest = piece.rest
    if piece.place != RESTING or rest is None:
        return ()
    rested_s = max(0.0, now.rest_s - rest.started_s)
    section = rest.section or section_of(state, piece)
    required_degc = None
    if rest.seconds is None and rest.degc is not None:
        required_degc = within_reach(rest.degc, state.air_degc)
    verdict = rest_verdict(
        section,
        rest.start_degc if rest.start_degc is not None else STOP_DEGC,
        rested_s=rested_s,
        required_degc=required_degc,
        required_s=rest.seconds,
        medium=rest.medium,
        air_degc=state.air_degc,
    )
    return (
        RestEnded(
            workpiece=piece.id,
            step=rest.step,
            rested_s=round(rested_s, 1),
            verdict=verdict.word,
            degc_at_end=round(verdict.degc_at_end, 1) if verdict.degc_at_end is not None else None,
            counts=_cycle_kept(state, piece, section, rested_s) if rest.cycle else None,
        ),
    )


def _cycle_kept(state: State, piece: Workpiece, section: Section, rested_s: float) -> bool | None:
    """Whether a normalising cycle counts: yes, no, or None where it is unsure."""
    rest = piece.rest
    assert rest is not None
    name = recipe_of(state, piece).steel
    steel = find_grade(name)
    verdict = cycle_counts(
        section,
        reached_degc=rest.start_degc if rest.start_degc is not None else 0.0,
        ac3_degc=through_degc(name),
        rested_s=rested_s,
        medium=rest.medium,
        air_degc=state.air_degc,
        air_hardening=steel.air_hardening if steel is not None else False,
    )
    return {"ok": True, "unsure": None}.get(verdict.word, False)


def rest_begun(
    state: State,
    piece: Workpiece,
    step: Step,
    start_degc: float,
    *,
    later: tuple[Step, ...] = (),
    from_fire: bool = False,
) -> RestStarted:
    """The piece is laid to rest for `step`; `later` are the rests that follow by themselves."""
    goal = step.rest
    assert goal is not None
    section = section_of(state, piece, step)
    then: list[float] = []
    at_degc = goal.degc if goal.degc is not None else start_degc
    for rest in later:
        if rest.rest is None:
            break
        then.append(round(needed_s(section, at_degc, rest.rest, state.air_degc), 1))
        at_degc = rest.rest.degc if rest.rest.degc is not None else at_degc
    need_s = needed_s(section, start_degc, goal, state.air_degc)
    factor = spread(goal.degc if goal.degc is not None else start_degc, goal.medium)
    timed = goal.seconds is not None
    # Where skipping matters the smith is told to wait to the slow end of the band: whoever heeds
    # the screen has then kept the rest for certain, and not only perhaps.
    sure = goal.skipping == "matters" and not timed
    return RestStarted(
        workpiece=piece.id,
        step=step.id,
        until=goal.until,
        degc=goal.degc,
        seconds=goal.seconds,
        medium=goal.medium,
        section=section,
        start_degc=round(start_degc, 1),
        needed_s=round(need_s * factor if sure else need_s, 1),
        low_s=round(need_s if timed else need_s / factor, 1),
        high_s=round(need_s if timed else need_s * factor, 1),
        then_s=tuple(then),
        skipping=goal.skipping,
        cycle=step.cycle or (1 if step.kind == "normalise" else 0),
        from_fire=from_fire,
    )


def rests_after(steps: tuple[Step, ...], index: int) -> tuple[Step, ...]:
    """The run of plain rests right after step `index`."""
    found = []
    for step in steps[index + 1 :]:
        if step.kind != "rest":
            break
        found.append(step)
    return tuple(found)


def skip_rest(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Take up a piece that stands at its rest without resting it at all."""
    step = step_of(state, piece)
    if step is None or step.kind != "rest" or step.rest is None:
        return ()
    return (
        *rest_over(state, piece, now),
        RestSkipped(
            workpiece=piece.id,
            step=step.id,
            until=step.rest.until,
            skipping=step.rest.skipping,
        ),
    )


def lay_to_rest(state: State, piece: Workpiece, now: Moment) -> Facts:
    """A piece that lies at its rest step, or was let rest before it, is laid to rest properly."""
    step = step_of(state, piece)
    if step is None or step.rest is None:
        return ()
    hot = hot_laid_down(state, piece, now)
    later = rests_after(steps_of(state, piece), piece.step)
    begun = rest_begun(state, piece, step, hot.degc, later=later)
    return (*rest_over(state, piece, now), begun)


def goal_words(goal: RestGoal) -> str:
    """Where the rest goes to: "to black", "10 min", "to 400 degC in ash"."""
    words = goal.until if goal.seconds is not None else f"to {goal.until}"
    return words if goal.medium_words == "still air" else f"{words} in {goal.medium_words}"
