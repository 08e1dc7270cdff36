"""The one place where a fact changes the state.

The live floor, a resume after a power cut and the review of an old session all come through
`apply`, so they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from forgelog.work import (
    bench,
    corrections,
    facts,
    free,
    heats,
    learning,
    money,
    orders,
    rack,
    rests,
    said,
    sawn,
    sessions,
    spoilt,
)
from forgelog.work.changes import CannotBe, replace, worked_until_now
from forgelog.work.facts import AnyFact, Press, Redone, SessionBegan, Undone
from forgelog.work.moments import Moment, Stamp, advance, start
from forgelog.work.queries import place_of_session
from forgelog.work.rests import settle
from forgelog.work.state import State

__all__ = ["CannotBe", "apply", "happened", "now", "settle"]

_HOW: dict[type, Callable[[State, Any], State]] = {
    facts.OrderTaken: orders.order_taken,
    facts.SizeChanged: orders.size_changed,
    facts.BarChosen: orders.bar_chosen,
    facts.OrderPromised: orders.order_promised,
    facts.OrderHeld: orders.order_held,
    facts.OrderFreed: orders.order_freed,
    facts.OrderClosed: orders.order_closed,
    facts.OrderDelivered: orders.order_delivered,
    facts.SparesAdded: orders.spares_added,
    facts.RecipePinned: orders.recipe_pinned,
    facts.QuoteMade: money.quote_made,
    facts.QuoteAnswered: money.quote_answered,
    facts.OrderCost: money.order_cost,
    facts.HoursTold: money.hours_told,
    facts.SessionBegan: sessions.session_began,
    facts.FireLit: sessions.fire_lit,
    facts.FireStayed: sessions.fire_stayed,
    facts.FireWentOut: sessions.fire_went_out,
    facts.MethodChanged: sessions.method_changed,
    facts.Paused: sessions.paused,
    facts.Resumed: sessions.resumed,
    facts.DayEnded: sessions.day_ended,
    facts.PutInFire: heats.put_in_fire,
    facts.TakenOut: heats.taken_out,
    facts.HeatOver: heats.heat_over,
    facts.StepFinished: heats.step_finished,
    facts.StepSaid: free.step_said,
    facts.LaidAside: heats.laid_aside,
    facts.LotCounted: heats.lot_counted,
    facts.RestStarted: rests.rest_started,
    facts.RestEnded: rests.rest_ended,
    facts.RestBrokenOff: rests.rest_broken_off,
    facts.RestSkipped: rests.rest_skipped,
    facts.BenchBegun: bench.bench_begun,
    facts.BenchStopped: bench.bench_stopped,
    facts.Assembled: bench.assembled,
    facts.Gauged: bench.gauged,
    facts.JudgedBy: bench.judged_by,
    facts.Scrapped: spoilt.scrapped,
    facts.MadeAgain: spoilt.made_again,
    facts.LotSpoilt: spoilt.lot_spoilt,
    facts.StepReopened: corrections.step_reopened,
    facts.SpareUsed: spoilt.spare_used,
    facts.Swapped: corrections.swapped,
    facts.HeatsCorrected: corrections.heats_corrected,
    facts.HeatEndedEarlier: corrections.heat_ended_earlier,
    facts.EndCutOff: spoilt.end_cut_off,
    facts.Cracked: spoilt.cracked,
    facts.CooledInWater: said.cooled_in_water,
    facts.TakenAnyway: said.taken_anyway,
    facts.ToolSeen: said.tool_seen,
    facts.JigSet: said.jig_set,
    facts.Noted: said.noted,
    facts.SuggestionAccepted: learning.suggestion_accepted,
    facts.SuggestionDeclined: learning.suggestion_declined,
    facts.SuggestionReopened: learning.suggestion_reopened,
    facts.Stowed: said.stowed,
    facts.FuelUsed: sessions.fuel_used,
    facts.BarCut: sawn.bar_cut,
    facts.BarNotCut: sawn.bar_not_cut,
    facts.OffcutKept: rack.offcut_kept,
    facts.OffcutUsed: rack.offcut_used,
    facts.CutProved: rack.cut_proved,
}


def now(state: State, stamp: Stamp) -> Moment:
    """Shop time at these clock readings, for a state that may be older."""
    if state.stamp is None:
        return start(stamp)
    return advance(state.moment, state.stamp, stamp, paused=state.paused)


def happened(state: State, facts: tuple[AnyFact, ...]) -> State:
    """The state after some facts, at the same moment and with no press counted.

    For looking ahead: what a key would lead to.

    Raises:
        CannotBe: a fact cannot have happened in this state.
    """
    for fact in facts:
        state = _HOW[type(fact)](state, fact)
    return state


def apply(state: State, press: Press) -> State:
    """The state after a press: all of its facts, or none.

    Args:
        state: What stood before.
        press: One press of a key, as it stands (or will stand) in the journal.

    Returns:
        The new state; `before` leads back to the old one, as far as undo reaches.

    Raises:
        CannotBe: a fact cannot have happened in this state. Nothing has changed then.
    """
    first = press.facts[0] if press.facts else None
    if isinstance(first, SessionBegan):
        return _begin(state, press, first)
    moment = now(state, press.at)
    if isinstance(first, Undone):
        return _undo(state, press, first, moment)
    if isinstance(first, Redone):
        return _redo(state, press, first, moment)
    after = replace(settle(state, moment), moment=moment, stamp=press.at)
    after = happened(after, press.facts)
    after = replace(
        after,
        press=press.seq,
        made_by=(after.session, press.seq),
        made_of=press.facts,
        before=replace(state, undone=()),
        undone=(),
    )
    return _counted(after)


def _counted(state: State) -> State:
    """The session's record with this press counted."""
    index = place_of_session(state)
    if index < 0:
        return state
    record = state.sessions[index]
    record = replace(record, presses=record.presses + 1, ended_s=state.moment.rest_s)
    others = state.sessions
    return replace(  # type: ignore[no-any-return]
        state, sessions=(*others[:index], record, *others[index + 1 :])
    )


