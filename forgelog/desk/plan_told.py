"""What a plan tells, as records: keys of `forgelog plan --json`."""

from __future__ import annotations

import msgspec

from forgelog.desk.review_facts import TimelineTold


class Planned(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records. Texts are final and harmless."""


class PiecePlanned(Planned, frozen=True, kw_only=True):
    """A piece that will be finished in the day."""

    workpiece: str
    piece: str
    at: str
    """HH:MM."""


class ToolPlanned(Planned, frozen=True, kw_only=True):
    """A tool or jig that is wanted in the day."""

    id: str
    name: str
    setting: str
    state: str
    """have, proved, to be made, to be repaired, or not in tools.toml."""
    by: str
    """HH:MM, when it is wanted first."""
    missing: bool
    """It cannot be used as it is."""


class JigTold(Planned, frozen=True, kw_only=True):
    """A jig that is set up in the day."""

    name: str
    settings: tuple[str, ...]
    setups: int
    minutes: float


class OrderPlanned(Planned, frozen=True, kw_only=True):
    """When an order will be done."""

    order: str
    name: str
    promised: str
    """YYYY-MM-DD, or ""."""
    planned: str
    """Day and time if all goes as planned, ISO 8601 without an offset."""
    low: str
    """YYYY-MM-DD: most often it is done from this day"""
    high: str
    """to this one."""
    middle: str
    late: bool
    """By the middle of the range it is after the promised day."""
    open: bool
    """Pieces of it are left that nothing in the plan can finish."""


class HeldBack(Planned, frozen=True, kw_only=True):
    """Pieces of an order that are not planned to their end."""

    order: str
    name: str
    """Of the order."""
    pieces: tuple[str, ...]
    why: str
    """The tool that is not ready, or that they wait for such pieces."""


class OtherDate(Planned, frozen=True, kw_only=True):
    """When an order would be done another way."""

    order: str
    name: str
    done: str
    """Day and time if all goes as planned, ISO 8601 without an offset."""


class OtherWay(Planned, frozen=True, kw_only=True):
    """The same work by another method, or with a helper."""

    method: str
    """power, press, striker, hand; helper for a second pair of hands at the bench."""
    words: str
    work_min: float
    hands_min: float
    saved_min: float
    """Below 0 where it would take longer."""
    done: str
    """Day and time, ISO 8601."""
    orders: tuple[OtherDate, ...] = ()


class PlanTold(Planned, frozen=True, kw_only=True):
    """The plan of one day."""

    day: str
    begins: str
    until: str
    running: bool
    method: str
    fire: str
    pieces: int
    """Workpieces in the plan, of all open orders."""
    heats: int
    heats_today: int
    hands_min: float
    """All hand work that is left."""
    work_min: float
    """From now until everything is finished, nights left out."""
    timeline: TimelineTold | None
    idle_share: float | None
    """Share of the day in which the hands have nothing to do."""
    finished: tuple[PiecePlanned, ...]
    tools: tuple[ToolPlanned, ...]
    jigs: tuple[JigTold, ...]
    orders: tuple[OrderPlanned, ...]
    others: tuple[OtherWay, ...]
    held_back: tuple[HeldBack, ...] = ()
    left_out: tuple[str, ...]
    trials: int
    """How many plans were played out."""
    draft: bool = False
    """A first plan, made at once: a better one is being looked for."""
