"""Facts that the smith says of pieces and tools: notes, places, water, a jig's setting."""

from __future__ import annotations

from forgelog.work.changes import CannotBe, piece_at, put, replace
from forgelog.work.facts import CooledInWater, JigSet, Noted, Stowed, TakenAnyway, ToolSeen
from forgelog.work.queries import step_of
from forgelog.work.state import BENCH, FIRE, HAND, SCRAPPED, WAITING, HotMark, State

WATER_COLD_DEGC = 60.0
"""What a piece cooled whole in the tub is taken to be when it comes out. From memory."""


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
