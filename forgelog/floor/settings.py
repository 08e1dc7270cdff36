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


class FloorSettings(msgspec.Struct, frozen=True, kw_only=True):
    """Settings of this session's floor."""

    units: UnitSystem = UnitSystem.MM
    dialect: str = "uk"
    learnt: dict[tuple[str, str, str, str], LearntHeats] = {}
    """By recipe id, component id, step id, method."""
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
