"""Facts of the session: began, fire, method, pause, end of the day."""

from __future__ import annotations

from forgelog.work.changes import CannotBe, marked_hot, moved, put, replace
from forgelog.work.facts import (
    DayEnded,
    FireLit,
    FireStayed,
    FireWentOut,
    FuelUsed,
    MethodChanged,
    Paused,
    Resumed,
    SessionBegan,
)
from forgelog.work.queries import in_fire, place_of_session
from forgelog.work.state import WAITING, Fire, FuelRecord, SessionRecord, State


def session_began(state: State, fact: SessionBegan) -> State:
    """A new file of the journal. A session that is cut off and continued keeps its fire."""
    record = SessionRecord(
        id=fact.session,
        kind=fact.kind,
        began_s=state.moment.rest_s,
        ended_s=state.moment.rest_s,
        device=fact.device,
        who=fact.who,
        offset=state.stamp.offset if state.stamp else 0,
        practice=fact.practice,
        continues=fact.continues,
        orders=fact.orders,
    )
    goes_on = bool(fact.continues) or fact.kind == "desk"
    return replace(  # type: ignore[no-any-return]
        state,
        session=fact.session,
        practice=fact.practice,
        sessions=(*state.sessions, record),
        fire=state.fire if goes_on else replace(state.fire, lit=False),
        paused=False,
        ended=False,
    )


def session_now(state: State, **changes: object) -> State:
    """The state with the record of the running session changed."""
    if not state.sessions:
        return state
    index = place_of_session(state)
    sessions = list(state.sessions)
    sessions[index] = replace(sessions[index], **changes)
    return replace(state, sessions=tuple(sessions))  # type: ignore[no-any-return]


def fire_lit(state: State, fact: FireLit) -> State:
    """Lit, or lit again: nothing is in it. What was left in it lies there, its heat unknown."""
    for piece in in_fire(state):
        state = put(state, moved(state, piece, WAITING, where="in the cold fire"))
    fire = Fire(
        lit=True,
        name=fact.fire,
        kind=fact.fire_kind,
        places=fact.places,
        since_s=state.moment.rest_s,
    )
    state = replace(state, fire=fire, method=fact.method, light=fact.light, air_degc=fact.air_degc)
    return session_now(state, fire=fact.fire, method=fact.method, fire_lit_s=state.moment.rest_s)


def fire_stayed(state: State, fact: FireStayed) -> State:
    """The fire burnt on."""
    return replace(state, fire=replace(state.fire, lit=True))  # type: ignore[no-any-return]


def fire_went_out(state: State, fact: FireWentOut) -> State:
    """What was in the fire lies in it, cooling."""
    for piece in in_fire(state):
        fire_s = piece.fire_s + state.moment.rest_s - piece.since_s
        state = put(state, moved(state, piece, WAITING, where="in the fire", fire_s=fire_s))
        state = marked_hot(state, piece.id, fact.hot.get(piece.id))
    return replace(state, fire=replace(state.fire, lit=False))  # type: ignore[no-any-return]


def method_changed(state: State, fact: MethodChanged) -> State:
    """Hand, striker, power or press."""
    return replace(state, method=fact.method)  # type: ignore[no-any-return]


def paused(state: State, fact: Paused) -> State:
    """Work clocks stand from this press on."""
    return replace(state, paused=True)  # type: ignore[no-any-return]


def resumed(state: State, fact: Resumed) -> State:
    """Work clocks go on from this press on."""
    return replace(state, paused=False)  # type: ignore[no-any-return]


def day_ended(state: State, fact: DayEnded) -> State:
    """The session is over and the fire goes out."""
    state = replace(state, ended=True, fire=replace(state.fire, lit=False))
    return session_now(state, ended=True, where=fact.where, ended_s=state.moment.rest_s)


def fuel_used(state: State, fact: FuelUsed) -> State:
    """What a session burnt; the session need not be one that this fold has read."""
    if not fact.kg > 0.0:
        raise CannotBe("the fuel that was burnt weighs more than nothing")
    burnt = FuelRecord(
        kg=fact.kg,
        fire=fact.fire,
        fire_kind=fact.fire_kind,
        before_kg=fact.before_kg,
        after_kg=fact.after_kg,
    )
    return replace(state, fuel={**state.fuel, fact.session: burnt})  # type: ignore[no-any-return]
