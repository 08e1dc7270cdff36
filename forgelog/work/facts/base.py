"""What all facts are made of."""

from __future__ import annotations

import msgspec

from forgelog.trade.sections import Section


class Fact(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, tag_field="fact"):
    """Base of all facts."""


class Hot(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How hot a piece was when the fact happened, and how it cools from there."""

    degc: float
    section: Section | None = None
    medium: str = "still air"


class NewPiece(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A workpiece that comes into being."""

    id: str
    component: str
    serial: int
    mark: str = ""
    """Hand or variant: "left"; "" where all are alike."""
    set: int = 1
    """Which set (piece) of the order it is meant for, from 1."""
    slot: str = ""
    """The place in the order that it fills: "strap left 1"."""
    lot: int = 0
    """How many small parts this handful has; 0 for a piece that stands alone."""
    remade_from: str = ""
    spare: bool = False
    """Made beyond the slots of the order, for the case that one is spoilt."""
