"""One line of a list, and what a list is made of."""

from __future__ import annotations

import msgspec

from forgelog.floor.stand import Listing
from forgelog.work.facts import AnyFact
from forgelog.work.state import State, Workpiece

Facts = tuple[AnyFact, ...]


class Choice(msgspec.Struct, frozen=True, kw_only=True):
    """One line of a list."""

    words: str
    facts: Facts = ()
    opens: Listing | None = None
    entry: str = ""
    """Opens a line of text for this."""
    message: str = ""
    asks: str = ""
    """Name of an act that is asked about first."""


class ListOf(msgspec.Struct, frozen=True, kw_only=True):
    """A list as it stands now."""

    title: str
    choices: tuple[Choice, ...]


Made = tuple[str, tuple[Choice, ...]]
"""Title and choices."""


def piece_of(listing: Listing, state: State) -> Workpiece:
    """The piece that the list is about."""
    return state.pieces[listing.piece]


def to(kind: str, piece: str = "", detail: str = "") -> Listing:
    """A list to open."""
    return Listing(kind=kind, piece=piece, detail=detail)