def _begin(state: State, press: Press, began: SessionBegan) -> State:
    """A session begins. Undo reaches over its beginning only into the one that it continues."""
    goes_on = bool(began.continues) and began.continues == state.session
    # What lay between two sessions is never work, whichever clock ran on.
    moment = (
        advance(state.moment, state.stamp, press.at, paused=True)
        if goes_on and state.stamp is not None
        else start(press.at)
    )
    before = state if goes_on else worked_until_now(state)
    after = replace(settle(before, moment), moment=moment, stamp=press.at, session=began.session)
    after = happened(after, press.facts)
    if goes_on:
        # Nothing has changed but the file: the last press of the other one can still be undone.
        return replace(after, press=press.seq)  # type: ignore[no-any-return]
    return replace(  # type: ignore[no-any-return]
        after,
        press=press.seq,
        made_by=(began.session, press.seq),
        made_of=press.facts,
        before=None,
        undone=(),
    )


def _carried(to: State, state: State, press: Press, moment: Moment) -> State:
    """What an undo or a put-back keeps from the present: time, session, and all that is hot."""
    return replace(  # type: ignore[no-any-return]
        to,
        moment=moment,
        stamp=press.at,
        press=press.seq,
        session=state.session,
        sessions=state.sessions,
        hot={**to.hot, **state.hot},
        troubles=state.troubles,
    )


def _undo(state: State, press: Press, fact: Undone, moment: Moment) -> State:
    if state.before is None:
        raise CannotBe("there is nothing left to undo in this session")
    session = fact.session or state.session
    if state.made_by != (session, fact.press):
        raise CannotBe(f"the last press is {state.made_by[1]}, not {fact.press}")
    taken_back = (*state.undone, replace(state, undone=()))
    back = replace(state.before, undone=taken_back)
    return _counted(_carried(back, state, press, moment))


def _redo(state: State, press: Press, fact: Redone, moment: Moment) -> State:
    session = fact.session or state.session
    if not state.undone or state.undone[-1].made_by != (session, fact.press):
        raise CannotBe("there is nothing to put back")
    again = replace(state.undone[-1], undone=state.undone[:-1])
    return _counted(_carried(again, state, press, moment))
