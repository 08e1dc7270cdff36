"""What the journal holds, as flat rows: one for each step, rest, mishap, gauging and session.

Review and learning read rows and nothing else. They are made from a folded state
(`learn/row_making.py`), or read from the index, which holds the same ones; a row is therefore
whole in itself and leads to no piece, recipe or state. Moments are on the rest clock, seconds since
1970. Words that people wrote are raw here: whoever shows them passes them through
`recipe.plain.harmless`, prose (`do`, `why_rest`) through `recipe.prose.render`.
"""

from __future__ import annotations

import msgspec

from forgelog.recipe.resolved import FORGING_KINDS
from forgelog.trade.sections import Section

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.learn.heats import StepKey

KEPT, UNSURE, SHORT, SKIPPED, BROKEN = VERDICTS = ("kept", "unsure", "short", "skipped", "broken")

SCRAPPED, END_CUT_OFF, CRACKED, SOME_SPOILT, AGAIN = MISHAPS = (
    "scrapped",
    "end cut off",
    "cracked",
    "some spoilt",
    "again",
)


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """Base of all rows."""


class PieceRow(Row, frozen=True, kw_only=True, gc=False):
    """Base of the rows that speak of one piece.

    There are half a million of them in ten years, and none leads back to itself: `gc=False` spares
    the collector looking.
    """

    order: str
    workpiece: str
    serial: int
    """The piece's number in its order; never used again."""
    nth: int
    """Place of the row among the piece's rows of its kind, from 0."""
    set: int
    """Which set (piece) of the order it is meant for, from 1."""
    mark: str
    """Hand or variant: "left"; "" where all are alike."""
    slot: str
    """The place in the order that it fills: "strap left 1"."""
    lot: int
    """How many small parts this handful has; 0 for a piece that stands alone."""
    remade_from: str
    """The spoilt piece in whose stead it is made; "" where it is the first one."""
    over: bool
    """The piece has been scrapped since."""
    recipe: str
    """Id of the recipe that the piece follows now."""
    recipe_name: str
    revision: str
    component: str
    component_name: str
    step: str
    """Id of the step; "" where the piece was finished."""
    do: str
    """What the step does, as prose; "" where the recipe that the piece follows now lost it."""
    cycle: int
    """Of a normalising step: which cycle it is, from 1; 0 otherwise."""
    cycles: int
    session: str
    """In which it happened; "" where no session is known."""
    practice: bool
    """That session was practice. Practice and real work are never mixed."""

    @property
    def place(self) -> tuple[str, str, str]:
        """Recipe, component and step."""
        return (self.recipe, self.component, self.step)


class StepRow(PieceRow, frozen=True, kw_only=True, gc=False):
    """A step that a piece has behind it, and what it took."""

    kind: str
    """Kind of the step: forge, normalise, bench and so on."""
    method: str
    """hand, striker, power or press."""
    heats: int | None
    """Counted heats; None where none was pressed and nobody has said since."""
    planned: int | None
    """Heats that the recipe planned by this method when it was done; None where it planned none."""
    planned_now: int | None
    """The same by the recipe that the piece follows now."""
    minutes_s: float | None
    """Planned time of cold work, seconds; None where the recipe plans none."""
    shared: bool
    """A heat counted here was counted in a neighbour step too."""
    work_s: float
    """At the anvil or the bench, on the work clock."""
    fire_s: float
    """In the fire for it."""
    started_s: float
    ended_s: float
    in_fire: int
    """Most pieces in the fire during it."""
    run: int
    """The piece's number at this step in its run (the order), from 1."""
    section: Section | None
    """The section that was worked; None where it is not known."""
    corrected: bool
    """Its heats were put right afterwards."""
    scrapped: bool
    """The piece was spoilt in it: not learnt from."""
    again: bool
    """The same piece had done it before: not learnt from."""
    judged_by: str
    """What the heat was judged by: eye, magnet, thermocouple, oven; "" where nobody said."""

    @property
    def key(self) -> StepKey:
        """Recipe, component, step, method."""
        return (self.recipe, self.component, self.step, self.method)

    @property
    def forged(self) -> bool:
        """Whether it is counted in heats."""
        return self.kind in FORGING_KINDS

    @property
    def heats_unknown(self) -> bool:
        """Its heats are still to be told."""
        return self.forged and not self.scrapped and not self.heats


