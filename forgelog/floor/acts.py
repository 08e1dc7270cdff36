"""What the smith does, as facts: one function an act, worked out for the moment it happens.

The keys, the lists and the questions all come here, so an act means the same wherever it is
chosen.
"""

from __future__ import annotations

from forgelog.floor.advice import room
from forgelog.floor.blocks import behind
from forgelog.floor.planning.from_state import jig_standing
from forgelog.floor.planning.piece_steps import jig_of
from forgelog.floor.rest_acts import Facts, rest_begun, rest_over, rests_after
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import (
    START_DEGC,
    heat_of,
    hot_from_fire,
    hot_laid_down,
    section_of,
    stop_of,
    whole_heat_s,
)
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.work.apply import happened
from forgelog.work.changes import replace
from forgelog.work.facts import (
    AnyFact,
    Assembled,
    BenchBegun,
    Gauged,
    HeatOver,
    Hot,
    LaidAside,
    PutInFire,
    RestEnded,
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
    step_of,
    steps_of,
)
from forgelog.work.state import FIRE, HAND, State, Workpiece

TOO_SHORT_S = 3.0
"""A stretch at the anvil that ends sooner, with nothing done, is noted and not counted."""
UNPRESSED_S = 180.0
"""In hand for longer than this and three heats' time: there were heats that nobody pressed."""


def put_in(state: State, piece: Workpiece, now: Moment) -> Facts:
    """Into the fire, ending the rest; a rest that was never begun is written down as skipped."""
    return (*rest_over(state, piece, now), PutInFire(workpiece=piece.id))


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
    hot = hot_of(state, piece, now)
    if to == "fire":
        return (HeatOver(workpiece=piece.id, to="fire", hot=hot, counted=counted),)
    return (LaidAside(workpiece=piece.id, hot=hot, counted=counted),)


def hot_of(state: State, piece: Workpiece, now: Moment) -> Hot | None:
    """How hot a piece leaves the hand or the fire; None where it lies already.

    From the fire it is taken to be at its heat. Where it must have been heated without a key it
    is taken to be as hot as where work has to stop.
    """
    step = step_of(state, piece)
    if piece.place == FIRE:
        degc = heat_of(step) if step is not None else START_DEGC
        return Hot(degc=degc, section=section_of(state, piece))
    if piece.place != HAND:
        return None
    hot = hot_laid_down(state, piece, now)
    if step is not None and _unpressed(state, piece, step, now):
        return replace(hot, degc=max(hot.degc, stop_of(step)))  # type: ignore[no-any-return]
    return hot


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
    # It would burn while its jig is set up.
    if jig_of(step) not in (None, jig_standing(state)):
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
    hot = hot_of(state, piece, now)
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
