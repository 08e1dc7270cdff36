"""A workpiece, and the record of what was done to it."""

from __future__ import annotations

import msgspec

from forgelog.trade.sections import Section

WAITING = "waiting"
FIRE = "fire"
HAND = "hand"
RESTING = "resting"
BENCH = "bench"
FITTED = "fitted"
FINISHED = "finished"
SCRAPPED = "scrapped"
"""Where a workpiece is; it is in one of these places at any time."""


class StepRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A step that was done, and what it took. Learning reads these."""

    step: str
    kind: str
    pin: int
    method: str
    heats: int | None
    """Counted heats; None where none was pressed and nobody has said since."""
    planned: int | None
    shared: bool = False
    """True where a heat is counted here and in a neighbour step too."""
    work_s: float = 0.0
    """At the anvil or the bench, on the work clock."""
    fire_s: float = 0.0
    """In the fire for it."""
    started_s: float = 0.0
    ended_s: float = 0.0
    session: str = ""
    in_fire: int = 1
    """Most pieces in the fire during it."""
    run: int = 1
    """The piece's number at this step in its run (the order), from 1."""
    corrected: bool = False
    judged_by: str = ""
    scrapped: bool = False
    """The piece was spoilt in it: not learnt from."""
    section: Section | None = None


class RestRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A rest that was needed, and how it was kept."""

    step: str
    """Step id; "" for a rest that the smith added."""
    until: str
    degc: float | None = None
    seconds: float | None = None
    medium: str = "still air"
    section: Section | None = None
    start_degc: float | None = None
    started_s: float = 0.0
    needed_s: float = 0.0
    low_s: float = 0.0
    high_s: float = 0.0
    then_s: tuple[float, ...] = ()
    rested_s: float | None = None
    """None while it runs."""
    verdict: str = ""
    """ok, unsure, short, skipped, or broken (by water); "" while it runs."""
    degc_at_end: float | None = None
    skipping: str = "note"
    cycle: int = 0
    counts: bool | None = None
    broken_by: str = ""
    session: str = ""
    fire_s: float = 0.0
    waits: bool = False
    """It is due and was found to wait for a key, so that it is not looked at again every press."""


class GaugeRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A size that was gauged."""

    step: str
    what: str
    fits: bool
    mm: float | None = None
    """Where it was read off."""
    at_s: float = 0.0
    session: str = ""


class Mishap(msgspec.Struct, frozen=True, kw_only=True):
    """Something that went wrong with a piece, whether it was worked on or not."""

    kind: str
    """scrapped, end cut off, cracked, some spoilt (of a handful), or again (a step reopened)."""
    step: str
    """Id of the step at which it stood, or that was reopened; "" when it was finished."""
    why: str = ""
    heat: int = 0
    """In which heat of the step; 0 where nobody said."""
    lost_mm: float | None = None
    spoilt: int = 1
    """How many parts: of a handful it may be several."""
    again: int = 0
    """How many of them are to be made again."""
    method: str = ""
    """By which the shop forged then."""
    at_s: float = 0.0
    session: str = ""


class HeatOpen(msgspec.Struct, frozen=True, kw_only=True):
    """The heat that is under way: the piece is in hand."""

    since_s: float
    since_work_s: float
    fire_s: float
    in_fire: int
    degc: float | None = None
    steps: int = 0
    """Steps already finished in this heat."""
    quench: str = ""
    stretch_work_s: float = 0.0
    """Work clock at which the present step began in this heat."""


class Workpiece(msgspec.Struct, frozen=True, kw_only=True):
    """One real lump of steel on its way to be a component (or a handful of small ones)."""

    id: str
    order: str
    component: str
    serial: int
    mark: str = ""
    set: int = 1
    slot: str = ""
    pin: int = 0
    """Which of the order's pinned recipes it follows."""
    place: str = WAITING
    since_s: float = 0.0
    """When it came to its place."""
    step: int = 0
    """Index of the step it stands at; len(steps) when it is finished."""
    heats: int = 0
    """Counted heats of this step so far."""
    shared: bool = False
    pressed: bool = False
    """True once a heat of this step was pressed."""
    work_s: float = 0.0
    fire_s: float = 0.0
    started_s: float | None = None
    """When this step was first taken up."""
    in_fire: int = 1
    heats_all: int = 0
    """Heats of the whole piece; a shared heat counts once."""
    last_heat_s: float | None = None
    """When its last heat ended."""
    open: HeatOpen | None = None
    running: bool = False
    """On the bench: the clock runs."""
    bench_work_s: float = 0.0
    """Work clock at which the bench clock was started."""
    rest: RestRecord | None = None
    """While it rests."""
    where: str = ""
    """Where it was laid, in the smith's words."""
    done: tuple[StepRecord, ...] = ()
    rests: tuple[RestRecord, ...] = ()
    notes: tuple[str, ...] = ()
    troubles: tuple[str, ...] = ()
    """What sets it apart: "burnt end cut off", "cracked"."""
    mishaps: tuple[Mishap, ...] = ()
    """Everything that went wrong with it, oldest first."""
    gauged: dict[str, float] = {}
    """What was read off last, by what was gauged."""
    gauges: tuple[GaugeRecord, ...] = ()
    """Every gauging, oldest first."""
    judged_by: str = ""
    lot: int = 0
    counted: int = 0
    """Of a lot: how many are done in this step."""
    used: int = 0
    """Of a lot: how many are part of an assembly already."""
    remade_from: str = ""
    spare: bool = False
    """Made beyond the slots of the order; holds nothing up."""
    from_spare: bool = False
    """A spare that took the slot of a scrapped piece (`remade_from`)."""
    reopened: bool = False
    taken_anyway: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    """Of an assembly: what it took up."""
    fitted_in: str = ""
    scrapped_why: str = ""
    begun: bool = False
    """Has been taken up at all."""
