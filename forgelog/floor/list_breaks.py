"""Lists of breaks in the work: a pause with a piece in hand, and the return after a power cut."""

from __future__ import annotations

from forgelog.floor import acts, day_acts
from forgelog.floor.choices import Choice, Made, piece_of
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.work.facts import FireStayed, Paused
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire
from forgelog.work.state import State


def pause(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Where the piece in hand lies while work stands still."""
    piece = piece_of(listing, state)
    return "pause: where does it lie?", (
        Choice(words="back in the fire", facts=(*acts.heat_over(state, piece, now), Paused())),
        Choice(words="aside", facts=(*acts.heat_over(state, piece, now, to="aside"), Paused())),
        Choice(words="in hand: the heat goes on", facts=(Paused(),)),
    )


def power(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """The first question after a power cut: nobody but the smith saw the fire meanwhile."""
    return "the power was off: did the fire burn on?", (
        Choice(words="it burnt on: look at what is in it", facts=(FireStayed(),)),
        Choice(words="it went out", facts=day_acts.fire_out(state, now)),
    )


def cut_off(state: State) -> bool:
    """Whether this session goes on after one that was cut off with pieces in the fire."""
    here = next((s for s in state.sessions if s.id == state.session), None)
    return bool(here and here.continues and state.fire.lit and in_fire(state))
