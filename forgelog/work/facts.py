"""What happened, in the past tense: the words of the journal.

One press of a key gives one or several facts; they stand or fall together. Facts hold what was
worked out at the time (temperatures, lengths, verdicts), so that a later version's rules never
change an old record. Times are not in the facts: they are the press's.
"""

from __future__ import annotations

import msgspec

from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import Section
from forgelog.work.moments import Stamp


class Fact(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, tag_field="fact"):
    """Base of all facts."""


class Hot(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How hot a piece was when the fact happened, and how it cools from there."""

    degc: float
    section: Section | None = None
    medium: str = "still air"


class NewPiece(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A workpiece that comes into being."""

    id: str
    component: str
    serial: int
    mark: str = ""
    """Hand or variant: "left"; "" where all are alike."""
    set: int = 1
    """Which set (piece) of the order it is meant for, from 1."""
    slot: str = ""
    """The place in the order that it fills: "strap left 1"."""
    lot: int = 0
    """How many small parts this handful has; 0 for a piece that stands alone."""
    remade_from: str = ""


# Orders


class OrderTaken(Fact, frozen=True, kw_only=True, tag="order taken"):
    """A customer's order came in."""

    order: str
    label: str
    """The smith's own number or a short name."""
    title: str
    recipe: str
    """Id of the recipe in the book."""
    count: int = 1
    """How many sets."""
    sizes_mm: dict[str, float] = {}
    promised: str = ""
    """Date, YYYY-MM-DD; "" where none was promised."""


class SizeChanged(Fact, frozen=True, kw_only=True, tag="size changed"):
    """The customer's size is another one. Holds for pieces once a recipe with it is pinned."""

    order: str
    size: str
    mm: float


class BarChosen(Fact, frozen=True, kw_only=True, tag="bar chosen"):
    """A component is cut from the bar that lies there, or (None) from the recipe's own again.

    Holds for pieces once a recipe with it is pinned.
    """

    order: str
    component: str
    section: Section | None = None


class OrderPromised(Fact, frozen=True, kw_only=True, tag="order promised"):
    """A date was promised, or another one, or ("") none any more."""

    order: str
    promised: str


class OrderHeld(Fact, frozen=True, kw_only=True, tag="order held"):
    """Nothing is to be done on it for now."""

    order: str
    why: str = ""


class OrderFreed(Fact, frozen=True, kw_only=True, tag="order freed"):
    """It may be worked on again."""

    order: str


class OrderClosed(Fact, frozen=True, kw_only=True, tag="order closed"):
    """Done with: delivered, or called off."""

    order: str
    why: str = ""


class RecipePinned(Fact, frozen=True, kw_only=True, tag="recipe pinned"):
    """The order works from this recipe, at these sizes, from now on.

    The first time, `made` holds every workpiece of the order. Later, `moved` says which pieces go
    over to the new recipe and at which step they go on; the others stay with theirs.
    """

    order: str
    recipe: Recipe
    made: tuple[NewPiece, ...] = ()
    moved: dict[str, str] = {}


# The session


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


# Workpieces


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


class EndCutOff(Fact, frozen=True, kw_only=True, tag="end cut off"):
    """A burnt or spoilt end came off."""

    workpiece: str
    why: str = "burnt"
    lost_mm: float | None = None


class Cracked(Fact, frozen=True, kw_only=True, tag="cracked"):
    """A crack or cold shut was found; the piece is still worked on."""

    workpiece: str
    words: str = ""


class Scrapped(Fact, frozen=True, kw_only=True, tag="scrapped"):
    """Spoilt. `remake` is the new workpiece in the same slot, where one is made."""

    workpiece: str
    why: str
    heat: int = 0
    """In which heat of its step."""
    remake: NewPiece | None = None


class MadeAgain(Fact, frozen=True, kw_only=True, tag="made again"):
    """A piece that was scrapped for good is made again after all: a new workpiece in its slot."""

    workpiece: str
    """The scrapped one."""
    remake: NewPiece


class Swapped(Fact, frozen=True, kw_only=True, tag="swapped"):
    """It was the other piece that the smith held."""

    workpiece: str
    other: str


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


class TakenAnyway(Fact, frozen=True, kw_only=True, tag="taken anyway"):
    """The smith took a piece that was blocked, and was told why: set, assembly, tool or lock."""

    workpiece: str
    reason: str


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


class ToolSeen(Fact, frozen=True, kw_only=True, tag="tool seen"):
    """State of a tool: have, to be made, to be repaired or proved."""

    tool: str
    state: str
    setting: str = ""


class Noted(Fact, frozen=True, kw_only=True, tag="noted"):
    """The smith's own words, on a workpiece, an order or the session."""

    words: str
    workpiece: str = ""
    order: str = ""


class Undone(Fact, frozen=True, kw_only=True, tag="undone"):
    """A whole press was taken back."""

    press: int
    session: str = ""
    """Where that press stands; "" for this session."""


class Redone(Fact, frozen=True, kw_only=True, tag="put back"):
    """A press that had been taken back was put back."""

    press: int
    session: str = ""


AnyFact = (
    OrderTaken
    | SizeChanged
    | BarChosen
    | OrderPromised
    | OrderHeld
    | OrderFreed
    | OrderClosed
    | RecipePinned
    | SessionBegan
    | FireLit
    | FireStayed
    | FireWentOut
    | MethodChanged
    | Paused
    | Resumed
    | DayEnded
    | PutInFire
    | TakenOut
    | HeatOver
    | StepFinished
    | RestStarted
    | RestEnded
    | RestBrokenOff
    | RestSkipped
    | BenchBegun
    | BenchStopped
    | Assembled
    | Gauged
    | StepReopened
    | LaidAside
    | EndCutOff
    | Cracked
    | Scrapped
    | MadeAgain
    | Swapped
    | HeatsCorrected
    | HeatEndedEarlier
    | CooledInWater
    | JudgedBy
    | TakenAnyway
    | LotCounted
    | LotSpoilt
    | ToolSeen
    | Noted
    | Undone
    | Redone
)


class Press(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One press of a key: one line of the journal."""

    seq: int
    """From 0 (the session began) upwards, one by one, within the session."""
    at: Stamp
    facts: tuple[AnyFact, ...]
