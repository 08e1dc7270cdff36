"""What the smith does, as facts: one function an act, worked out for the moment it happens.

The keys, the lists and the questions all come here, so an act means the same wherever it is
chosen.
"""

from __future__ import annotations

from forgelog.floor.advice import room
from forgelog.floor.blocks import behind
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import (
    STOP_DEGC,
    heat_of,
    hot_from_fire,
    hot_laid_down,
    needed_s,
    section_of,
    whole_heat_s,
)
from forgelog.recipe.resolved import HEAT_KINDS, RestGoal, Step
from forgelog.trade.rests import cycle_counts, rest_verdict, spread
from forgelog.trade.sections import Section
from forgelog.trade.steels import find_grade, through_degc
from forgelog.work.apply import happened
from forgelog.work.facts import (
    AnyFact,
    Assembled,
    BenchBegun,
    FireWentOut,
    Gauged,
    HeatOver,
    Hot,
    LaidAside,
    PutInFire,
    RestEnded,
    RestSkipped,
    RestStarted,
    StepFinished,
    StepReopened,
    TakenAnyway,
    TakenOut,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    component_of,
    in_fire,
    parts_for,
    recipe_of,
    step_of,
    steps_of,
)
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, State, Workpiece

TOO_SHORT_S = 3.0
"""A stretch at the anvil that ends sooner, with nothing done, is noted and not counted."""
UNPRESSED_S = 180.0
"""In hand for longer than this and three heats' time: there were heats that nobody pressed."""

Facts = tuple[AnyFact, ...]


