"""Facts of what went wrong, and what was made of it."""

from __future__ import annotations

from forgelog.work.facts.base import Fact, NewPiece


class EndCutOff(Fact, frozen=True, kw_only=True, tag="end cut off"):
    """A burnt or spoilt end came off."""

    workpiece: str
    why: str = "burnt"
    lost_mm: float | None = None


class Cracked(Fact, frozen=True, kw_only=True, tag="cracked"):
    """A crack or cold shut was found; the piece is still worked on."""

    workpiece: str
    words: str = ""


class Scrapped(Fact, frozen=True, kw_only=True, tag="scrapped"):
    """Spoilt. `remake` is the new workpiece in the same slot, where one is made."""

    workpiece: str
    why: str
    heat: int = 0
    """In which heat of its step."""
    remake: NewPiece | None = None


class MadeAgain(Fact, frozen=True, kw_only=True, tag="made again"):
    """A piece that was scrapped for good is made again after all: a new workpiece in its slot."""

    workpiece: str
    """The scrapped one."""
    remake: NewPiece


class SpareUsed(Fact, frozen=True, kw_only=True, tag="spare used"):
    """A spare takes the slot of a piece that was scrapped."""

    workpiece: str
    """The spare."""
    instead_of: str
    """The scrapped one."""


class Swapped(Fact, frozen=True, kw_only=True, tag="swapped"):
    """It was the other piece that the smith held."""

    workpiece: str
    other: str


class TakenAnyway(Fact, frozen=True, kw_only=True, tag="taken anyway"):
    """The smith took a piece that was blocked, and was told why: set, assembly, tool or lock."""

    workpiece: str
    reason: str
