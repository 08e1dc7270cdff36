"""What the floor has to know of the shop and of the record, handed in by the desk."""

from __future__ import annotations

import msgspec

from forgelog.floor.planning.rule import Weights
from forgelog.units import UnitSystem


class LearntHeats(msgspec.Struct, frozen=True, kw_only=True):
    """Heats of a step as the journal has taught them."""

    heats: int
    low: int
    high: int
    records: int
    """Of how many of the smith's own pieces."""
    early: tuple[tuple[int, int, int], ...] = ()
    """Heats, low and high of the first pieces of a run, from the first on; later ones are alike."""
    own: bool = False
    """The smith took `heats` up as the book's own figure."""
    others: int = 0
    """Of how many pieces of another smith the figure knows, too: evidence that came with the
    recipe."""

    def at(self, run: int) -> tuple[int, int, int]:
        """Heats, low and high of the piece of this number in its run, from 1."""
        if self.own or not 1 <= run <= len(self.early):
            return (self.heats, self.low, self.high)
        return self.early[run - 1]

    @property
    def whose(self) -> str:
        """Whose pieces the figure is from: "7 of yours", "7 of yours and 12 of another's"."""
        theirs = f"{self.others} of another's" if self.others else ""
        if not self.records:
            return theirs or "none of yours"
        return f"{self.records} of yours" + (f" and {theirs}" if theirs else "")

    def from_words(self, run: int = 0) -> str:
        """Whose figure it is: "3 to 5 most often, from 7 of yours"."""
        _, low, high = self.at(run)
        most = f"{low}" if low == high else f"{low} to {high}"
        if not self.own:
            return f"{most} most often, from {self.whose}"
        return f"your own figure ({most} most often)" if self.records else "your own figure"


class LearntSeconds(msgspec.Struct, frozen=True, kw_only=True):
    """Time of a step as the journal has taught it."""

    seconds: float
    """At the bench: of the whole step. In hand: of one heat."""
    spread: float
    """Log-spread of one piece."""


class FloorSettings(msgspec.Struct, frozen=True, kw_only=True):
    """Settings of this session's floor."""

    units: UnitSystem = UnitSystem.MM
    dialect: str = "uk"
    learnt: dict[tuple[str, str, str, str], LearntHeats] = {}
    """By recipe id, component id, step id, method."""
    times: dict[tuple[str, str, str, str], LearntSeconds] = {}
    """By the same: for a plan, of steps that were made often enough."""
    tools: dict[str, str] = {}
    """State of the book's tools by id: have, to be made, to be repaired, proved."""
    alarms_off: frozenset[str] = frozenset()
    """Kinds of alarm that are switched off: look, rest, heat. A waiting temper always sounds."""
    look_s: float | None = None
    """Overrides the sum's time to LOOK, seconds; None to use the sum."""
    local_offset_min: int = 0
    """Local time less UTC, for the times of day on the screen."""
    practice: float = 0.0
    weights: Weights | None = None
    """How the advice weighs its reasons, from a plan of the day; None for the usual weights."""
