"""Facts that put things right: trouble, remakes, corrections, swaps, notes."""

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
    step_record,
)
from forgelog.work.cooling_marks import degc_of
from forgelog.work.facts import (
    CooledInWater,
    Cracked,
    EndCutOff,
    HeatEndedEarlier,
    HeatsCorrected,
    JigSet,
    LotSpoilt,
    MadeAgain,
    NewPiece,
    Noted,
    Scrapped,
    SpareUsed,
    StepReopened,
    Stowed,
    Swapped,
    TakenAnyway,
    ToolSeen,
)
from forgelog.work.heats import heat_closed
from forgelog.work.queries import step_of, steps_of
from forgelog.work.state import (
    BENCH,
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    SCRAPPED,
    WAITING,
    HotMark,
    Mishap,
    State,
    Workpiece,
)

WATER_COLD_DEGC = 60.0
"""What a piece cooled whole in the tub is taken to be when it comes out. From memory."""


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


def scrapped(state: State, fact: Scrapped) -> State:
    """Spoilt; the step under way is not learnt from. A remake takes the slot.

    What an assembly had taken up is free again: the smith says which of its parts are spoilt too.
    """
    piece = piece_at(state, fact.workpiece)
    if piece.place in (SCRAPPED, FITTED):
        raise CannotBe(f"{piece.id} is {piece.place} already")
    if piece.place == HAND:
        piece = heat_closed(state, piece, counted=True)
    piece = _mishap(
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


def _mishap(
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
    piece = _mishap(state, piece, "some spoilt", fact.why, spoilt=fact.spoilt, again=fact.again)
    return put(
        state,
        replace(
            piece,
            lot=lot,
            counted=min(piece.counted, lot - min(lot, fact.again)),
            notes=(*piece.notes, words),
        ),
    )


def step_reopened(state: State, fact: StepReopened) -> State:
    """Back to a step that was taken for done; its heats go on counting where they stood."""
    piece = piece_at(state, fact.workpiece)
    if piece.place in (SCRAPPED, FITTED):
        raise CannotBe(f"{piece.id} is {piece.place}")
    index = step_named(state, piece, fact.step)
    if index > piece.step:
        raise CannotBe(f"{piece.id} has not come to {fact.step} yet")
    piece = _mishap(state, piece, "again", fact.why, step=fact.step)
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


def end_cut_off(state: State, fact: EndCutOff) -> State:
    """A burnt or spoilt end came off: the piece is named from now on."""
    piece = piece_at(state, fact.workpiece)
    heat = _heat_now(piece)
    piece = _mishap(state, piece, "end cut off", fact.why, heat=heat, lost_mm=fact.lost_mm)
    lost = f", {fact.lost_mm:g} mm lost" if fact.lost_mm is not None else ""
    return put(state, replace(piece, troubles=(*piece.troubles, f"{fact.why} end cut off{lost}")))


def cracked(state: State, fact: Cracked) -> State:
    """A crack or cold shut was found."""
    piece = piece_at(state, fact.workpiece)
    piece = _mishap(state, piece, "cracked", fact.words, heat=_heat_now(piece))
    return put(state, replace(piece, troubles=(*piece.troubles, fact.words or "cracked")))


def cooled_in_water(state: State, fact: CooledInWater) -> State:
    """An end, or the whole piece, went into the water. Only a whole one is cooler on the list."""
    piece = piece_at(state, fact.workpiece)
    words = "cooled in water" + (f": {fact.end}" if fact.end else "")
    state = put(state, replace(piece, notes=(*piece.notes, words)))
    mark = state.hot.get(piece.id)
    if fact.whole and mark is not None:
        # Still on the list: the tub is quick, but only the sum takes a piece off.
        cooler = HotMark(
            degc=min(mark.degc, WATER_COLD_DEGC),
            at_s=state.moment.rest_s,
            section=mark.section,
            medium=mark.medium,
        )
        state = replace(state, hot={**state.hot, piece.id: cooler})
    return state


def taken_anyway(state: State, fact: TakenAnyway) -> State:
    """The smith was told that it is blocked, and took it."""
    piece = piece_at(state, fact.workpiece, WAITING, FIRE, BENCH)
    step = step_of(state, piece)
    reason = f"{fact.reason}@{step.id if step else ''}"
    return put(state, replace(piece, taken_anyway=(*piece.taken_anyway, reason)))


def tool_seen(state: State, fact: ToolSeen) -> State:
    """State and setting of a tool as the smith last said; its setting stays where none is said."""
    was = state.tools.get(fact.tool, ("", ""))
    since = state.tools_since_s
    if was[0] != fact.state:
        since = {**since, fact.tool: state.moment.rest_s}
    jigs = {**state.jigs, fact.tool: fact.setting} if fact.setting else state.jigs
    return replace(  # type: ignore[no-any-return]
        state,
        tools={**state.tools, fact.tool: (fact.state, fact.setting or was[1])},
        tools_since_s=since,
        jigs=jigs,
    )


def jig_set(state: State, fact: JigSet) -> State:
    """How a jig stands now."""
    return replace(state, jigs={**state.jigs, fact.tool: fact.setting})  # type: ignore[no-any-return]


def stowed(state: State, fact: Stowed) -> State:
    """Where it lies; not for what is under way, nor for what lies with the scrap."""
    piece = piece_at(state, fact.workpiece)
    if piece.place in (HAND, FIRE, SCRAPPED):
        raise CannotBe(f"{piece.id} is {piece.place}")
    return put(state, replace(piece, where=fact.where))


def noted(state: State, fact: Noted) -> State:
    """The smith's own words."""
    if fact.workpiece:
        piece = piece_at(state, fact.workpiece)
        return put(state, replace(piece, notes=(*piece.notes, fact.words)))
    if fact.order:
        order = state.orders.get(fact.order)
        if order is None:
            raise CannotBe(f"there is no order {fact.order}")
        return replace(  # type: ignore[no-any-return]
            state,
            orders={
                **state.orders,
                fact.order: replace(order, notes=(*order.notes, fact.words)),
            },
        )
    return state
