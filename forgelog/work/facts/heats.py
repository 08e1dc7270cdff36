"""Facts of a workpiece between fire and hand, and of its steps."""

from __future__ import annotations

from forgelog.work.facts.base import Fact, Hot


class PutInFire(Fact, frozen=True, kw_only=True, tag="put in the fire"):
    """From the side into the fire."""

    workpiece: str


class TakenOut(Fact, frozen=True, kw_only=True, tag="taken out"):
    """Out of the fire and into the hand: the heat begins. `quench` where it goes into the tub."""

    workpiece: str
    hot: Hot | None = None
    in_fire: int = 1
    """Pieces in the fire then, this one counted."""
    quench: str = ""


class HeatOver(Fact, frozen=True, kw_only=True, tag="heat over"):
    """The heat is over with the step not done. Goes to the fire or aside."""

    workpiece: str
    to: str = "fire"
    """fire or aside."""
    where: str = ""
    hot: Hot | None = None
    counted: bool = True
    """False for a stretch too short to be a heat."""


class StepFinished(Fact, frozen=True, kw_only=True, tag="step finished"):
    """The step is done, in hand, from the fire, on the bench or at the gauge."""

    workpiece: str
    step: str
    to: str = "aside"
    """hand (same heat goes on), fire, aside, or rest (a rest started follows in this press)."""
    where: str = ""
    hot: Hot | None = None
    method: str = "hand"
    heats_unknown: bool = False
    """True where no heat of this step was pressed: asked about in the evening."""


class StepReopened(Fact, frozen=True, kw_only=True, tag="step reopened"):
    """A step is not done after all; it goes on with the heats it had."""

    workpiece: str
    step: str
    why: str = ""


class LaidAside(Fact, frozen=True, kw_only=True, tag="laid aside"):
    """From the hand, the fire or the bench to the side."""

    workpiece: str
    where: str = ""
    hot: Hot | None = None
    counted: bool = True


class Stowed(Fact, frozen=True, kw_only=True, tag="stowed"):
    """Where a piece lies, told afterwards; nothing else about it changes."""

    workpiece: str
    where: str


class HeatsCorrected(Fact, frozen=True, kw_only=True, tag="heats corrected"):
    """How many heats a step really took."""

    workpiece: str
    step: str
    heats: int


class HeatEndedEarlier(Fact, frozen=True, kw_only=True, tag="heat ended earlier"):
    """The heat that has just been ended was over some time before the key."""

    workpiece: str
    seconds: float


class CooledInWater(Fact, frozen=True, kw_only=True, tag="cooled in water"):
    """An end, or all of it, went into the tub."""

    workpiece: str
    end: str = ""
    whole: bool = False


class JudgedBy(Fact, frozen=True, kw_only=True, tag="judged by"):
    """What a heat was judged by: eye, magnet, thermocouple, oven."""

    workpiece: str
    step: str
    how: str
