"""What stands now: orders, workpieces, fire, heat. Frozen; only `work.apply` makes a new one.

All `_s` fields are moments of shop time: `since_s` and the like on the rest clock (wall-like
seconds), names with `work` on the work clock (stands still in a pause).
"""

from __future__ import annotations

import msgspec

from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import Section
from forgelog.work.bar import Bar
from forgelog.work.facts import AnyFact, BarCut
from forgelog.work.moments import Moment, Stamp

WAITING, FIRE, HAND, RESTING, BENCH, FITTED, FINISHED, SCRAPPED = PLACES = (
    "waiting",
    "fire",
    "hand",
    "resting",
    "bench",
    "fitted",
    "finished",
    "scrapped",
)


class Record(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the parts of the state."""


class StepRecord(Record, frozen=True, kw_only=True):
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


class RestRecord(Record, frozen=True, kw_only=True):
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


class GaugeRecord(Record, frozen=True, kw_only=True):
    """A size that was gauged."""

    step: str
    what: str
    fits: bool
    mm: float | None = None
    """Where it was read off."""
    at_s: float = 0.0
    session: str = ""


class Mishap(Record, frozen=True, kw_only=True):
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


class HeatOpen(Record, frozen=True, kw_only=True):
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


class Workpiece(Record, frozen=True, kw_only=True):
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


class QuoteRecord(Record, frozen=True, kw_only=True):
    """A price that was offered; amounts are text in whole coins."""

    made_s: float
    offset: int = 0
    """Local time less UTC then, minutes."""
    net: str
    tax: str = ""
    total: str
    deposit: str = ""
    currency: str = ""
    method: str = "hand"
    count: int = 1
    valid_until: str = ""
    amounts: dict[str, str] = {}
    quantities: dict[str, str] = {}
    hours: dict[str, str] = {}
    told: dict[str, str] = {}
    without: tuple[str, ...] = ()
    answer: str = ""
    """accepted, declined, superseded; "" while it is open."""


class SpareWanted(Record, frozen=True, kw_only=True):
    """Spares of a component that an order is to have."""

    component: str
    mark: str = ""
    count: int = 1


class Order(Record, frozen=True, kw_only=True):
    """A customer's order."""

    id: str
    label: str
    title: str
    recipe: str
    count: int = 1
    sizes_mm: dict[str, float] = {}
    bars: dict[str, Section] = {}
    """The bars that are used in place of the recipe's, by component."""
    taken_s: float = 0.0
    promised: str = ""
    for_shop: bool = False
    """For the shop itself: what its recipe makes is there once it is finished."""
    free: bool = False
    """Work without a recipe of the book."""
    held: str | None = None
    """Why it is held; None when it is not."""
    closed: str | None = None
    pins: tuple[Recipe, ...] = ()
    """Recipes it works from; empty until its first lay-out."""
    quotes: tuple[QuoteRecord, ...] = ()
    """Prices that were offered, the last one last."""
    costs: dict[str, str] = {}
    """Costs of this order alone, by their words."""
    hours: dict[str, str] = {}
    """Hours that were told, by kind."""
    called_off: bool = False
    """True where it was closed with work still to be done."""
    delivered: str = ""
    """How the customer got it: fetched, sent, fitted, or just "delivered"; "" where not."""
    delivered_on: str = ""
    """The day, YYYY-MM-DD."""
    spares: tuple[SpareWanted, ...] = ()
    """Asked for before the first lay-out, which makes them."""
    notes: tuple[str, ...] = ()
    serials: int = 0
    """Highest serial given out."""


class Fire(Record, frozen=True, kw_only=True):
    """The fire as it was lit."""

    lit: bool = False
    name: str = "gas"
    """The shop's own name for it."""
    kind: str = "gas"
    """gas or coke: which heating sum holds."""
    places: int = 3
    since_s: float = 0.0


class HotMark(Record, frozen=True, kw_only=True):
    """Something hot lies about: where it cools from."""

    degc: float
    at_s: float
    section: Section | None = None
    medium: str = "still air"


class SessionRecord(Record, frozen=True, kw_only=True):
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


class FuelRecord(Record, frozen=True, kw_only=True):
    """What a session at the fire burnt."""

    kg: float
    fire: str = ""
    fire_kind: str = "gas"
    before_kg: float | None = None
    """Weight of the bottle before, where it was weighed."""
    after_kg: float | None = None


class CutRecord(Record, frozen=True, kw_only=True):
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


class Trouble(Record, frozen=True, kw_only=True):
    """Something that needs seeing to: a contradiction, a line set aside."""

    session: str
    seq: int
    words: str


class SuggestionAnswer(Record, frozen=True, kw_only=True):
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


class BarSawn(Record, frozen=True, kw_only=True):
    """A bar that was sawn."""

    cut: BarCut
    begun: dict[str, int]
    """How many blanks had been taken up then, by "order/component"."""
    at_s: float


class State(Record, frozen=True, kw_only=True):
    """Everything that stands, and the way back."""

    moment: Moment = Moment(rest_s=0.0)
    stamp: Stamp | None = None
    session: str = ""
    press: int = -1
    """Sequence number of the last press of the session."""
    orders: dict[str, Order] = {}
    pieces: dict[str, Workpiece] = {}
    hot: dict[str, HotMark] = {}
    """By workpiece. Only the cooling sum takes a piece off the HOT list."""
    fire: Fire = Fire()
    method: str = "hand"
    light: str = "dim"
    air_degc: float = 20.0
    paused: bool = False
    ended: bool = False
    practice: float = 0.0
    tools: dict[str, tuple[str, str]] = {}
    """State and setting of each tool, as last seen."""
    tools_since_s: dict[str, float] = {}
    """When each of them came to that state, as the smith said."""
    jigs: dict[str, str] = {}
    """How each jig was last set up at the fire; resolved prose."""
    offcuts: dict[str, Bar] = {}
    """Offcuts kept on the rack since the smith's own list, by label."""
    offcuts_gone: dict[str, int] = {}
    """Labels of offcuts used up, and how many of the smith's own list went under each."""
    cuts: tuple[CutRecord, ...] = ()
    """Cut lengths and how they came out, oldest first."""
    sawn: tuple[BarSawn, ...] = ()
    """Bars that were sawn, oldest first."""
    fuel: dict[str, FuelRecord] = {}
    """What was burnt, by session at the fire."""
    sessions: tuple[SessionRecord, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    answers: dict[str, SuggestionAnswer] = {}
    """To suggestions, by their id; the newest answer holds."""
    before: State | None = None
    """The state before the last press, as far back as undo reaches."""
    undone: tuple[State, ...] = ()
    """What stood before each press was taken back; the last can be put back."""
    made_by: tuple[str, int] = ("", -1)
    """Session and number of the press that made this state; an undo goes back to an earlier one."""
    made_of: tuple[AnyFact, ...] = ()
    """The facts of that press, so that an undo can say what it takes back."""
