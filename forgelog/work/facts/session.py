"""Facts of the session: fire, method, pauses."""

from __future__ import annotations

from forgelog.work.facts.base import Fact, Hot


class SessionBegan(Fact, frozen=True, kw_only=True, tag="session began"):
    """First line of every file of the journal."""

    format: int = 1
    version: str
    session: str
    device: str
    who: str = ""
    kind: str = "floor"
    """floor, or desk (orders, corrections: no fire)."""
    practice: float = 0.0
    """Speed of a practice clock; 0 for real work."""
    continues: str = ""
    """The session that was cut off and goes on here."""
    orders: tuple[str, ...] = ()
    """Orders in play."""
    seen: dict[str, int] = {}
    """Of every other session in play, the last press that this one knew of."""


class FireLit(Fact, frozen=True, kw_only=True, tag="fire lit"):
    """The fire was lit, or lit again: nothing is in it."""

    fire: str = "gas"
    fire_kind: str = "gas"
    places: int = 3
    method: str = "hand"
    light: str = "dim"
    air_degc: float = 20.0
    orders: tuple[str, ...] = ()


class FireStayed(Fact, frozen=True, kw_only=True, tag="fire stayed"):
    """After a power cut: the fire burnt on, and what was in it still is."""


class FireWentOut(Fact, frozen=True, kw_only=True, tag="fire went out"):
    """The fire is out: what was in it lies cooling there. `hot` by workpiece."""

    hot: dict[str, Hot] = {}


class MethodChanged(Fact, frozen=True, kw_only=True, tag="method changed"):
    """By hand, with a striker, under the power hammer or the press."""

    method: str


class Paused(Fact, frozen=True, kw_only=True, tag="paused"):
    """Work clocks stand; fire, cooling and rests run on."""


class Resumed(Fact, frozen=True, kw_only=True, tag="resumed"):
    """Work clocks go on."""


class DayEnded(Fact, frozen=True, kw_only=True, tag="day ended"):
    """End of the day at the fire. What was in hand, fire or on the bench has been laid aside."""

    where: str = ""


class FuelUsed(Fact, frozen=True, kw_only=True, tag="fuel used"):
    """What a session at the fire burnt. Said again, it replaces what was said before."""

    session: str
    """The session at the fire."""
    kg: float
    fire: str = ""
    """The shop's own name for the fire."""
    fire_kind: str = "gas"
    before_kg: float | None = None
    """Weight of the bottle before, where it was weighed."""
    after_kg: float | None = None