def rest_over(state: State, piece: Workpiece, now: Moment) -> Facts:
    """The rest that runs ends now, with its verdict; nothing when the piece does not rest."""
    rest = piece.rest
    if piece.place != RESTING or rest is None:
        return ()
    rested_s = max(0.0, now.rest_s - rest.started_s)
    section = rest.section or section_of(state, piece)
    verdict = rest_verdict(
        section,
        rest.start_degc if rest.start_degc is not None else STOP_DEGC,
        rested_s=rested_s,
        required_degc=rest.degc if rest.seconds is None else None,
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
    return RestStarted(
        workpiece=piece.id,
        step=step.id,
        until=goal.until,
        degc=goal.degc,
        seconds=goal.seconds,
        medium=goal.medium,
        section=section,
        start_degc=round(start_degc, 1),
        needed_s=round(need_s, 1),
        low_s=round(need_s if timed else need_s / factor, 1),
        high_s=round(need_s if timed else need_s * factor, 1),
        then_s=tuple(then),
        skipping=goal.skipping,
        cycle=step.cycle,
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


def put_in(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Into the fire, ending the rest; a rest that was never begun is written down as skipped."""
    return (*rest_over(state, piece, now), PutInFire(workpiece=piece.id))


def skip_rest(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Take up a piece that stands at its rest without resting it at all."""
    step = step_of(state, piece)
    if step is None or step.kind != "rest" or step.rest is None:
        return ()
    return (
        RestSkipped(
            workpiece=piece.id,
            step=step.id,
            until=step.rest.until,
            skipping=step.rest.skipping,
        ),
    )


def lay_to_rest(state: State, piece: Workpiece, now: Moment) -> Facts:
    """A piece that lies at its rest step is laid to rest properly."""
    step = step_of(state, piece)
    if step is None or step.rest is None:
        return ()
    hot = hot_laid_down(state, piece, now)
    later = rests_after(steps_of(state, piece), piece.step)
    return (rest_begun(state, piece, step, hot.degc, later=later),)


def take_out(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Out of the fire: to the hand, to cool, or into the quench, as the step wants."""
    step = step_of(state, piece)
    assert step is not None
    if step.kind == "harden":
        return (
            TakenOut(
                workpiece=piece.id,
                hot=Hot(degc=heat_of(step), section=section_of(state, piece, step)),
                in_fire=len(in_fire(state)),
                quench=step.quench or "oil",
            ),
        )
    if step.kind in HEAT_KINDS:
        return out_to_cool(state, piece, step)
    return (
        TakenOut(
            workpiece=piece.id,
            hot=hot_from_fire(state, piece, step),
            in_fire=len(in_fire(state)),
        ),
    )


def out_to_cool(state: State, piece: Workpiece, step: Step) -> Facts:
    """Normalise, anneal, temper: heat and rest in one press."""
    heat = heat_of(step)
    if step.rest is None:
        hot = Hot(degc=heat, section=section_of(state, piece, step))
        return (
            StepFinished(
                workpiece=piece.id, step=step.id, to="aside", hot=hot, method=state.method
            ),
        )
    later = rests_after(steps_of(state, piece), piece.step)
    return (rest_begun(state, piece, step, heat, later=later, from_fire=True),)


def heat_over(state: State, piece: Workpiece, now: Moment, *, to: str = "fire") -> Facts:
    """The heat is over with the step not done."""
    held = piece.open
    counted = held is None or now.work_s - held.stretch_work_s >= TOO_SHORT_S
    hot = hot_laid_down(state, piece, now)
    if to == "fire":
        return (HeatOver(workpiece=piece.id, to="fire", hot=hot, counted=counted),)
    return (LaidAside(workpiece=piece.id, hot=hot, counted=counted),)


def where_to(state: State, piece: Workpiece, settings: FloorSettings) -> str:
    """Where a piece in hand goes when its step is done.

    Returns:
        rest, hand (go on in the same heat), fire, done (last step) or aside.
    """
    steps = steps_of(state, piece)
    index = piece.step + 1
    if index >= len(steps):
        return "done"
    step = steps[index]
    if step.kind == "rest" and step.rest is not None:
        return "rest"
    if step.follows and step.kind in ("forge", "gauge"):
        return "hand"
    if step.kind != "forge" or not state.fire.lit:
        return "aside"
    if behind(state, piece, index):
        return "aside"
    # Its own place in the fire is free: a piece in hand keeps it.
    return "fire" if room(state) >= 0 and len(in_fire(state)) < state.fire.places else "aside"


def finish(
    state: State,
    piece: Workpiece,
    now: Moment,
    settings: FloorSettings,
    *,
    heats_unknown: bool = False,
) -> Facts:
    """The step is done, and the piece goes where the key said."""
    step = step_of(state, piece)
    assert step is not None
    to = where_to(state, piece, settings) if piece.place == HAND else _from_cold(state, piece)
    hot = hot_laid_down(state, piece, now) if piece.place == HAND else None
    if piece.place == HAND and piece.open is not None and step.kind == "harden":
        hot = Hot(degc=65.0, section=section_of(state, piece, step))
    unknown = heats_unknown or (piece.place == HAND and _unpressed(state, piece, step, now))
    at = "aside" if to in ("rest", "done") else to
    facts: list[AnyFact] = [
        StepFinished(
            workpiece=piece.id,
            step=step.id,
            to=at,
            hot=hot,
            method=state.method,
            heats_unknown=unknown and step.kind == "forge",
        )
    ]
    if to == "rest":
        steps = steps_of(state, piece)
        following = steps[piece.step + 1]
        start = hot.degc if hot else hot_laid_down(state, piece, now).degc
        later = rests_after(steps, piece.step + 1)
        facts.append(rest_begun(state, piece, following, start, later=later))
    return tuple(facts)


def _from_cold(state: State, piece: Workpiece) -> str:
    steps = steps_of(state, piece)
    index = piece.step + 1
    if index < len(steps) and steps[index].kind == "rest" and steps[index].rest is not None:
        return "rest"
    return "aside"


def _unpressed(state: State, piece: Workpiece, step: Step, now: Moment) -> bool:
    """In hand for so long that the piece must have been reheated without a key."""
    held = piece.open
    if held is None or step.kind != "forge":
        return False
    stretch_s = now.work_s - held.since_work_s
    if stretch_s <= UNPRESSED_S:
        return False
    return stretch_s > 3 * whole_heat_s(state, piece, step)


def begin_cold(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Cold work begins (ends the rest); an assembly takes up its parts."""
    ended = rest_over(state, piece, now)
    piece = happened(state, ended).pieces[piece.id]
    step = step_of(state, piece)
    assert step is not None
    facts: list[AnyFact] = [*ended]
    if component_of(state, piece).needs and not piece.parts and piece.step == 0:
        parts, _ = parts_for(state, piece)
        facts.append(Assembled(workpiece=piece.id, parts=parts))
    facts.append(BenchBegun(workpiece=piece.id, step=step.id))
    return tuple(facts)


def fits(
    state: State, piece: Workpiece, now: Moment, settings: FloorSettings, *, mm: float | None = None
) -> Facts:
    """The gauge fits: the gauge step is done."""
    ended = rest_over(state, piece, now)
    state = happened(state, ended)
    piece = state.pieces[piece.id]
    step = step_of(state, piece)
    assert step is not None
    what = step.gauges[0].what if step.gauges else step.do
    gauged = Gauged(workpiece=piece.id, step=step.id, what=what, fits=True, mm=mm)
    return (*ended, gauged, *finish(state, piece, now, settings))


def does_not_fit(state: State, piece: Workpiece, now: Moment) -> Facts:
    """The gauge does not fit: the last step that shapes the piece is open again."""
    ended = rest_over(state, piece, now)
    state = happened(state, ended)
    piece = state.pieces[piece.id]
    step = step_of(state, piece)
    assert step is not None
    what = step.gauges[0].what if step.gauges else step.do
    back = shaping_before(state, piece, step)
    facts: list[AnyFact] = [
        *ended,
        Gauged(workpiece=piece.id, step=step.id, what=what, fits=False),
    ]
    if back is not None:
        facts.append(StepReopened(workpiece=piece.id, step=back.id, why="did not fit"))
    return tuple(facts)


def shaping_before(state: State, piece: Workpiece, step: Step) -> Step | None:
    """The nearest step before this one in which something is done to the piece."""
    steps = steps_of(state, piece)
    index = next(i for i, s in enumerate(steps) if s.id == step.id)
    for before in reversed(steps[:index]):
        if before.kind not in ("rest", "gauge"):
            return before
    return None


def anyway(piece: Workpiece, kind: str, facts: Facts) -> Facts:
    """The smith was told why not, and does it: both are written down."""
    ended = tuple(f for f in facts if isinstance(f, RestEnded))
    rest = tuple(f for f in facts if not isinstance(f, RestEnded))
    return (*ended, TakenAnyway(workpiece=piece.id, reason=kind), *rest)


def fire_out(state: State, now: Moment) -> Facts:
    """The fire is out; what was in it cools there."""
    hot = {}
    for piece in in_fire(state):
        step = step_of(state, piece)
        degc = heat_of(step) if step else 900.0
        hot[piece.id] = Hot(degc=degc, section=section_of(state, piece), medium="bed")
    return (FireWentOut(hot=hot),)


def clear_away(state: State, now: Moment, where: str) -> Facts:
    """Everything in hand, in the fire and on the bench is laid aside, with a word where."""
    facts: list[AnyFact] = []
    for piece in state.pieces.values():
        if piece.place == HAND:
            facts.append(
                LaidAside(
                    workpiece=piece.id,
                    where=where,
                    hot=hot_laid_down(state, piece, now),
                    counted=_long_enough(piece, now),
                )
            )
        elif piece.place == FIRE:
            step = step_of(state, piece)
            degc = heat_of(step) if step else 900.0
            hot = Hot(degc=degc, section=section_of(state, piece))
            facts.append(LaidAside(workpiece=piece.id, where=where, hot=hot))
        elif piece.place == BENCH:
            facts.append(LaidAside(workpiece=piece.id, where=where))
    return tuple(facts)


def _long_enough(piece: Workpiece, now: Moment) -> bool:
    return piece.open is None or now.work_s - piece.open.stretch_work_s >= TOO_SHORT_S


def goal_words(goal: RestGoal) -> str:
    """Where the rest goes to: "to black", "10 min", "to 400 degC in ash"."""
    words = goal.until if goal.seconds is not None else f"to {goal.until}"
    return words if goal.medium_words == "still air" else f"{words} in {goal.medium_words}"


def recipe_name(state: State, piece: Workpiece) -> str:
    """Name of the recipe that the piece follows."""
    return recipe_of(state, piece).name
