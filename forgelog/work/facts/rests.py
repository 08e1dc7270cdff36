"""Facts of rests."""

from __future__ import annotations

from forgelog.trade.sections import Section
from forgelog.work.facts.base import Fact


class RestStarted(Fact, frozen=True, kw_only=True, tag="rest started"):
    """The piece was laid to rest; to normalise, anneal or temper, straight from the fire."""

    workpiece: str
    step: str
    """Id of the rest step; "" for a rest that the smith added."""
    until: str
    degc: float | None = None
    seconds: float | None = None
    medium: str = "still air"
    section: Section | None = None
    start_degc: float
    needed_s: float
    """How long the smith was told to wait: predicted by the cooling sum, to its slow end where
    skipping matters; or the minutes asked for."""
    low_s: float = 0.0
    high_s: float = 0.0
    then_s: tuple[float, ...] = ()
    """Predicted times of the rests that follow this one by themselves."""
    skipping: str = "note"
    cycle: int = 0
    from_fire: bool = False
    fire_s: float = 0.0


class RestEnded(Fact, frozen=True, kw_only=True, tag="rest ended"):
    """The rest was ended by taking the piece up; with the verdict as it was judged then."""

    workpiece: str
    step: str
    rested_s: float
    verdict: str
    """ok, unsure, short or skipped."""
    degc_at_end: float | None = None
    counts: bool | None = None
    """Of a normalising cycle: whether it counts; None where unsure."""


class RestBrokenOff(Fact, frozen=True, kw_only=True, tag="rest broken off"):
    """Something other than the next step ended it: water."""

    workpiece: str
    step: str
    by: str
    rested_s: float = 0.0


class RestSkipped(Fact, frozen=True, kw_only=True, tag="rest skipped"):
    """Taken up without being laid to rest at all."""

    workpiece: str
    step: str
    until: str = ""
    skipping: str = "note"
    cycle: int = 0
