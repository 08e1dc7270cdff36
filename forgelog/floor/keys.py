"""What each of the four keys means now: its words and its deed, from one place.

The bottom line prints the words, the press does the deed, so the line can never lie. A key that can
do nothing says why. Meanings hang on the chosen piece only; a piece in hand outranks all.
"""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from forgelog.floor import acts
from forgelog.floor.advice import Advice, advise, next_step, rest_left_s, room, wants_heat
from forgelog.floor.blocks import block, waits_for_temper, waived
from forgelog.floor.lists import open_list
from forgelog.floor.names import ready_like, short_name
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import (
    BACKSPACE,
    ELSE,
    ENTER,
    SPACE,
    TAB,
    Asking,
    Listing,
    Stand,
)
from forgelog.floor.words import undo_words
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.units import show_clock
from forgelog.work.apply import happened
from forgelog.work.facts import (
    AnyFact,
    BenchBegun,
    BenchStopped,
    DayEnded,
    FireLit,
    LotCounted,
    Paused,
    RecipePinned,
    Resumed,
    SessionBegan,
    Undone,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import in_hand, live, order_open, step_of, steps_of
from forgelog.work.state import (
    BENCH,
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    RESTING,
    SCRAPPED,
    WAITING,
    State,
    Workpiece,
)

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


def keys(state: State, stand: Stand, now: Moment, settings: FloorSettings) -> dict[str, Meaning]:
    """The meanings of SPACE, ENTER, TAB and BACKSPACE at this moment.

    Args:
        state: What stands, with rests that pass by themselves already passed (`settle`).
        stand: Where the smith stands at the screen.
        now: Shop time.
        settings: Of this floor.
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
        return {**_in_hand(here, held), BACKSPACE: _undo(here)}
    own = {TAB: _next_card(here), BACKSPACE: _undo(here)}
    if stand.chosen == ELSE:
        return {**_something_else(here), **own}
    piece = state.pieces.get(stand.chosen)
    if piece is None or all_finished(state):
        return {**_finished(here), **own}
    if piece.place in (WAITING, FIRE, RESTING):
        piece = _longest(state, piece)
    return {**_of_piece(here, piece), **own}


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


def _longest(state: State, piece: Workpiece) -> Workpiece:
    """Of alike pieces the one that has been there longest is taken."""
    if piece.place == WAITING:
        return ready_like(state, piece)[0]
    return piece


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
    state = happened(here.state, facts)
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


def first_choice(state: State, now: Moment, settings: FloorSettings, old: str = "") -> str:
    """The first thing of the advice; else a piece that is still under way; else the old choice."""
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
    return old


def done_words(state: State, facts: Facts) -> str:
    """What was finished by these facts, as it stands large on the screen."""
    from forgelog.work.facts import RestStarted, StepFinished

    for fact in facts:
        if isinstance(fact, StepFinished):
            piece = state.pieces[fact.workpiece]
            for step in steps_of(state, piece):
                if step.id == fact.step:
                    return step.done.upper()
        if isinstance(fact, RestStarted) and fact.from_fire:
            return "OUT TO COOL"
    return ""


def all_finished(state: State) -> bool:
    """Whether nothing of the open orders is still under way."""
    return not any(live(p) for p in state.pieces.values() if order_open(state.orders[p.order]))


# Paused, asked, listed


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
        here, asking.yes, lambda: _ACTS[asking.act](here, asking.piece)
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


# In hand


def _in_hand(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    step = step_of(here.state, piece)
    if step is None:
        return {
            SPACE: says("all its steps are done", here.stand),
            ENTER: does(
                here,
                "lay it aside",
                lambda: acts.heat_over(here.state, piece, here.now, to="aside"),
            ),
            TAB: _open(here, "trouble", piece.id, "trouble, lay aside"),
        }
    to = acts.where_to(here.state, piece, here.settings)
    if step.kind == "gauge":
        return {
            SPACE: does(
                here,
                "does not fit: go on with it",
                lambda: acts.does_not_fit(here.state, piece, here.now),
            ),
            ENTER: does(
                here,
                f"it fits: {_GOES[to]}",
                lambda: acts.fits(here.state, piece, here.now, here.settings),
            ),
            TAB: _open(here, "trouble", piece.id, "trouble, lay aside"),
        }
    if here.state.fire.lit:
        space = does(
            here,
            "heat over, back in the fire",
            lambda: acts.heat_over(here.state, piece, here.now),
            chosen=piece.id,
        )
    else:
        space = says("the fire is out: lay it aside", here.stand)
    return {
        SPACE: space,
        ENTER: _step_done(here, piece, step, to),
        TAB: _open(here, "trouble", piece.id, "trouble, lay aside"),
    }


_GOES = {
    "rest": "let it rest",
    "hand": "go on, same heat",
    "fire": "back in the fire",
    "aside": "lay it aside",
    "done": "all done",
}


def _step_done(here: Here, piece: Workpiece, step: Step, to: str) -> Meaning:
    if piece.lot and piece.counted + 1 < piece.lot:
        return does(
            here,
            f"one more done: {piece.counted + 1} of {piece.lot}",
            lambda: (LotCounted(workpiece=piece.id, step=step.id),),
            chosen=piece.id,
        )

    def facts() -> Facts:
        count: Facts = (LotCounted(workpiece=piece.id, step=step.id),) if piece.lot else ()
        return (*count, *acts.finish(here.state, piece, here.now, here.settings))

    goes = _GOES[to]
    if step.kind == "harden":
        goes = "temper at once"
    words = f"{step.done}: {goes}"
    if len(words) > WORDS_MOST:
        words = f"done: {goes}" if len(step.done) > WORDS_MOST - 8 else f"{step.done}: {_SHORT[to]}"
    if len(words) > WORDS_MOST:
        words = f"done: {goes}"
    return does(here, words, facts, chosen=piece.id)


_SHORT = {"rest": "rest", "hand": "go on", "fire": "to the fire", "aside": "aside", "done": "done"}


def _open(here: Here, kind: str, piece: str, words: str) -> Meaning:
    stand = here.clear(listing=Listing(kind=kind, piece=piece))
    return Meaning(words=words, deed=lambda: Deed(stand=stand))


# Nothing in hand


def _of_piece(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    if piece.place == SCRAPPED:
        return _nothing(here, "scrapped")
    if piece.place in (FINISHED, FITTED):
        return _nothing(here, "it is finished" if piece.place == FINISHED else "it is fitted")
    if piece.place == FIRE:
        return _in_the_fire(here, piece)
    if piece.place == BENCH:
        return _on_the_bench(here, piece)
    if piece.place == RESTING:
        if rest_left_s(piece, here.now) > 0:
            return _rests(here, piece)
        if next_step(here.state, piece) is None:
            return _nothing(here, "it is finished")
    step = next_step(here.state, piece)
    if step is None:
        return _nothing(here, "it is finished")
    return _ready(here, piece, step)


def _nothing(here: Here, words: str) -> dict[str, Meaning]:
    return {
        SPACE: says(words, here.stand, f"{words}: TAB shows what is next"),
        ENTER: says(words, here.stand, f"{words}: TAB shows what is next"),
    }


def _in_the_fire(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    step = step_of(here.state, piece)
    words = "out of the fire, into the hand"
    if step is not None and step.kind == "harden":
        words = f"out and into the {step.quench or 'oil'}"
    elif step is not None and step.kind in HEAT_KINDS:
        words = "out to cool"
    if step is None:
        return _nothing(here, "all its steps are done")
    return {
        SPACE: does(
            here, words, lambda: acts.take_out(here.state, piece, here.now), chosen=piece.id
        ),
        ENTER: says("it is in the fire", here.stand, "it is in the fire: SPACE takes it out"),
    }


def _on_the_bench(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    step = step_of(here.state, piece)
    if step is None:
        return _nothing(here, "all its steps are done")
    if piece.running:
        space = does(here, "stop the bench clock", lambda: (BenchStopped(workpiece=piece.id),))
    else:
        space = does(
            here, "go on at the bench", lambda: (BenchBegun(workpiece=piece.id, step=step.id),)
        )
    to = "rest" if acts.rests_after(steps_of(here.state, piece), piece.step) else "aside"
    if piece.step + 1 >= len(steps_of(here.state, piece)):
        to = "done"
    return {SPACE: space, ENTER: _step_done(here, piece, step, to)}


def _rests(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    left_s = rest_left_s(piece, here.now)
    step = next_step(here.state, piece)
    rest = piece.rest
    assert rest is not None
    if step is None:
        return _nothing(here, "it rests, then it is finished")
    risk = "it may crack" if rest.skipping == "matters" else "worked on too cold it may crack"
    if rest.cycle:
        risk = "this cycle would not count"
    asking = Asking(
        words=f"about {show_clock(left_s)} short: {risk}",
        yes="end the rest now",
        act="end the rest",
        piece=piece.id,
        at_s=here.now.rest_s,
    )
    return {
        SPACE: _ask(here, asking, SPACE, f"rests, about {show_clock(left_s)} more"),
        ENTER: _ask(here, asking, ENTER, f"rests, about {show_clock(left_s)} more"),
    }


def _ask(here: Here, asking: Asking, key: str, words: str) -> Meaning:
    asked = msgspec.structs.replace(asking, asked_by=key)
    return Meaning(words=fit(words), deed=lambda: Deed(stand=here.clear(asking=asked)), live=False)


def _ready(here: Here, piece: Workpiece, step: Step) -> dict[str, Meaning]:
    """Waiting, or its rest is done: the next step can begin, if nothing stands against it."""
    state, stand = here.state, here.stand
    if step.kind == "rest":
        asking = Asking(
            words="it has not rested at all",
            yes="skip the rest",
            act="skip the rest",
            piece=piece.id,
            at_s=here.now.rest_s,
        )
        return {
            SPACE: _ask(here, asking, SPACE, "it wants its rest first"),
            ENTER: does(here, "let it rest", lambda: acts.lay_to_rest(state, piece, here.now)),
        }
    blocked = block(state, piece, step, here.settings)
    if blocked is not None and not waived(piece, step, blocked.kind):
        if blocked.firm:
            return {
                SPACE: says(blocked.words, stand),
                ENTER: says(blocked.words, stand),
            }
        heated = wants_heat(step)
        asking = Asking(
            words=blocked.words,
            yes="take it all the same",
            act=f"take anyway: {blocked.kind}",
            piece=piece.id,
            at_s=here.now.rest_s,
        )
        if heated and room(state) < 1:
            return {SPACE: _no_room(here), ENTER: says(blocked.words, stand)}
        return {
            SPACE: _ask(here, asking, SPACE, blocked.words),
            ENTER: _ask(here, asking, ENTER, blocked.words),
        }
    if step.kind == "gauge":
        return {
            SPACE: does(
                here,
                "does not fit: the step again",
                lambda: acts.does_not_fit(state, piece, here.now),
            ),
            ENTER: does(here, "it fits", lambda: acts.fits(state, piece, here.now, here.settings)),
        }
    if wants_heat(step):
        if room(state) < 1:
            space = _no_room(here)
        else:
            space = does(
                here,
                "put it in the fire",
                lambda: acts.put_in(state, piece, here.now),
                chosen=piece.id,
            )
        return {SPACE: space, ENTER: says("it wants a heat first", stand)}
    return {
        SPACE: says("no heat wanted: ENTER begins", stand),
        ENTER: does(
            here,
            f"begin: {step.do}",
            lambda: acts.begin_cold(state, piece, here.now),
            chosen=piece.id,
        ),
    }


def _no_room(here: Here) -> Meaning:
    if not here.state.fire.lit:
        return says("the fire is out", here.stand, "the fire is out: see something else")
    held = here.state.fire.places
    return says(f"the fire is full: {held} of {held}", here.stand)


def _finished(here: Here) -> dict[str, Meaning]:
    """Everything is finished, or there is no piece at all."""
    if not here.state.pieces or not all_finished(here.state):
        return _nothing(here, "nothing is chosen")
    return {
        SPACE: says("nothing is left to heat", here.stand),
        ENTER: does(here, "end the session, go home", lambda: _ACTS["end of the day"](here, "")),
    }


def _something_else(here: Here) -> dict[str, Meaning]:
    return {
        SPACE: does(here, "pause", lambda: (Paused(),)),
        ENTER: _open(here, "else", "", "open the list"),
    }


def cards(state: State, now: Moment, settings: FloorSettings) -> tuple[str, ...]:
    """What TAB goes through: three of the advice, something else, then the other pieces."""
    advice: tuple[Advice, ...] = advise(state, now, settings)
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


def _next_card(here: Here) -> Meaning:
    """TAB: the first card that it has not shown since another key was pressed."""
    cycle = cards(here.state, here.now, here.settings)
    shown = {*here.stand.visited, here.stand.chosen}
    left = [c for c in cycle if c not in shown]
    card = left[0] if left else (cycle[0] if cycle else ELSE)
    words = ELSE if card == ELSE else short_name(here.state, here.state.pieces[card])

    def deed() -> Deed:
        visited = (*here.stand.visited, here.stand.chosen) if left else ()
        return Deed(stand=here.clear(chosen=card, visited=visited))

    return Meaning(words=fit(f"next: {words}"), deed=deed)


def _undo(here: Here) -> Meaning:
    state = here.state
    fixed = (SessionBegan, FireLit, RecipePinned)
    if state.before is None or any(isinstance(f, fixed) for f in state.made_of):
        return says("nothing to undo", here.stand)
    words = undo_words(state)
    session, press = state.made_by

    def deed() -> Deed:
        fact = Undone(press=press, session="" if session == state.session else session)
        chosen = _chosen_by_undo(state, here.stand)
        return Deed(facts=(fact,), stand=here.clear(chosen=chosen, message=f"undone: {words}"))

    return Meaning(words=fit(f"undo: {words}"), deed=deed)


def _chosen_by_undo(state: State, stand: Stand) -> str:
    """The piece that the undone press was about."""
    for fact in state.made_of:
        workpiece = getattr(fact, "workpiece", "")
        if workpiece and state.before is not None and workpiece in state.before.pieces:
            return str(workpiece)
    return stand.chosen


# What a question leads to


def _end_rest(here: Here, workpiece: str) -> Facts:
    piece = here.state.pieces[workpiece]
    step = next_step(here.state, piece)
    if step is not None and wants_heat(step) and room(here.state) > 0:
        blocked = block(here.state, piece, step, here.settings)
        if blocked is None:
            return acts.put_in(here.state, piece, here.now)
    return acts.rest_over(here.state, piece, here.now)


def _skip_rest(here: Here, workpiece: str) -> Facts:
    return acts.skip_rest(here.state, here.state.pieces[workpiece], here.now)


def _end_day(here: Here, _: str) -> Facts:
    where = here.stand.entry_piece or "where it is"
    return (*acts.clear_away(here.state, here.now, where), DayEnded(where=where))


def _take_anyway(kind: str) -> Callable[[Here, str], Facts]:
    def facts(here: Here, workpiece: str) -> Facts:
        piece = here.state.pieces[workpiece]
        step = next_step(here.state, piece)
        if step is not None and wants_heat(step):
            return acts.anyway(piece, kind, acts.put_in(here.state, piece, here.now))
        if step is not None and step.kind == "gauge":
            return acts.anyway(piece, kind, acts.rest_over(here.state, piece, here.now))
        return acts.anyway(piece, kind, acts.begin_cold(here.state, piece, here.now))

    return facts


_ACTS: dict[str, Callable[[Here, str], Facts]] = {
    "end the rest": _end_rest,
    "skip the rest": _skip_rest,
    "end of the day": _end_day,
    **{f"take anyway: {kind}": _take_anyway(kind) for kind in ("set", "tool", "lock")},
}
