"""Facts of cooling: rests begun, ended, broken off; and rests that pass by themselves."""

from __future__ import annotations

from forgelog.work.changes import (
    CannotBe,
    at_step,
    begun_step,
    bench_closed,
    moved,
    piece_at,
    put,
    replace,
    settled_place,
    step_named,
    step_record,
)
from forgelog.work.facts import RestBrokenOff, RestEnded, RestSkipped, RestStarted
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire, steps_of
from forgelog.work.state import BENCH, FIRE, RESTING, WAITING, HotMark, RestRecord, State, Workpiece


def rest_started(state: State, fact: RestStarted) -> State:
    """Laid to rest; straight from the fire for normalise, anneal and temper."""
    piece = piece_at(state, fact.workpiece, WAITING, FIRE, BENCH)
    if fact.step and step_named(state, piece, fact.step) != piece.step:
        raise CannotBe(f"{piece.id} does not stand at {fact.step}")
    fire_s = state.moment.rest_s - piece.since_s if piece.place == FIRE else 0.0
    rest = RestRecord(
        step=fact.step,
        until=fact.until,
        degc=fact.degc,
        seconds=fact.seconds,
        medium=fact.medium,
        section=fact.section,
        start_degc=fact.start_degc,
        started_s=state.moment.rest_s,
        needed_s=fact.needed_s,
        low_s=fact.low_s,
        high_s=fact.high_s,
        then_s=fact.then_s,
        skipping=fact.skipping,
        cycle=fact.cycle,
        session=state.session,
        fire_s=fact.fire_s or fire_s,
    )
    others = len(in_fire(state))
    piece = begun_step(state, bench_closed(state, piece))
    piece = replace(piece, fire_s=piece.fire_s + fire_s, in_fire=max(piece.in_fire, others))
    state = put(state, moved(state, piece, RESTING, rest=rest))
    mark = HotMark(
        degc=fact.start_degc, at_s=state.moment.rest_s, section=fact.section, medium=fact.medium
    )
    return replace(state, hot={**state.hot, piece.id: mark})  # type: ignore[no-any-return]


def _over(state: State, piece: Workpiece, rest: RestRecord) -> Workpiece:
    """The piece with its rest written down and, unless it was an extra one, the step passed."""
    rest = replace(rest, waits=False)
    piece = replace(piece, rests=(*piece.rests, rest), rest=None)
    if not rest.step:
        return settled_place(state, piece)
    index = step_named(state, piece, rest.step)
    step = steps_of(state, piece)[index]
    if step.kind != "rest":
        record = step_record(state, piece, step, heats=None, method=state.method)
        piece = replace(piece, done=(*piece.done, record))
    return settled_place(state, at_step(piece, index + 1))


def rest_ended(state: State, fact: RestEnded) -> State:
    """The piece was taken up again; the rest has its verdict."""
    piece = piece_at(state, fact.workpiece, RESTING)
    if piece.rest is None or piece.rest.step != fact.step:
        raise CannotBe(f"{piece.id} does not rest at {fact.step}")
    rest = replace(
        piece.rest,
        rested_s=fact.rested_s,
        verdict=fact.verdict,
        degc_at_end=fact.degc_at_end,
        counts=fact.counts,
    )
    return put(state, _over(state, piece, rest))


def rest_broken_off(state: State, fact: RestBrokenOff) -> State:
    """Water ended it: a broken rest."""
    piece = piece_at(state, fact.workpiece, RESTING)
    if piece.rest is None or piece.rest.step != fact.step:
        raise CannotBe(f"{piece.id} does not rest at {fact.step}")
    rest = replace(
        piece.rest, rested_s=fact.rested_s, verdict="broken", broken_by=fact.by, counts=False
    )
    return put(state, _over(state, piece, rest))


def rest_skipped(state: State, fact: RestSkipped) -> State:
    """Never laid to rest: the step is passed and the record says so."""
    piece = piece_at(state, fact.workpiece, WAITING, BENCH)
    if step_named(state, piece, fact.step) != piece.step:
        raise CannotBe(f"{piece.id} does not stand at {fact.step}")
    rest = RestRecord(
        step=fact.step,
        until=fact.until,
        rested_s=0.0,
        verdict="skipped",
        started_s=state.moment.rest_s,
        skipping=fact.skipping,
        cycle=fact.cycle,
        counts=False if fact.cycle else None,
        session=state.session,
    )
    return put(state, _over(state, piece, rest))


def settle(state: State, now: Moment) -> State:
    """The state at `now`, with rests that pass by themselves passed.

    A rest that ends the component, or that another rest follows, needs no key: once it is due the
    piece is finished, or the next rest runs on from that moment. It counts as kept: nothing took
    the piece up before it was due.
    """
    for piece in tuple(state.pieces.values()):
        if piece.place == RESTING and piece.rest is not None and not piece.rest.waits:
            state = _settled(state, piece, now)
    return state


def _settled(state: State, piece: Workpiece, now: Moment) -> State:
    while piece.rest is not None and piece.rest.step:
        rest = piece.rest
        due_s = rest.started_s + rest.needed_s
        if due_s > now.rest_s:
            return state
        steps = steps_of(state, piece)
        index = step_named(state, piece, rest.step)
        after = steps[index + 1] if index + 1 < len(steps) else None
        if after is not None and (after.kind != "rest" or after.rest is None):
            return put(state, replace(piece, rest=replace(rest, waits=True)))
        # It belongs to the session that laid it to rest, whichever one runs when it is due.
        session = rest.session or state.session
        then = replace(state, moment=replace(state.moment, rest_s=due_s), session=session)
        kept = replace(
            rest,
            rested_s=rest.needed_s,
            verdict="ok",
            degc_at_end=rest.degc,
            counts=True if rest.cycle else None,
        )
        piece = _over(then, piece, kept)
        if after is not None and after.rest is not None:
            goal = after.rest
            piece = moved(
                then,
                begun_step(then, piece),
                RESTING,
                rest=RestRecord(
                    step=after.id,
                    until=goal.until,
                    degc=goal.degc,
                    seconds=goal.seconds,
                    medium=goal.medium,
                    section=rest.section,
                    start_degc=rest.degc if rest.degc is not None else rest.start_degc,
                    started_s=due_s,
                    needed_s=rest.then_s[0] if rest.then_s else 0.0,
                    then_s=rest.then_s[1:],
                    skipping=goal.skipping,
                    session=session,
                ),
            )
        state = put(state, piece)
    return state
