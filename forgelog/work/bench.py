"""Facts of the bench: begun, stopped, assembled, gauged."""

from __future__ import annotations

from forgelog.work.changes import (
    CannotBe,
    begun_step,
    bench_closed,
    moved,
    piece_at,
    put,
    replace,
    step_named,
)
from forgelog.work.facts import Assembled, BenchBegun, BenchStopped, Gauged, JudgedBy
from forgelog.work.state import BENCH, FINISHED, FITTED, WAITING, GaugeRecord, State


def bench_begun(state: State, fact: BenchBegun) -> State:
    """Cold work began or goes on; any other bench clock stops (one a person)."""
    piece = piece_at(state, fact.workpiece, WAITING, BENCH)
    if step_named(state, piece, fact.step) != piece.step:
        raise CannotBe(f"{piece.id} does not stand at {fact.step}")
    state = bench_clocks_stopped(state, but=piece.id)
    if piece.running:
        return state
    if piece.place != BENCH:
        piece = moved(state, piece, BENCH, where="")
    piece = begun_step(state, replace(piece, running=True, bench_work_s=state.moment.work_s))
    return put(state, piece)


def bench_clocks_stopped(state: State, *, but: str = "") -> State:
    """The state with no bench clock running, but for one piece's."""
    for piece in tuple(state.pieces.values()):
        if piece.place == BENCH and piece.running and piece.id != but:
            state = bench_stopped(state, BenchStopped(workpiece=piece.id))
    return state


def bench_stopped(state: State, fact: BenchStopped) -> State:
    """The bench clock stands."""
    piece = piece_at(state, fact.workpiece, BENCH)
    return put(state, bench_closed(state, piece))


def assembled(state: State, fact: Assembled) -> State:
    """An assembly takes up its parts: they are fitted from now on."""
    piece = piece_at(state, fact.workpiece, WAITING, BENCH)
    for part_id in fact.parts:
        part = piece_at(state, part_id, FINISHED)
        if part.lot and part.used + 1 < part.lot:
            state = put(state, replace(part, used=part.used + 1))
            continue
        state = put(state, moved(state, part, FITTED, fitted_in=piece.id))
    return put(state, replace(piece, parts=(*piece.parts, *fact.parts)))


def gauged(state: State, fact: Gauged) -> State:
    """A size was gauged."""
    piece = piece_at(state, fact.workpiece)
    record = GaugeRecord(
        step=fact.step,
        what=fact.what,
        fits=fact.fits,
        mm=fact.mm,
        at_s=state.moment.rest_s,
        session=state.session,
    )
    piece = replace(piece, gauges=(*piece.gauges, record))
    if fact.mm is None:
        return put(state, begun_step(state, piece))
    return put(state, replace(piece, gauged={**piece.gauged, fact.what: fact.mm}))


def judged_by(state: State, fact: JudgedBy) -> State:
    """What a heat was judged by is kept for the present step, or for a step already done."""
    piece = piece_at(state, fact.workpiece)
    if step_named(state, piece, fact.step) == piece.step:
        return put(state, replace(piece, judged_by=fact.how))
    done = tuple(replace(r, judged_by=fact.how) if r.step == fact.step else r for r in piece.done)
    return put(state, replace(piece, done=done))
