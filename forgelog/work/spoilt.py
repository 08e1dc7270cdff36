"""Facts of what was spoilt, and of what takes its place."""

from __future__ import annotations

from forgelog.work.changes import (
    CannotBe,
    made,
    moved,
    piece_at,
    put,
    replace,
    step_record,
    with_mishap,
)
from forgelog.work.facts import Cracked, EndCutOff, LotSpoilt, MadeAgain, Scrapped, SpareUsed
from forgelog.work.heats import heat_closed
from forgelog.work.queries import step_of
from forgelog.work.state import FINISHED, FITTED, HAND, SCRAPPED, State, Workpiece


def scrapped(state: State, fact: Scrapped) -> State:
    """Spoilt; the step under way is not learnt from. A remake takes the slot.

    What an assembly had taken up is free again: the smith says which of its parts are spoilt too.
    """
    piece = piece_at(state, fact.workpiece)
    if piece.place in (SCRAPPED, FITTED):
        raise CannotBe(f"{piece.id} is {piece.place} already")
    if piece.place == HAND:
        piece = heat_closed(state, piece, counted=True)
    piece = with_mishap(
        state, piece, "scrapped", fact.why, heat=fact.heat, again=int(fact.remake is not None)
    )
    step = step_of(state, piece)
    done = piece.done
    if step is not None and (piece.heats or piece.work_s):
        done = (
            *done,
            step_record(state, piece, step, heats=piece.heats, method=state.method, scrapped=True),
        )
    piece = moved(
        state, piece, SCRAPPED, done=done, scrapped_why=fact.why, running=False, rest=None
    )
    state = put(state, piece)
    for part in piece.parts:
        state = _free_again(state, part)
    if fact.remake is not None:
        state = made(state, piece.order, fact.remake, pin=piece.pin)
        remade = state.pieces[fact.remake.id]
        state = put(state, replace(remade, troubles=("remade",)))
    return state


def _heat_now(piece: Workpiece) -> int:
    """Heats that the present step has had, the one under way counted."""
    return piece.heats + (piece.place == HAND)


def _free_again(state: State, part_id: str) -> State:
    """A part comes off a scrapped assembly; of a handful, one."""
    part = state.pieces[part_id]
    if part.place == FITTED:
        part = moved(state, part, FINISHED, fitted_in="")
    elif part.lot:
        part = replace(part, used=max(0, part.used - 1))
    return put(state, part)


def made_again(state: State, fact: MadeAgain) -> State:
    """A remake after all."""
    piece = piece_at(state, fact.workpiece, SCRAPPED)
    if any(p.remade_from == piece.id for p in state.pieces.values()):
        raise CannotBe(f"{piece.id} is made again already")
    state = made(state, piece.order, fact.remake, pin=piece.pin)
    remade = state.pieces[fact.remake.id]
    return put(state, replace(remade, troubles=("remade",)))


def spare_used(state: State, fact: SpareUsed) -> State:
    """A spare is what the scrapped piece was to be, from where it stands."""
    spare = piece_at(state, fact.workpiece)
    gone = piece_at(state, fact.instead_of, SCRAPPED)
    if not spare.spare or spare.place in (SCRAPPED, FITTED):
        raise CannotBe(f"{spare.id} is no spare that could be used")
    if (spare.order, spare.component, spare.mark) != (gone.order, gone.component, gone.mark):
        raise CannotBe(f"{spare.id} cannot stand for {gone.id}")
    if any(p.remade_from == gone.id for p in state.pieces.values()):
        raise CannotBe(f"{gone.id} is made again already")
    return put(
        state,
        replace(
            spare, spare=False, from_spare=True, set=gone.set, slot=gone.slot, remade_from=gone.id
        ),
    )


def lot_spoilt(state: State, fact: LotSpoilt) -> State:
    """Some of a handful are spoilt; those not made again make it smaller."""
    piece = piece_at(state, fact.workpiece)
    if not piece.lot or fact.spoilt > piece.lot:
        raise CannotBe(f"{piece.id} has {piece.lot} parts, {fact.spoilt} cannot be spoilt")
    lot = max(1, piece.lot - fact.spoilt + fact.again)
    words = f"{fact.spoilt} spoilt" + (f": {fact.why}" if fact.why else "")
    piece = with_mishap(state, piece, "some spoilt", fact.why, spoilt=fact.spoilt, again=fact.again)
    return put(
        state,
        replace(
            piece,
            lot=lot,
            counted=min(piece.counted, lot - min(lot, fact.again)),
            notes=(*piece.notes, words),
        ),
    )


def end_cut_off(state: State, fact: EndCutOff) -> State:
    """A burnt or spoilt end came off: the piece is named from now on."""
    piece = piece_at(state, fact.workpiece)
    heat = _heat_now(piece)
    piece = with_mishap(state, piece, "end cut off", fact.why, heat=heat, lost_mm=fact.lost_mm)
    lost = f", {fact.lost_mm:g} mm lost" if fact.lost_mm is not None else ""
    return put(state, replace(piece, troubles=(*piece.troubles, f"{fact.why} end cut off{lost}")))


def cracked(state: State, fact: Cracked) -> State:
    """A crack or cold shut was found."""
    piece = piece_at(state, fact.workpiece)
    piece = with_mishap(state, piece, "cracked", fact.words, heat=_heat_now(piece))
    return put(state, replace(piece, troubles=(*piece.troubles, fact.words or "cracked")))
