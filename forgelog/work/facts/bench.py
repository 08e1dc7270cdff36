"""Facts of the bench, the gauge and handfuls of small parts."""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class BenchBegun(Fact, frozen=True, kw_only=True, tag="bench begun"):
    """Cold work, a fit or a finish began, or went on."""

    workpiece: str
    step: str


class BenchStopped(Fact, frozen=True, kw_only=True, tag="bench stopped"):
    """The bench clock was stopped; the piece stays on the bench."""

    workpiece: str


class Assembled(Fact, frozen=True, kw_only=True, tag="assembled"):
    """An assembly took up its parts."""

    workpiece: str
    parts: tuple[str, ...]


class Gauged(Fact, frozen=True, kw_only=True, tag="gauged"):
    """A size was gauged; `mm` where it was read off."""

    workpiece: str
    step: str
    what: str
    fits: bool
    mm: float | None = None


class LotCounted(Fact, frozen=True, kw_only=True, tag="lot counted"):
    """More of a handful are done in this step."""

    workpiece: str
    step: str
    more: int = 1


class LotSpoilt(Fact, frozen=True, kw_only=True, tag="lot spoilt"):
    """Some of a handful are spoilt; `again` of them are to be made again."""

    workpiece: str
    spoilt: int
    again: int = 0
    why: str = ""
