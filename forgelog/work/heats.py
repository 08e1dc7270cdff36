"""Facts of the fire and the hand: in, out, heat over, step done."""

from __future__ import annotations

from forgelog.work.bench import bench_clocks_stopped
from forgelog.work.changes import (
    CannotBe,
    at_step,
    begun_step,
    bench_closed,
    marked_hot,
    moved,
    piece_at,
    put,
    replace,
    settled_place,
    step_named,
    step_record,
    worked_since_s,
)
from forgelog.work.facts import HeatOver, LaidAside, LotCounted, PutInFire, StepFinished, TakenOut
from forgelog.work.queries import in_fire, in_hand, place_of_session, steps_of
from forgelog.work.state import BENCH, FIRE, HAND, WAITING, HeatOpen, State, Workpiece


def put_in_fire(state: State, fact: PutInFire) -> State:
    """From the side into the fire."""
    piece = piece_at(state, fact.workpiece, WAITING, BENCH)
    if not state.fire.lit:
        raise CannotBe("the fire is not lit")
    piece = begun_step(state, moved(state, bench_closed(state, piece), FIRE, where=""))
    return put(state, piece)


def taken_out(state: State, fact: TakenOut) -> State:
    """Out of the fire and into the hand: a heat begins, and nobody is at the bench."""
    piece = piece_at(state, fact.workpiece, FIRE)
    held = in_hand(state)
    if held is not None and _in_play(state, held):
        raise CannotBe(f"{held.id} is in hand already")
    state = bench_clocks_stopped(state)
    now = state.moment
    fire_s = now.rest_s - piece.since_s
    piece = moved(
        state,
        begun_step(state, piece),
        HAND,
        fire_s=piece.fire_s + fire_s,
        in_fire=max(piece.in_fire, fact.in_fire, len(in_fire(state))),
        pressed=True,
        open=HeatOpen(
            since_s=now.rest_s,
            since_work_s=now.work_s,
            fire_s=fire_s,
            in_fire=max(fact.in_fire, len(in_fire(state))),
            degc=fact.hot.degc if fact.hot else None,
            quench=fact.quench,
            stretch_work_s=now.work_s,
        ),
    )
    return marked_hot(put(state, piece), piece.id, fact.hot)


def _in_play(state: State, piece: Workpiece) -> bool:
    """Whether this session works on the piece's order: another laptop's hand is not ours."""
    index = place_of_session(state)
    return index < 0 or piece.order in state.sessions[index].orders


def heat_closed(state: State, piece: Workpiece, *, counted: bool) -> Workpiece:
    """The piece with its open heat closed: counted or only noted."""
    if piece.open is None:
        return piece
    share = piece.open.steps > 0
    return replace(  # type: ignore[no-any-return]
        piece,
        heats=piece.heats + (1 if counted else 0),
        shared=piece.shared or (share and counted),
        heats_all=piece.heats_all + (1 if counted or share else 0),
        work_s=piece.work_s + worked_since_s(state, piece.open.stretch_work_s),
        last_heat_s=state.moment.rest_s if counted or share else piece.last_heat_s,
        open=None,
    )


def heat_over(state: State, fact: HeatOver) -> State:
    """The heat is over, the step goes on."""
    piece = heat_closed(state, piece_at(state, fact.workpiece, HAND), counted=fact.counted)
    if fact.to == "fire":
        piece = moved(state, piece, FIRE, where="")
    else:
        piece = moved(state, piece, WAITING, where=fact.where or piece.where)
    return marked_hot(put(state, piece), piece.id, fact.hot)


def step_finished(state: State, fact: StepFinished) -> State:
    """The step is done. The same finish told twice (two laptops) counts once."""
    piece = piece_at(state, fact.workpiece)
    index = step_named(state, piece, fact.step)
    if any(r.step == fact.step for r in piece.done) and index < piece.step:
        return state
    if index != piece.step:
        raise CannotBe(f"{piece.id} does not stand at {fact.step}")
    if piece.place not in (HAND, FIRE, BENCH, WAITING):
        raise CannotBe(f"{piece.id} is {piece.place}")
    step = steps_of(state, piece)[index]
    piece = begun_step(state, piece)
    goes_on = fact.to == "hand"
    if piece.place == HAND and piece.open is not None:
        if goes_on:
            held = piece.open
            piece = replace(
                piece,
                heats=piece.heats + 1,
                shared=True,
                work_s=piece.work_s + worked_since_s(state, held.stretch_work_s),
            )
        else:
            piece = heat_closed(state, piece, counted=True)
    elif piece.place == FIRE:
        piece = replace(
            piece,
            fire_s=piece.fire_s + state.moment.rest_s - piece.since_s,
            in_fire=max(piece.in_fire, len(in_fire(state))),
        )
    piece = bench_closed(state, piece)
    heats = None if fact.heats_unknown else piece.heats
    record = step_record(state, piece, step, heats=heats, method=fact.method)
    opened = piece.open
    piece = at_step(replace(piece, done=(*piece.done, record)), index + 1)
    if goes_on and opened is not None:
        piece = replace(
            piece,
            started_s=state.moment.rest_s,
            pressed=True,
            in_fire=opened.in_fire,
            open=replace(opened, steps=opened.steps + 1, stretch_work_s=state.moment.work_s),
        )
    elif fact.to == "fire" and piece.step < len(steps_of(state, piece)):
        piece = moved(state, piece, FIRE, where="", running=False, open=None)
        piece = begun_step(state, piece)
    else:
        piece = settled_place(state, replace(piece, where=fact.where or piece.where))
    return marked_hot(put(state, piece), piece.id, fact.hot)


def laid_aside(state: State, fact: LaidAside) -> State:
    """From hand, fire or bench to the side; an open heat is closed first."""
    piece = piece_at(state, fact.workpiece, HAND, FIRE, BENCH, WAITING)
    if piece.place == HAND:
        piece = heat_closed(state, piece, counted=fact.counted)
    elif piece.place == FIRE:
        piece = replace(piece, fire_s=piece.fire_s + state.moment.rest_s - piece.since_s)
    piece = bench_closed(state, piece)
    piece = moved(state, piece, WAITING, where=fact.where or piece.where)
    return marked_hot(put(state, piece), piece.id, fact.hot)


def lot_counted(state: State, fact: LotCounted) -> State:
    """More of a handful are done in this step."""
    piece = piece_at(state, fact.workpiece)
    if not piece.lot:
        raise CannotBe(f"{piece.id} is one piece, not a handful")
    if step_named(state, piece, fact.step) != piece.step:
        raise CannotBe(f"{piece.id} does not stand at {fact.step}")
    counted = min(piece.lot, max(0, piece.counted + fact.more))
    return put(state, replace(begun_step(state, piece), counted=counted))