class RestRow(PieceRow, frozen=True, kw_only=True, gc=False):
    """A rest that the recipe needed and that is over, with its verdict and the sum behind it."""

    kind: str
    """Kind of its step: rest, normalise, anneal, temper; "" where the recipe lost it."""
    until: str
    """black, hand-warm, cold, or the words of the recipe."""
    why_rest: str
    """What the rest is for, as the recipe says it (prose); "" where it does not."""
    timed: bool
    """It waits for minutes, not for a temperature."""
    verdict: str
    """One of VERDICTS, as the journal has it; nothing is judged anew."""
    started_s: float
    rested_s: float | None
    needed_s: float
    """How long the smith was told to wait; 0 where it was never laid to rest."""
    low_s: float
    high_s: float
    """Ends of the range of the cooling sum."""
    start_degc: float | None
    """From where the sum let it cool."""
    degc: float | None
    """To where."""
    degc_at_end: float | None
    """Where the sum had it when it was taken up."""
    seconds: float | None
    """Minutes asked for in place of a temperature, seconds."""
    medium: str
    section: Section | None
    fire_s: float
    skipping: str
    """note or matters: what leaving it out means."""
    counts: bool | None
    """Of a normalising cycle: whether it counts; None where unsure, or for any other rest."""
    broken_by: str
    """What broke it off; "" where nothing did."""
    hardens: bool
    """The piece is to be hardened."""
    hardened: bool
    """The piece has been hardened."""

    @property
    def normalising(self) -> bool:
        """Whether it is the cooling of a normalising cycle."""
        return self.kind == "normalise"

    @property
    def lost_cycle(self) -> bool:
        """A normalising cycle that does not count."""
        return self.normalising and (
            self.verdict in (SHORT, SKIPPED, BROKEN) or self.counts is False
        )

    @property
    def faulty(self) -> bool:
        """Cut short, skipped or broken, or a normalising cycle that does not count."""
        return self.verdict in (SHORT, SKIPPED, BROKEN) or self.lost_cycle

    @property
    def matters(self) -> bool:
        """Whether something is risked by it that more than a note is due to."""
        return self.normalising or self.skipping == "matters"


class SpoiltRow(PieceRow, frozen=True, kw_only=True, gc=False):
    """Something that went wrong with a piece: scrap, a burnt end, a crack, a step done again."""

    kind: str
    """One of MISHAPS."""
    why: str
    """In the smith's words."""
    heat: int
    """In which heat of the step; 0 where nobody said."""
    method: str
    """By which the shop forged then."""
    lost_mm: float | None
    """What came off with a burnt end, where it was said."""
    spoilt: int
    """How many parts: of a handful it may be several."""
    remade: int
    """How many of them were to be made again."""
    remade_as: str
    """Id of the piece made in its stead; "" where none was, or the piece was worked on."""
    at_s: float


class GaugeRow(PieceRow, frozen=True, kw_only=True, gc=False):
    """A size that was gauged."""

    what: str
    fits: bool
    mm: float | None
    """What was read off; None where the smith only said whether it fits."""
    wanted_mm: float | None
    """The size that the recipe wants; None where it has no such gauge any more."""
    plus_mm: float
    minus_mm: float
    hot: bool
    at_s: float


class OrderRow(Row, frozen=True, kw_only=True):
    """A customer's order."""

    order: str
    label: str
    title: str
    recipe: str
    """Id of the recipe that it was taken for."""
    recipes: tuple[str, ...]
    """Ids of the recipes that it worked from, oldest first; most often one."""
    count: int
    taken_s: float
    promised: str
    """Date, YYYY-MM-DD; "" where none was promised."""
    held: str | None
    closed: str | None
    """Why it is closed; None while it is open."""

    @property
    def id(self) -> str:
        """The same as `order`."""
        return self.order


class SessionRow(Row, frozen=True, kw_only=True):
    """One session: of work at the fire, or a deed at the desk."""

    session: str
    kind: str
    """floor or desk."""
    device: str
    who: str
    began_s: float
    ended_s: float
    """Its last press."""
    offset_min: int
    """Local time less UTC."""
    practice: bool
    continues: str
    """The session that was cut off and went on here; "" where it began afresh."""
    ended: bool
    """The day was ended by key."""
    where: str
    """Where the work was laid, in the smith's words."""
    presses: int
    orders: tuple[str, ...]
    """Ids of the orders in play."""
    fire: str
    """The shop's own name for the fire."""
    fire_lit_s: float | None
    method: str
    """By which it was begun."""
    heats: int
    """Heats that were counted in it."""
    worked_s: float
    """Of it on the work clock."""


class Rows(Row, frozen=True, kw_only=True):
    """The rows of some orders, each kind in one order whichever way they were made.

    Steps by their end, all others by their moment; then by order, piece and place.
    """

    orders: tuple[OrderRow, ...] = ()
    steps: tuple[StepRow, ...] = ()
    rests: tuple[RestRow, ...] = ()
    spoilt: tuple[SpoiltRow, ...] = ()
    gauges: tuple[GaugeRow, ...] = ()
