"""What the floor shows, in words: the screen only lays it out.

Every text is final (units, dialect, rounding) and harmless to a terminal; nothing here is markup.
Texts that count time are made for one moment; a new View is made whenever the screen is drawn.
"""

from __future__ import annotations

import msgspec


class Shown(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the parts of a view."""


class KeyLine(Shown, frozen=True, kw_only=True):
    """One key of the bottom line."""

    key: str
    """SPACE, ENTER, TAB or BACKSPACE."""
    words: str
    """What a press does now, or why it does nothing. At most 34 letters."""
    live: bool = True
    """False where the press only says why not."""


class FireLine(Shown, frozen=True, kw_only=True):
    """A piece in the fire."""

    number: int
    """The digit that chooses it; 0 where it has none."""
    name: str
    clock: str
    """Time in the fire: "1:40"."""
    look: bool = False
    """It should be looked at: by the sum it may be at its heat."""
    chosen: bool = False


class RestLine(Shown, frozen=True, kw_only=True):
    """A piece that rests."""

    number: int
    name: str
    words: str
    """ "to black, about 2:50 more", "rest done 4 min ago"."""
    due: bool = False
    chosen: bool = False


class HotLine(Shown, frozen=True, kw_only=True):
    """Something that is hot, whatever it looks like."""

    number: int
    name: str
    words: str
    """ "looks black, hand-warm about 14:20"."""


class ListView(Shown, frozen=True, kw_only=True):
    """A list that is open: TAB moves, ENTER takes, SPACE leaves."""

    title: str
    choices: tuple[str, ...]
    at: int
    """Index of the choice that ENTER takes."""


class View(Shown, frozen=True, kw_only=True):
    """The floor at one moment."""

    order: str
    """ "A GATE HINGES · orchard gate"."""
    piece: str
    """ "STRAP · left, 1 of 2"; "" on a card that is no piece."""
    progress: str
    """ "step 5 of 9"."""
    verb: str
    """The card's title, large in both views: "ROLL THE EYE"."""
    verb_short: str
    """At most 10 letters, for the far view: "ROLL"."""
    lines: tuple[str, ...]
    """What and how, the range of heat, gauge, watch, cautions: most needed first."""
    heats: str = ""
    """ "heat 2 of about 3"."""
    heats_from: str = ""
    """ "from 6 of yours"; "" where it is the recipe's plan."""
    clock: str = ""
    """The large running time: "0:23", or "" where nothing runs."""
    clock_words: str = ""
    """What it counts: "in hand", "in the fire", "resting", "at the bench"."""
    heat_left: str = ""
    """ "about 19 s of heat left"."""
    heat_left_share: float | None = None
    """1 at the start of the heat, 0 when it is gone; None where no heat runs."""
    done_words: str = ""
    """What the last press finished, large until the next press: "POINT DRAWN"."""
    message: str = ""
    """One line: why a key did nothing, what was undone, what was ignored."""
    question: str = ""
    """Open question; the keys hold the answers."""
    question_left_s: float | None = None
    list: ListView | None = None
    entry: str = ""
    """A line of text is asked for: "note", "eye, bore". The screen sends it as "text:..."."""
    far: bool = False
    """True where the far view was chosen."""
    fire_title: str = "FIRE"
    """ "FIRE 2 of 3"."""
    fire: tuple[FireLine, ...] = ()
    resting: tuple[RestLine, ...] = ()
    hot: tuple[HotLine, ...] = ()
    next: tuple[str, ...] = ()
    """The advice, first thing first: "a strap, roll the eye: hot now"."""
    status: str = ""
    """ "14:02 · gas · by hand"."""
    keys: tuple[KeyLine, ...] = ()
    """SPACE, ENTER, TAB, BACKSPACE, in this order."""
    alarms: tuple[str, ...] = ()
    """Words of what is to be seen to: "LOOK: strap left"; they stay as long as it holds."""
    rings: tuple[str, ...] = ()
    """Ids of alarms that no key has quieted: one that was not there before rings and flashes."""
    paused: bool = False
    practice: str = ""
    """ "PRACTICE x20"; "" in real work."""
    finished: bool = False
    """All that was begun is finished: the card says where each key leads."""
    leave: bool = False
    """The session is over (end of the day was confirmed): the screen goes home."""
