"""One key, as it arrives: bounces are dropped, the four keys mean what the line says, the
further keys are short ways to the same deeds."""

from __future__ import annotations

import msgspec

from forgelog.floor.alarms import alarms
from forgelog.floor.along import with_what_comes_along
from forgelog.floor.keys import keys
from forgelog.floor.list_breaks import cut_off
from forgelog.floor.meaning import Deed, Here, after, first_choice, hurry, lapsed
from forgelog.floor.numbers import numbered
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import BIG_KEYS, ELSE, TAB, Listing, Pressed, Stand
from forgelog.units import UnitError, parse_length
from forgelog.work.apply import settle
from forgelog.work.facts import Gauged, Noted, Paused
from forgelog.work.moments import Moment
from forgelog.work.queries import in_hand, steps_of
from forgelog.work.state import State

BOUNCE_S = 0.8
"""The same key within this of its last arrival is a bounce or a held key. TAB: 0.25 s."""
TAB_BOUNCE_S = 0.25
NOTE_MOST = 400
"""Letters of a note that are kept."""

_LISTS_BY_KEY = {"m": "method", "g": "gauges", "r": "rested", "c": "watered"}


def begin(state: State, now: Moment, settings: FloorSettings) -> Stand:
    """The stand at the beginning of a session: the first thing of the advice is chosen.

    After a power cut the fire is asked about first: what is in it may have burnt, or lie cold.
    """
    held = in_hand(state)
    chosen = held.id if held else first_choice(settle(state, now), now, settings)
    listing = Listing(kind="power") if cut_off(state) else None
    return Stand(chosen=chosen, listing=listing)


def press(state: State, stand: Stand, key: str, now: Moment, settings: FloorSettings) -> Pressed:
    """What comes of a key that arrived now.

    Args:
        state: What stands.
        stand: Where the smith stands at the screen.
        key: space, enter, tab, backspace, a digit, one of r c g n m p v ? q, or "text:..." for a
            line of text that was typed ("text:" alone leaves the entry).
        now: Shop time.
        settings: Of this floor.

    Returns:
        The facts (perhaps none) and the new stand. Never without an effect or a reason.
    """
    state = settle(state, now)
    stand = _heard(state, stand, now, settings)
    if key.startswith("text:"):
        return _typed(state, stand, key[5:], now, settings)
    if _bounced(stand, key, now, settings):
        kept = {**stand.arrived, key: now.rest_s}
        ignored = f"{key.upper()} came twice: counted once"
        return Pressed(stand=msgspec.structs.replace(stand, arrived=kept, message=ignored))
    arrived = {**stand.arrived, key: now.rest_s}
    stand = msgspec.structs.replace(stand, arrived=arrived)
    if key in BIG_KEYS:
        deed = keys(state, stand, now, settings, only=key)[key].deed()
    else:
        deed = _further(Here(state=state, stand=stand, now=now, settings=settings), key)
    then = msgspec.structs.replace(deed.stand, arrived=arrived)
    if not deed.facts and not then.message and then == msgspec.structs.replace(stand, message=""):
        then = msgspec.structs.replace(then, message="nothing has changed by that")
    return Pressed(facts=with_what_comes_along(state, deed.facts), stand=then)


def _heard(state: State, stand: Stand, now: Moment, settings: FloorSettings) -> Stand:
    """Any key quiets what rings, and sees that a lapsed question is gone."""
    ringing = {a.id for a in alarms(state, now, settings)}
    stand = msgspec.structs.replace(stand, quiet=frozenset(ringing))
    if stand.asking is not None and lapsed(stand.asking, now, settings):
        stand = msgspec.structs.replace(stand, asking=None)
    return stand


def _bounced(stand: Stand, key: str, now: Moment, settings: FloorSettings) -> bool:
    last = stand.arrived.get(key)
    if last is None or key not in BIG_KEYS:
        return False
    limit_s = (TAB_BOUNCE_S if key == TAB else BOUNCE_S) * hurry(settings)
    return 0 <= now.rest_s - last < limit_s


def _typed(state: State, stand: Stand, text: str, now: Moment, settings: FloorSettings) -> Pressed:
    here = Here(state=state, stand=stand, now=now, settings=settings)
    words = " ".join(text.split())[:NOTE_MOST]
    entry, piece = stand.entry, stand.entry_piece
    if not entry or not words:
        return Pressed(stand=here.clear(entry_piece=""))
    if entry == "note":
        on = piece if piece in state.pieces else ""
        facts = (Noted(words=words, workpiece=on),)
        return Pressed(facts=facts, stand=after(here, facts, message="noted", entry_piece=""))
    step_id, _, number = entry.removeprefix("size:").rpartition(":")
    workpiece = state.pieces[piece]
    step = next(s for s in steps_of(state, workpiece) if s.id == step_id)
    gauge = step.gauges[int(number)]
    try:
        mm = parse_length(words)
    except UnitError as problem:
        again = msgspec.structs.replace(stand, message=str(problem))
        return Pressed(stand=again)
    fits = -gauge.minus_mm <= mm - gauge.mm <= gauge.plus_mm
    gauged = (Gauged(workpiece=piece, step=step_id, what=gauge.what, fits=fits, mm=mm),)
    return Pressed(facts=gauged, stand=after(here, gauged, message="gauged", entry_piece=""))


def _further(here: Here, key: str) -> Deed:
    """Keys that are never needed."""
    state, stand = here.state, here.stand
    if key.isdigit() and len(key) == 1 and key != "0":
        held = in_hand(state)
        if held is not None:
            return Deed(stand=here.clear(message="a piece is in hand"))
        pieces = numbered(state, here.now)
        index = int(key) - 1
        if index < len(pieces):
            message = "it is chosen already" if pieces[index] == stand.chosen else ""
            return Deed(stand=here.clear(chosen=pieces[index], message=message))
        return Deed(stand=here.clear(message=f"there is no piece {key}"))
    if key == "v":
        return Deed(stand=msgspec.structs.replace(stand, far=not stand.far))
    if key in ("?", "question_mark", "h"):
        return Deed(stand=here.clear(verb_help=not stand.verb_help))
    if state.paused:
        return Deed(stand=here.clear(message="paused: any of the four keys goes on"))
    if key in _LISTS_BY_KEY:
        held = in_hand(state)
        if key == "c" and held is not None:
            return Deed(stand=here.clear(listing=Listing(kind="water", piece=held.id)))
        return Deed(stand=here.clear(listing=Listing(kind=_LISTS_BY_KEY[key])))
    if key == "n":
        on = stand.chosen if stand.chosen != ELSE else ""
        return Deed(stand=here.clear(entry="note", entry_piece=on))
    if key == "p":
        held = in_hand(state)
        if held is not None:
            return Deed(stand=here.clear(listing=Listing(kind="pause", piece=held.id)))
        facts = (Paused(),)
        return Deed(facts=facts, stand=after(here, facts))
    if key == "q":
        return Deed(stand=here.clear(listing=Listing(kind="lie")))
    return Deed(stand=msgspec.structs.replace(stand, message=f"the key {key[:12]} does nothing"))
