"""What the job sheet of an order tells, as records. The sheet makes its texts harmless."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from forgelog.desk.layout_stock import StockShown
from forgelog.desk.layout_tools import ToolShown
from forgelog.desk.order_view import OrderShown
from forgelog.desk.plan_told import PlanTold
from forgelog.recipe.step_words import Fact
from forgelog.trade.sections import Section
from forgelog.trade.solids import Dim


class OnPaper(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records."""


class FormPart(OnPaper, frozen=True, kw_only=True):
    """One simple form of a finished component."""

    solid: str
    """A name out of `forgelog.trade.solids.SOLIDS`."""
    dims: Mapping[str, Dim]
    """Lengths in mm, sections, or a thread's name."""
    times: int = 1
    words: str
    """ "flat, 24 x 4 mm, 80 mm long"."""


class PieceOnJob(OnPaper, frozen=True, kw_only=True):
    """One workpiece of a component, to be ticked."""

    name: str
    """Within its component: "left 1"; "" where there is only one."""
    done: frozenset[str] = frozenset()
    """Ids of the steps that are done."""


class StepOnJob(OnPaper, frozen=True, kw_only=True):
    """One step, for all pieces of its component."""

    id: str
    number: int
    """Within its component, from 1."""
    do: str
    cycle: str = ""
    """ "cycle 1 of 3"."""
    kind: str
    plan: str
    """Heats, times and temperatures in one line."""
    facts: tuple[Fact, ...]
    """What is done and how; sizes to gauge are in `gauges`."""
    section: Section | None = None
    """What it comes to, for the drawing."""
    section_words: str = ""
    heats: int = 0
    """How many boxes to tick for heats: the most that is planned or learnt."""
    rest: str = ""
    """What a box waits for: "black", "10 min"; "" where there is no rest."""
    gauges: tuple[str, ...] = ()
    """Each wants a reading of every piece."""


class ComponentOnJob(OnPaper, frozen=True, kw_only=True):
    """One component with its steps."""

    name: str
    count: str
    """ "4, 2 each left and right (mirror images)"."""
    facts: tuple[Fact, ...] = ()
    """What it is made of, cut from, what must match."""
    section: Section | None = None
    section_words: str = ""
    form: tuple[FormPart, ...] = ()
    pieces: tuple[PieceOnJob, ...]
    """Each to be ticked by name; empty where there are too many for that."""
    many: int
    """How many there are."""
    steps: tuple[StepOnJob, ...]


class JobTold(OnPaper, frozen=True, kw_only=True):
    """An order as it is worked."""

    order: OrderShown
    day: str
    """YYYY-MM-DD, when it was told."""
    inch: bool
    """Whether the shop works in inches."""
    customer: tuple[Fact, ...] = ()
    """Only where it was asked for."""
    recipe: str
    """Its name."""
    says: str
    source: str
    """ "gate-hinge-set, revision 1, process 0123456789abcdef"."""
    steel: str
    notes: tuple[str, ...] = ()
    """What stands against working by this sheet: the recipe has changed, pieces follow another."""
    cautions: tuple[str, ...]
    stock: tuple[StockShown, ...]
    """What is still to be cut."""
    tools: tuple[ToolShown, ...]
    components: tuple[ComponentOnJob, ...]
    plan: PlanTold | None = None
