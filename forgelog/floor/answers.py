"""What a question leads to when it is answered: the deeds behind the other key."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.floor import acts, day_acts, rest_acts
from forgelog.floor.advice import next_step, room, wants_heat
from forgelog.floor.blocks import block, lock_holder
from forgelog.floor.meaning import Facts, Here
from forgelog.work.facts import DayEnded, MadeAgain, SpareUsed
from forgelog.work.making import again
from forgelog.work.outstanding import spares_for


def _end_rest(here: Here, workpiece: str) -> Facts:
    piece = here.state.pieces[workpiece]
    step = next_step(here.state, piece)
    if step is not None and wants_heat(step) and room(here.state) > 0:
        blocked = block(here.state, piece, step, here.settings, holder=lock_holder(here.state))
        if blocked is None:
            return acts.put_in(here.state, piece, here.now)
    return rest_acts.rest_over(here.state, piece, here.now)


def _skip_rest(here: Here, workpiece: str) -> Facts:
    return rest_acts.skip_rest(here.state, here.state.pieces[workpiece], here.now)


def _end_day(here: Here, _: str) -> Facts:
    where = here.stand.entry_piece or "where it is"
    return (*day_acts.clear_away(here.state, here.now, where), DayEnded(where=where))


def _take_anyway(kind: str) -> Callable[[Here, str], Facts]:
    def facts(here: Here, workpiece: str) -> Facts:
        piece = here.state.pieces[workpiece]
        step = next_step(here.state, piece)
        if step is not None and wants_heat(step):
            return acts.anyway(piece, kind, acts.put_in(here.state, piece, here.now))
        if step is not None and step.kind == "gauge":
            return acts.anyway(piece, kind, rest_acts.rest_over(here.state, piece, here.now))
        return acts.anyway(piece, kind, acts.begin_cold(here.state, piece, here.now))

    return facts


def _make_another(here: Here, workpiece: str) -> Facts:
    piece = here.state.pieces[workpiece]
    if spares := spares_for(here.state, piece):
        return (SpareUsed(workpiece=spares[0].id, instead_of=piece.id),)
    return (MadeAgain(workpiece=piece.id, remake=again(here.state.orders[piece.order], piece)),)


ANSWERS: dict[str, Callable[[Here, str], Facts]] = {
    "end the rest": _end_rest,
    "skip the rest": _skip_rest,
    "end of the day": _end_day,
    "make another": _make_another,
    **{f"take anyway: {kind}": _take_anyway(kind) for kind in ("set", "tool", "lock")},
}
