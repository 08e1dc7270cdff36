"""What each of the four keys means now: its words and its deed, from one place.

The bottom line prints the words, the press does the deed, so the line can never lie. A key that can
do nothing says why. Meanings hang on the chosen piece only; a piece in hand outranks all.
"""

from __future__ import annotations

import msgspec

from forgelog.floor.advice import Advice, advise
from forgelog.floor.answers import ANSWERS
from forgelog.floor.blocks import waits_for_temper
from forgelog.floor.keys_in_hand import in_hand_keys
from forgelog.floor.keys_of_piece import nothing, piece_keys
from forgelog.floor.lists import open_list
from forgelog.floor.meaning import (
    Deed,
    Here,
    Meaning,
    after,
    does,
    first_choice,
    fit,
    lapsed,
    opens,
    says,
)
from forgelog.floor.names import ready_like, short_name
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import (
    BACKSPACE,
    ELSE,
    END,
    ENTER,
    SPACE,
    TAB,
    Asking,
    Listing,
    Stand,
)
from forgelog.floor.words import undo_words
from forgelog.work.facts import (
    AnyFact,
    FireLit,
    Paused,
    RecipePinned,
    Resumed,
    SessionBegan,
    Undone,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import in_hand, live, order_open
from forgelog.work.state import (
    BENCH,
    FIRE,
    RESTING,
    WAITING,
    State,
    Workpiece,
)

Facts = tuple[AnyFact, ...]


def keys(
    state: State,
    stand: Stand,
    now: Moment,
    settings: FloorSettings,
    *,
    advice: tuple[Advice, ...] | None = None,
    only: str = "",
) -> dict[str, Meaning]:
    """The meanings of SPACE, ENTER, TAB and BACKSPACE at this moment.

    Args:
        state: What stands, with rests that pass by themselves already passed (`settle`).
        stand: Where the smith stands at the screen.
        now: Shop time.
        settings: Of this floor.
        advice: Of this moment, where the caller has it already.
        only: The one key that is wanted: TAB asks for the advice, which the others can do without.
    """
    here = Here(state=state, stand=stand, now=now, settings=settings)
    if state.paused:
        return _paused(here)
    if stand.asking is not None and not lapsed(stand.asking, now, settings):
        return _asked(here, stand.asking)
    if stand.listing is not None:
        return _listed(here, stand.listing)
    held = in_hand(state)
    if held is not None:
        return {**in_hand_keys(here, held), BACKSPACE: _undo(here)}
    own = {BACKSPACE: _undo(here)}
    if only in ("", TAB):
        advice = advise(state, now, settings) if advice is None else advice
        own[TAB] = _next_card(here, advice)
    if stand.chosen == ELSE:
        return {**_something_else(here), **own}
    piece = state.pieces.get(stand.chosen)
    if piece is None or all_finished(state):
        return {**_finished(here), **own}
    if piece.place in (WAITING, FIRE, RESTING):
        piece = _longest(state, piece)
    return {**piece_keys(here, piece), **own}


def _longest(state: State, piece: Workpiece) -> Workpiece:
    """Of alike pieces the one that has been there longest is taken."""
    if piece.place == WAITING:
        return ready_like(state, piece)[0]
    return piece


def all_finished(state: State) -> bool:
    """Whether nothing of the open orders is still under way."""
    return not any(live(p) for p in state.pieces.values() if order_open(state.orders[p.order]))


def _paused(here: Here) -> dict[str, Meaning]:
    def on() -> Meaning:
        return does(here, "go on", lambda: (Resumed(),))

    return {SPACE: on(), ENTER: on(), TAB: on(), BACKSPACE: on()}


def _asked(here: Here, asking: Asking) -> dict[str, Meaning]:
    leave = Meaning(
        words="leave it as it is",
        deed=lambda: Deed(stand=here.clear(message="left as it was")),
    )
    meanings = dict.fromkeys((SPACE, ENTER, TAB, BACKSPACE), leave)
    meanings[asking.answered_by] = does(
        here, asking.yes, lambda: ANSWERS[asking.act](here, asking.piece)
    )
    return meanings


def _listed(here: Here, listing: Listing) -> dict[str, Meaning]:
    made = open_list(listing, here.state, here.now, here.settings)
    at = min(listing.at, len(made.choices) - 1)
    choice = made.choices[at]
    leave = Meaning(words="leave the list", deed=lambda: Deed(stand=here.clear()))

    def take() -> Deed:
        if choice.opens is not None:
            return Deed(stand=here.clear(listing=choice.opens))
        if choice.entry:
            return Deed(stand=here.clear(entry=choice.entry, entry_piece=listing.piece))
        if choice.asks and (question := _end_question(here)):
            return Deed(stand=here.clear(asking=question, entry_piece=choice.words))
        if not choice.facts:
            return Deed(stand=here.clear(message=choice.message))
        return Deed(
            facts=choice.facts,
            stand=after(here, choice.facts, message=choice.words),
        )

    def further() -> Deed:
        if len(made.choices) == 1:
            return Deed(stand=here.clear(listing=listing, message="there is no other choice"))
        moved = msgspec.structs.replace(listing, at=(at + 1) % len(made.choices))
        return Deed(stand=here.clear(listing=moved))

    return {
        SPACE: leave,
        ENTER: Meaning(words=fit(choice.words), deed=take),
        TAB: Meaning(words="next choice", deed=further),
        BACKSPACE: leave,
    }


def _end_question(here: Here) -> Asking | None:
    """Asked at the end of the day while a hardened piece waits for its temper."""
    waiting = waits_for_temper(here.state)
    if not waiting:
        return None
    return Asking(
        words=f"{short_name(here.state, waiting[0])} is hard, not tempered: it may crack",
        yes="end the day all the same",
        act="end of the day",
        asked_by=ENTER,
        at_s=here.now.rest_s,
    )


def _finished(here: Here) -> dict[str, Meaning]:
    """Everything is finished, or there is no piece at all."""
    if not here.state.pieces or not all_finished(here.state):
        return nothing(here, "nothing is chosen")
    return {
        SPACE: says("nothing is left to heat", here.stand),
        ENTER: does(here, "end the session, go home", lambda: ANSWERS["end of the day"](here, "")),
    }


def _something_else(here: Here) -> dict[str, Meaning]:
    return {
        SPACE: does(here, "pause", lambda: (Paused(),)),
        ENTER: opens(here, "else", "", "open the list"),
    }


def cards(state: State, advice: tuple[Advice, ...]) -> tuple[str, ...]:
    """What TAB goes through: three of the advice, something else, then the other pieces.

    Once all is finished, the card that says so and something else.
    """
    if state.pieces and all_finished(state):
        return (END, ELSE)
    first = [a.piece for a in advice[:3]]
    rest = [a.piece for a in advice[3:]]
    named = set(first) | set(rest)
    others = [
        p
        for p in state.pieces.values()
        if live(p) and p.id not in named and order_open(state.orders[p.order])
    ]
    order = {FIRE: 0, RESTING: 1, BENCH: 2, WAITING: 3}
    others.sort(key=lambda p: (order.get(p.place, 4), not p.begun, p.since_s, p.id))
    alike: set[str] = set()
    more = []
    for piece in others:
        if piece.id in alike:
            continue
        if piece.place == WAITING:
            alike.update(p.id for p in ready_like(state, piece))
        more.append(piece.id)
    return (*first, ELSE, *rest, *more)


def _next_card(here: Here, advice: tuple[Advice, ...]) -> Meaning:
    """TAB: the first card that it has not shown since another key was pressed."""
    cycle = cards(here.state, advice)
    finished = bool(here.state.pieces) and all_finished(here.state)
    here_now = END if finished and here.stand.chosen != ELSE else here.stand.chosen
    shown = {*here.stand.visited, here_now}
    left = [c for c in cycle if c not in shown]
    card = left[0] if left else (cycle[0] if cycle else ELSE)
    words = card if card in (ELSE, END) else short_name(here.state, here.state.pieces[card])

    def deed() -> Deed:
        visited = (*here.stand.visited, here_now) if left else ()
        return Deed(stand=here.clear(chosen=card, visited=visited))

    return Meaning(words=fit(f"next: {words}"), deed=deed)


def _undo(here: Here) -> Meaning:
    state = here.state
    if state.before is None or any(_fixed(f) for f in state.made_of):
        return says("nothing to undo", here.stand)
    words = undo_words(state)
    session, press = state.made_by

    def deed() -> Deed:
        fact = Undone(press=press, session="" if session == state.session else session)
        chosen = _chosen_by_undo(here)
        return Deed(facts=(fact,), stand=here.clear(chosen=chosen, message=f"undone: {words}"))

    return Meaning(words=fit(f"undo: {words}"), deed=deed)


def _fixed(fact: AnyFact) -> bool:
    """Whether a fact belongs to the beginning of a session: undo reaches no further back."""
    began = isinstance(fact, FireLit) and bool(fact.orders)
    return began or isinstance(fact, SessionBegan | RecipePinned)


def _chosen_by_undo(here: Here) -> str:
    """The piece that the undone press was about."""
    before = here.state.before
    assert before is not None
    for fact in here.state.made_of:
        workpiece = getattr(fact, "workpiece", "")
        if workpiece in before.pieces:
            return str(workpiece)
    if here.stand.chosen == ELSE or here.stand.chosen in before.pieces:
        return here.stand.chosen
    return first_choice(before, here.now, here.settings)
