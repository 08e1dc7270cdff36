"""A key's meaning: the words that the line prints and the deed that the press does."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from forgelog.floor.advice import advise, rest_left_s
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import END, Asking, Listing, Stand
from forgelog.work.apply import happened
from forgelog.work.facts import AnyFact, DayEnded, Redone, RestStarted, StepFinished
from forgelog.work.moments import Moment
from forgelog.work.queries import in_hand, live, steps_of
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, State

LAPSE_S = 10.0
"""An open question lapses after this, by the smith's watch."""
WORDS_MOST = 34
"""Letters that a key's meaning may have."""

Facts = tuple[AnyFact, ...]


class Deed(msgspec.Struct, frozen=True, kw_only=True):
    """What a key does."""

    facts: Facts = ()
    stand: Stand


class Meaning(msgspec.Struct, frozen=True, kw_only=True):
    """One key: what it says and what it does."""

    words: str
    deed: Callable[[], Deed]
    """Worked out only when the key is pressed."""
    live: bool = True
    """False where the press only says why not."""


class Here(msgspec.Struct, frozen=True, kw_only=True):
    """All that a meaning hangs on."""

    state: State
    stand: Stand
    now: Moment
    settings: FloorSettings

    def clear(self, **changes: object) -> Stand:
        """The stand after a press that was heard: questions and words of before are gone."""
        plain = msgspec.structs.replace(
            self.stand,
            asking=None,
            listing=None,
            entry="",
            done_words="",
            message="",
            visited=(),
            verb_help=False,
        )
        return msgspec.structs.replace(plain, **changes)


def hurry(settings: FloorSettings) -> float:
    """Shop seconds in one second of the smith's own watch: more in practice.

    Above 20 the clock is for machines that press keys, so it no longer counts as the smith's.
    """
    return min(max(settings.practice, 1.0), 20.0)


def lapsed(asking: Asking, now: Moment, settings: FloorSettings) -> bool:
    """Whether the question has gone unanswered for too long."""
    return now.rest_s - asking.at_s > LAPSE_S * hurry(settings)


def fit(words: str, most: int = WORDS_MOST) -> str:
    """Words cut to what a key line holds, at a word where possible."""
    if len(words) <= most:
        return words
    cut = words[: most - 1].rsplit(" ", 1)[0].rstrip(" ,:")
    return f"{cut}…" if cut else words[:most]


def says(words: str, stand: Stand, why: str = "") -> Meaning:
    """A key that does nothing now, and says why."""
    cleared = msgspec.structs.replace(stand, message=why or words, done_words="")
    return Meaning(words=fit(words), deed=lambda: Deed(stand=cleared), live=False)


def does(here: Here, words: str, facts: Callable[[], Facts], **stand: object) -> Meaning:
    """A key that makes something happen; the choice is made anew from what follows."""

    def deed() -> Deed:
        done = facts()
        return Deed(facts=done, stand=after(here, done, **stand))

    return Meaning(words=fit(words), deed=deed)


def after(here: Here, facts: Facts, **changes: object) -> Stand:
    """The stand after some facts: the words of what was done, and the next choice.

    The choice stays with the piece while a key can go on with it (in the fire, in hand, on the
    bench); once it rests, lies aside or is finished the first thing of the advice is chosen.
    """
    state = _led_to(here.state, facts)
    stand = here.clear(done_words=done_words(here.state, facts), **changes)
    if any(isinstance(f, DayEnded) for f in facts):
        return msgspec.structs.replace(stand, leave=True)
    chosen = state.pieces.get(stand.chosen)
    if chosen is not None and chosen.place in (FIRE, HAND, BENCH):
        return stand
    held = in_hand(state)
    if held is not None:
        return msgspec.structs.replace(stand, chosen=held.id)
    return msgspec.structs.replace(
        stand, chosen=first_choice(state, here.now, here.settings, stand.chosen)
    )


def _led_to(state: State, facts: Facts) -> State:
    """What stands after these facts; after a put-back, what stood before the undo."""
    if any(isinstance(f, Redone) for f in facts):
        return state.undone[-1]
    return happened(state, facts)


def first_choice(state: State, now: Moment, settings: FloorSettings, old: str = "") -> str:
    """The first thing of the advice; else a piece that is still under way; else the end."""
    advice = advise(state, now, settings)
    if advice:
        return advice[0].piece
    under_way = [p for p in state.pieces.values() if live(p)]
    resting = sorted(
        (p for p in under_way if p.place == RESTING), key=lambda p: (rest_left_s(p, now), p.id)
    )
    if resting:
        return resting[0].id
    if under_way:
        return old if old in {p.id for p in under_way} else under_way[0].id
    return END


def done_words(state: State, facts: Facts) -> str:
    """What was finished by these facts, as it stands large on the screen."""
    for fact in facts:
        if isinstance(fact, StepFinished):
            piece = state.pieces[fact.workpiece]
            for step in steps_of(state, piece):
                if step.id == fact.step:
                    return step.done.upper()
        if isinstance(fact, RestStarted) and fact.from_fire:
            return "OUT TO COOL"
    return ""


def asks(here: Here, asking: Asking, key: str, words: str) -> Meaning:
    """A key that opens a question; the other key answers it."""
    asked = msgspec.structs.replace(asking, asked_by=key)
    return Meaning(words=fit(words), deed=lambda: Deed(stand=here.clear(asking=asked)), live=False)


def opens(here: Here, kind: str, piece: str, words: str, detail: str = "") -> Meaning:
    """A key that opens a list."""
    stand = here.clear(listing=Listing(kind=kind, piece=piece, detail=detail))
    return Meaning(words=words, deed=lambda: Deed(stand=stand))
