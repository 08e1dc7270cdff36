"""Small tools with which facts change the state: make a piece, replace it, pass a step."""

from __future__ import annotations

from typing import Any

import msgspec

from forgelog.recipe.resolved import Step
from forgelog.work.facts import Hot, NewPiece
from forgelog.work.queries import recipe_of, step_index, step_of, steps_of
from forgelog.work.state import FINISHED, WAITING, HotMark, Mishap, State, StepRecord, Workpiece


class CannotBe(ValueError):
    """A fact that cannot have happened in this state. Its text says why, in the smith's words."""


def replace(record: Any, **changes: Any) -> Any:
    """`record` with some fields changed."""
    return msgspec.structs.replace(record, **changes)


def piece_at(state: State, workpiece: str, *places: str) -> Workpiece:
    """The piece, which must lie in one of the places (any place when none is named).

    Raises:
        CannotBe: no such piece, or it is elsewhere.
    """
    piece = state.pieces.get(workpiece)
    if piece is None:
        raise CannotBe(f"there is no workpiece {workpiece}")
    if places and piece.place not in places:
        raise CannotBe(f"{workpiece} is {piece.place}, not {' or '.join(places)}")
    return piece


def put(state: State, piece: Workpiece) -> State:
    """The state with this piece in its new condition."""
    return replace(state, pieces={**state.pieces, piece.id: piece})  # type: ignore[no-any-return]


def moved(state: State, piece: Workpiece, place: str, **changes: Any) -> Workpiece:
    """The piece in another place, from now on."""
    return replace(  # type: ignore[no-any-return]
        piece, place=place, since_s=state.moment.rest_s, begun=True, **changes
    )


def marked_hot(state: State, workpiece: str, hot: Hot | None) -> State:
    """The state with the piece on the HOT list, cooling from `hot` as of now."""
    if hot is None:
        return state
    mark = HotMark(degc=hot.degc, at_s=state.moment.rest_s, section=hot.section, medium=hot.medium)
    return replace(state, hot={**state.hot, workpiece: mark})  # type: ignore[no-any-return]


def begun_step(state: State, piece: Workpiece) -> Workpiece:
    """The piece with its present step begun now, if it was not."""
    if piece.started_s is not None:
        return piece
    return replace(piece, started_s=state.moment.rest_s)  # type: ignore[no-any-return]


def at_step(piece: Workpiece, step: int) -> Workpiece:
    """The piece at the beginning of another step: counts and clocks of a step start again."""
    return replace(  # type: ignore[no-any-return]
        piece,
        step=step,
        heats=0,
        shared=False,
        pressed=False,
        work_s=0.0,
        fire_s=0.0,
        started_s=None,
        in_fire=1,
        counted=0,
        judged_by="",
        reopened=False,
    )


NO_MORE_S = 1e15
"""Where a stretch begins of which no more is work: no work clock ever comes to it."""


def worked_since_s(state: State, began_s: float) -> float:
    """Work since a moment of the work clock; nothing where the session of it is over."""
    return max(0.0, state.moment.work_s - began_s)


def worked_until_now(state: State) -> State:
    """What was in hand or on the bench, with its time counted up to now and no further.

    The work clock begins anew with every session: a piece that a session left in hand when it was
    cut off was worked on until its last press, and not until somebody laid it aside.
    """
    stopped: dict[str, Workpiece] = {}
    for piece in state.pieces.values():
        if piece.open is not None:
            held = replace(piece.open, stretch_work_s=NO_MORE_S)
            worked_s = piece.work_s + worked_since_s(state, piece.open.stretch_work_s)
            stopped[piece.id] = replace(piece, work_s=worked_s, open=held)
        elif piece.running:
            worked_s = piece.work_s + worked_since_s(state, piece.bench_work_s)
            stopped[piece.id] = replace(piece, work_s=worked_s, bench_work_s=NO_MORE_S)
    if not stopped:
        return state
    return replace(state, pieces={**state.pieces, **stopped})  # type: ignore[no-any-return]


def bench_closed(state: State, piece: Workpiece) -> Workpiece:
    """The piece with a bench clock that ran stopped, its time counted."""
    if not piece.running:
        return piece
    worked_s = worked_since_s(state, piece.bench_work_s)
    return replace(piece, running=False, work_s=piece.work_s + worked_s)  # type: ignore[no-any-return]


def settled_place(state: State, piece: Workpiece) -> Workpiece:
    """The piece, finished if no step is left, else waiting; where it lies is kept."""
    place = FINISHED if piece.step >= len(steps_of(state, piece)) else WAITING
    return moved(state, piece, place, running=False, open=None, rest=None)


def run_number(state: State, piece: Workpiece, step: str) -> int:
    """The piece's number at this step in its order's run, from 1."""
    return 1 + sum(
        1
        for other in state.pieces.values()
        if other.id != piece.id
        and other.order == piece.order
        and other.component == piece.component
        and any(r.step == step for r in other.done)
    )


def step_record(
    state: State,
    piece: Workpiece,
    step: Step,
    *,
    heats: int | None,
    method: str,
    shared: bool = False,
    scrapped: bool = False,
) -> StepRecord:
    """What the present step took, as it is written into the piece's record."""
    return StepRecord(
        step=step.id,
        kind=step.kind,
        pin=piece.pin,
        method=method,
        heats=heats,
        planned=step.heats.get(method),
        shared=shared or piece.shared,
        work_s=piece.work_s,
        fire_s=piece.fire_s,
        started_s=piece.started_s if piece.started_s is not None else state.moment.rest_s,
        ended_s=state.moment.rest_s,
        session=state.session,
        in_fire=piece.in_fire,
        run=run_number(state, piece, step.id),
        judged_by=piece.judged_by,
        scrapped=scrapped,
        section=step.section,
    )


def step_named(state: State, piece: Workpiece, step: str) -> int:
    """Index of a step of the piece's recipe.

    Raises:
        CannotBe: its recipe has no such step.
    """
    index = step_index(steps_of(state, piece), step)
    if index is None:
        raise CannotBe(f"{recipe_of(state, piece).name} has no step {step} for {piece.component}")
    return index


def made(state: State, order: str, new: NewPiece, *, pin: int = 0) -> State:
    """The state with a workpiece that comes into being.

    Raises:
        CannotBe: its id is taken; a serial is never used again.
    """
    if new.id in state.pieces:
        raise CannotBe(f"there is a workpiece {new.id} already")
    taken = state.orders[order]
    state = replace(
        state,
        orders={
            **state.orders,
            order: replace(taken, serials=max(taken.serials, new.serial)),
        },
    )
    piece = Workpiece(
        id=new.id,
        order=order,
        component=new.component,
        serial=new.serial,
        mark=new.mark,
        set=new.set,
        slot=new.slot,
        pin=pin,
        since_s=state.moment.rest_s,
        lot=new.lot,
        remade_from=new.remade_from,
        spare=new.spare,
    )
    return put(state, piece)


def with_mishap(
    state: State, piece: Workpiece, kind: str, why: str, *, step: str | None = None, **more: object
) -> Workpiece:
    """The piece with what went wrong written into its record."""
    stands = step_of(state, piece)
    mishap = Mishap(
        kind=kind,
        step=(stands.id if stands else "") if step is None else step,
        why=why,
        method=state.method,
        at_s=state.moment.rest_s,
        session=state.session,
        **more,  # type: ignore[arg-type]
    )
    return replace(piece, mishaps=(*piece.mishaps, mishap))  # type: ignore[no-any-return]
