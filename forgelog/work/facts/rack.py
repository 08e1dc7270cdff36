"""Facts of the rack and of what is cut from it.

They name no order as such, and are written at the desk, so that every look at the book sees them.
"""

from __future__ import annotations

from forgelog.trade.sections import Section
from forgelog.work.facts.base import Fact


class OffcutKept(Fact, frozen=True, kw_only=True, tag="offcut kept"):
    """The rest of a bar went back on the rack under a label."""

    label: str
    section: Section
    long_mm: float
    steel: str = "mild"
    where: str = ""


class OffcutUsed(Fact, frozen=True, kw_only=True, tag="offcut used"):
    """A labelled offcut is gone from the rack; a rest of it is kept anew."""

    label: str


class CutProved(Fact, frozen=True, kw_only=True, tag="cut proved"):
    """A length that was cut, and how the piece came out."""

    recipe: str
    component: str
    cut_mm: float
    over_mm: float = 0.0
    """How much of the bar was too much; below 0 where the piece came out short by that much bar."""
    section: Section | None = None
    asked_mm: float = 0.0
    """What the recipe told to cut at that order's sizes; 0 where that is not known."""
    worked_for: str = ""
    """Id of the order in which it was seen."""
