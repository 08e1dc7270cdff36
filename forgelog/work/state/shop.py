"""What belongs to no order: fire, heat, sessions, fuel, cut lengths, answers."""

from __future__ import annotations

import msgspec

from forgelog.trade.sections import Section
from forgelog.work.facts import BarCut


class Fire(msgspec.Struct, frozen=True, kw_only=True):
    """The fire as it was lit."""

    lit: bool = False
    name: str = "gas"
    """The shop's own name for it."""
    kind: str = "gas"
    """gas or coke: which heating sum holds."""
    places: int = 3
    since_s: float = 0.0


class HotMark(msgspec.Struct, frozen=True, kw_only=True):
    """Something hot lies about: where it cools from."""

    degc: float
    at_s: float
    section: Section | None = None
    medium: str = "still air"


class SessionRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One session of the book."""

    id: str
    kind: str
    began_s: float
    ended_s: float
    device: str = ""
    who: str = ""
    offset: int = 0
    practice: float = 0.0
    continues: str = ""
    ended: bool = False
    """True when the day was ended by key."""
    where: str = ""
    presses: int = 0
    orders: tuple[str, ...] = ()
    fire: str = ""
    fire_lit_s: float | None = None
    method: str = ""


class FuelRecord(msgspec.Struct, frozen=True, kw_only=True):
    """What a session at the fire burnt."""

    kg: float
    fire: str = ""
    fire_kind: str = "gas"
    before_kg: float | None = None
    """Weight of the bottle before, where it was weighed."""
    after_kg: float | None = None


class CutRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A cut length and how the piece came out."""

    recipe: str
    component: str
    cut_mm: float
    over_mm: float = 0.0
    """Too much of the bar; below 0 where the piece came out short."""
    section: Section | None = None
    asked_mm: float = 0.0
    """What the recipe told to cut at that order's sizes; 0 where that is not known."""
    worked_for: str = ""
    """Id of the order."""
    at_s: float = 0.0

    @property
    def try_mm(self) -> float:
        """What to cut next time."""
        return self.cut_mm - self.over_mm


class Trouble(msgspec.Struct, frozen=True, kw_only=True):
    """Something that needs seeing to: a contradiction, a line set aside."""

    session: str
    seq: int
    words: str


class SuggestionAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What the smith said to something that the journal teaches."""

    suggestion: str
    accepted: bool
    what: str = ""
    recipe: str = ""
    component: str = ""
    step: str = ""
    method: str = ""
    heats: int | None = None
    """The planned heats that hold in place of the recipe's."""
    instead_of: int | None = None
    at_s: float = 0.0


class BarSawn(msgspec.Struct, frozen=True, kw_only=True):
    """A bar that was sawn."""

    cut: BarCut
    begun: dict[str, int]
    """How many blanks had been taken up then, by "order/component"."""
    at_s: float
