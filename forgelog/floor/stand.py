"""Where the smith stands at the screen: the chosen card, an open question or list.

None of this is in the journal: it is what the next key would mean, not what happened.
"""

from __future__ import annotations

import msgspec

SPACE, ENTER, TAB, BACKSPACE = BIG_KEYS = ("space", "enter", "tab", "backspace")

ELSE = "something else"
"""The card that leads to pause, mends and the end of the day."""


END = "the end"
"""The card that says that all is finished, and where each key leads."""


class Asking(msgspec.Struct, frozen=True, kw_only=True):
    """An open question. It is answered by the other key and lapses."""

    words: str
    """"2:50 short: may crack at the shoulder"."""
    yes: str
    """What the other key then does, as on the line: "take it up all the same"."""
    act: str
    """Name of the act that is done on yes."""
    piece: str = ""
    asked_by: str = SPACE
    at_s: float = 0.0

    @property
    def answered_by(self) -> str:
        """The key that says yes."""
        return ENTER if self.asked_by == SPACE else SPACE


class Listing(msgspec.Struct, frozen=True, kw_only=True):
    """An open list: TAB moves, ENTER takes, SPACE leaves."""

    kind: str
    """Which list: trouble, else, pieces, steps, sizes, method, ..."""
    piece: str = ""
    detail: str = ""
    """What the list needs besides: step id, gauge name."""
    at: int = 0


class Stand(msgspec.Struct, frozen=True, kw_only=True):
    """The smith's place at the screen."""

    chosen: str = ""
    """Workpiece id, ELSE or END; "" before the first view."""
    asking: Asking | None = None
    listing: Listing | None = None
    entry: str = ""
    """What a line of text is being asked for: "note"; "" when none is."""
    entry_piece: str = ""
    done_words: str = ""
    message: str = ""
    visited: tuple[str, ...] = ()
    """Cards that TAB has shown since the last other key."""
    arrived: dict[str, float] = {}
    """When each key last arrived, counted or not. Rest clock, seconds."""
    quiet: frozenset[str] = frozenset()
    """Alarms that a key has quieted."""
    far: bool = False
    leave: bool = False
    verb_help: bool = False
    paused_at_s: float = 0.0


class Pressed(msgspec.Struct, frozen=True, kw_only=True):
    """What came of a key."""

    facts: tuple[object, ...] = ()
    """Facts for the journal; none when the key only moved the choice or said why not."""
    stand: Stand
