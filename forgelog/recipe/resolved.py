"""The recipe with its sizes put in: plain numbers, ready to be worked from.

This is what an order pins and the journal keeps, so that a later change of the file or of
the program never changes what a smith was told. Lengths in mm, temperatures in degC, times in s.

Prose keeps its worked-out quantities as "{117 mm}" or "{900 degC}" (always mm and degC), so that
`forgelog.recipe.prose.render` can show them in the shop's units; "{{" and "}}" are plain braces.
"""

from __future__ import annotations

import msgspec

from forgelog.recipe.kinds import COLD_KINDS as COLD_KINDS
from forgelog.recipe.kinds import HEAT_KINDS as HEAT_KINDS
from forgelog.recipe.kinds import KINDS as KINDS
from forgelog.trade.sections import Section

METHODS = ("hand", "striker", "power", "press")
FORGING_KINDS = ("forge",)


def at_the_fire(kind: str) -> bool:
    """Whether a step of this kind is worked at the fire."""
    return kind in FORGING_KINDS or kind in HEAT_KINDS


class Resolved(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Base of the resolved records."""


class Tool(Resolved, frozen=True, kw_only=True):
    """A tool or jig with the setting that this step wants."""

    id: str
    """Slug of the name; the same as in the book's tools.toml."""
    name: str
    setting: str = ""
    """Resolved prose."""
    jig: bool = False


class Gauge(Resolved, frozen=True, kw_only=True):
    """A size to be gauged."""

    what: str
    mm: float
    plus_mm: float = 0.0
    minus_mm: float = 0.0
    hot: bool = False


class RestGoal(Resolved, frozen=True, kw_only=True):
    """What a rest waits for. Exactly one of degc and seconds is set."""

    until: str
    """black, hand-warm, cold, or the words of the recipe ("400 degC", "10 min")."""
    degc: float | None = None
    seconds: float | None = None
    medium: str = "still air"
    """still air, draught, bed (ash, vermiculite, sand) or fire (the banked fire)."""
    medium_words: str = "still air"
    """As the recipe says it: "ash"."""
    why: str = ""
    skipping: str = "note"
    """note or matters."""


class Step(Resolved, frozen=True, kw_only=True):
    """One thing to do."""

    id: str
    kind: str
    """One of KINDS. A normalise of n cycles is n steps, each with its `cycle`."""
    do: str
    done: str
    """Its words when done: "the eye is rolled"."""
    says: str = ""
    heats: dict[str, int] = {}
    """Planned heats by method; the methods that the recipe names."""
    minutes_s: float | None = None
    """Planned time of cold work, seconds."""
    dries_s: float | None = None
    """How long a finish dries before it is packed, seconds."""
    start_degc: float | None = None
    stop_degc: float | None = None
    section: Section | None = None
    """The section actually worked: the step's own, else the last target, else the stock."""
    to_section: Section | None = None
    to_long_mm: float | None = None
    to_hot: bool = False
    to_mark_mm: float | None = None
    """How much of the bar, from the mark on, goes into `to_long_mm`."""
    tools: tuple[Tool, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    follows: bool = False
    """May follow the step before in the same heat."""
    rest: RestGoal | None = None
    """Of a rest; also the cooling that ends a normalise or anneal."""
    at_degc: float | None = None
    soak_s: float | None = None
    cycle: int = 0
    cycles: int = 0
    quench: str = ""
    judge: tuple[str, ...] = ()
    cool: str = ""
    watch: str = ""
    recover: str = ""
    cautions: tuple[str, ...] = ()
    open: bool = False
    """Work without a recipe: what the step is will be said when it is done."""


class Need(Resolved, frozen=True, kw_only=True):
    """Finished components that an assembly takes up."""

    component: str
    count: int = 1


class Stock(Resolved, frozen=True, kw_only=True):
    """What a component is cut from."""

    section: Section
    volume_mm3: float
    """Of the finished form."""
    sum_mm: float
    """Length by the sum: (form + trim) / (1 - loss) / area + grip."""
    cut_mm: float | None = None
    """The length that has proved itself, when the recipe gives it; outranks the sum."""
    grip_mm: float = 0.0
    trim_mm: float = 0.0
    loss: float = 0.04
    """Share, 0 to 1."""
    planned: Section | None = None
    """The recipe's own bar, where another one is used."""
    planned_mm: float | None = None
    """What would have been cut of that: proved, or by the sum."""
    left_mm: float | None = None
    """What to cut where the finished piece may keep this bar's section wherever the recipe keeps
    its own; None where that makes no difference or is not known."""


class Component(Resolved, frozen=True, kw_only=True):
    """One component of the set."""

    id: str
    name: str
    marks: tuple[str, ...] = ()
    """Hand or variant of each of a set, as long as `each`: ("left", "right"); "" where alike."""
    each: int = 1
    mirrored: bool = False
    """True where the marks are hands (mirror images)."""
    lot: bool = False
    stock: Stock | None = None
    needs: tuple[Need, ...] = ()
    match: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()


class Bought(Resolved, frozen=True, kw_only=True):
    """Something that is bought, not forged, and goes with the work."""

    id: str
    name: str
    """As it is counted: "nuts M10"."""
    each: int = 1
    """How many in one set."""
    says: str = ""
    """Resolved prose."""
    component: str = ""
    """Id of the component that it goes with, or ""."""
    mass_kg: float | None = None
    """Of one."""


class Recipe(Resolved, frozen=True, kw_only=True):
    """A recipe at given sizes."""

    id: str
    name: str
    says: str = ""
    maker: str = ""
    revision: str = "1"
    licence: str = ""
    process_hash: str
    """Of the written process, whatever the sizes: the same hash says the same work."""
    steel: str = "mild"
    cautions: tuple[str, ...] = ()
    sizes_mm: dict[str, float] = {}
    components: tuple[Component, ...] = ()
    bought: tuple[Bought, ...] = ()
    makes: tuple[str, ...] = ()
    """Ids of tools of the shop that are there once an order for the shop is finished."""
