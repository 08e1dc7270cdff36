"""Facts that put the record right: a step reopened, the other piece held, heats that were more."""

from __future__ import annotations

from forgelog.recipe.resolved import HEAT_KINDS
from forgelog.work.changes import (
    CannotBe,
    at_step,
    moved,
    piece_at,
    put,
    replace,
    step_named,
    with_mishap,
)
from forgelog.work.cooling_marks import degc_of
from forgelog.work.facts import HeatEndedEarlier, HeatsCorrected, StepReopened, Swapped
from forgelog.work.heats import heat_closed
from forgelog.work.queries import steps_of
from forgelog.work.state import FIRE, FITTED, HAND, SCRAPPED, WAITING, State, Workpiece


def step_reopened(state: State, fact: StepReopened) -> State:
    """Back to a step that was taken for done; its heats go on counting where they stood."""
    piece = piece_at(state, fact.workpiece)
    if piece.place in (SCRAPPED, FITTED):
        raise CannotBe(f"{piece.id} is {piece.place}")
    index = step_named(state, piece, fact.step)
    if index > piece.step:
        raise CannotBe(f"{piece.id} has not come to {fact.step} yet")
    piece = with_mishap(state, piece, "again", fact.why, step=fact.step)
    if piece.place == HAND and piece.open is not None and index < piece.step:
        return put(state, _back_in_hand(state, piece, index, fact))
    if piece.place == HAND:
        piece = heat_closed(state, piece, counted=True)
    if index == piece.step and piece.place != "finished":
        return put(state, moved(state, piece, WAITING, running=False, reopened=True))
    before = next((r for r in reversed(piece.done) if r.step == fact.step), None)
    names = {s.id for s in steps_of(state, piece)[index:]}
    back = at_step(piece, index)
    step = steps_of(state, piece)[index]
    stays = piece.place == FIRE and (step.kind == "forge" or step.kind in HEAT_KINDS)
    back = moved(
        state,
        back,
        FIRE if stays else WAITING,
        running=False,
        rest=None,
        reopened=True,
        done=tuple(r for r in piece.done if r.step not in names),
        troubles=(*piece.troubles, *((f"again: {fact.why}",) if fact.why else ())),
    )
    if before is not None:
        back = replace(
            back,
            heats=before.heats or 0,
            pressed=before.heats is not None,
            work_s=before.work_s,
            fire_s=before.fire_s,
            started_s=before.started_s,
            in_fire=before.in_fire,
        )
    return put(state, replace(back, since_s=piece.since_s) if stays else back)


def _back_in_hand(state: State, piece: Workpiece, index: int, fact: StepReopened) -> Workpiece:
    """Gauged in the same heat and does not fit: the heat goes on with the step before."""
    before = next((r for r in reversed(piece.done) if r.step == fact.step), None)
    names = {s.id for s in steps_of(state, piece)[index:]}
    back = replace(
        at_step(piece, index),
        reopened=True,
        pressed=True,
        done=tuple(r for r in piece.done if r.step not in names),
    )
    if before is not None:
        # The heat that is still under way was counted when the step was taken for done.
        back = replace(
            back,
            heats=max(0, (before.heats or 0) - 1),
            work_s=before.work_s,
            fire_s=before.fire_s,
            started_s=before.started_s,
            in_fire=before.in_fire,
        )
    held = replace(piece.open, steps=0, stretch_work_s=state.moment.work_s)
    return replace(back, open=held)  # type: ignore[no-any-return]


def swapped(state: State, fact: Swapped) -> State:
    """The smith held the other piece: both change places, with the heat that is under way."""
    a = piece_at(state, fact.workpiece, HAND)
    b = piece_at(state, fact.other, WAITING, FIRE)
    if a.open is not None and a.open.steps:
        raise CannotBe("a step was finished in this heat: undo that first")
    held = a.open
    a2 = replace(
        a,
        place=b.place,
        since_s=b.since_s,
        open=None,
        where=b.where,
        fire_s=max(0.0, a.fire_s - (held.fire_s if held else 0.0)),
    )
    b2 = replace(
        b,
        place=HAND,
        since_s=a.since_s,
        open=held,
        where="",
        pressed=True,
        begun=True,
        started_s=b.started_s if b.started_s is not None else state.moment.rest_s,
        fire_s=b.fire_s + (held.fire_s if held else 0.0),
    )
    state = put(put(state, a2), b2)
    hot = dict(state.hot)
    mark_a, mark_b = hot.get(a.id), hot.get(b.id)
    # Both stay on the list at the hotter of the two: which was which is in doubt.
    marks = [m for m in (mark_a, mark_b) if m is not None]
    now_s, air_degc = state.moment.rest_s, state.air_degc
    hottest = max(marks, key=lambda m: degc_of(m, now_s, air_degc), default=None)
    if hottest is not None:
        hot[a.id] = hot[b.id] = hottest
    return replace(state, hot=hot)  # type: ignore[no-any-return]


def heats_corrected(state: State, fact: HeatsCorrected) -> State:
    """How many heats the step really took, whether it is under way or done."""
    piece = piece_at(state, fact.workpiece)
    index = step_named(state, piece, fact.step)
    if index == piece.step and piece.place != SCRAPPED:
        more = fact.heats - piece.heats
        return put(
            state,
            replace(piece, heats=fact.heats, heats_all=max(0, piece.heats_all + more)),
        )
    last = max((i for i, r in enumerate(piece.done) if r.step == fact.step), default=None)
    if last is None:
        raise CannotBe(f"{piece.id} has no record of {fact.step}")
    record = piece.done[last]
    more = fact.heats - (record.heats or 0)
    done = list(piece.done)
    done[last] = replace(record, heats=fact.heats, corrected=True)
    return put(state, replace(piece, done=tuple(done), heats_all=max(0, piece.heats_all + more)))


def heat_ended_earlier(state: State, fact: HeatEndedEarlier) -> State:
    """The key came late: that much less work, and in the fire or at rest since that much longer."""
    piece = piece_at(state, fact.workpiece)
    late_s = fact.seconds
    if piece.place == HAND and piece.open is not None:
        raise CannotBe("its heat is not over")
    if piece.work_s > 0:
        piece = replace(piece, work_s=max(0.0, piece.work_s - late_s))
    elif piece.done:
        last = piece.done[-1]
        piece = replace(
            piece,
            done=(
                *piece.done[:-1],
                replace(last, work_s=max(0.0, last.work_s - late_s), ended_s=last.ended_s - late_s),
            ),
        )
    piece = replace(
        piece,
        since_s=piece.since_s - late_s,
        last_heat_s=piece.last_heat_s - late_s if piece.last_heat_s is not None else None,
        rest=replace(piece.rest, started_s=piece.rest.started_s - late_s) if piece.rest else None,
    )
    return put(state, piece)
