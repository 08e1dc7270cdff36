"""The recipe as the smith wrote it: every key of the file, nothing worked out yet.

This is the format (number 1). The JSON Schema and the page for smiths are made from it,
so every field carries its line of help here and nowhere else.
"""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

Length = Annotated[str, Meta(description='A length with its unit, or a sum over sizes: "12 mm", "1 1/8 in", "post + 14 mm".', max_length=200)]
Heat = Annotated[str, Meta(description='A temperature with its unit: "870 degC", "1600 degF".', max_length=40)]
Minutes = Annotated[str, Meta(description='A time with its unit: "10 min", "90 s", "2 h".', max_length=40)]
SectionText = Annotated[str, Meta(description='A bar as smiths write it: "25 x 12 mm flat", "12 mm square", "1/2 in round".', max_length=80)]
Prose = Annotated[str, Meta(description="Plain words. {post + 14 mm} is worked out and shown in the shop's units.", max_length=2000)]
Name = Annotated[str, Meta(description="A few words.", max_length=80)]
Id = Annotated[str, Meta(description="Small letters, digits and dashes.", pattern="^[a-z][a-z0-9-]{0,39}$")]
Count = Annotated[int, Meta(ge=1, le=200)]
Heats = Annotated[int, Meta(ge=1, le=40)]


class Written(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """Base: a table of the recipe file; a key that is not listed is an error."""


class WrittenSize(Written, kw_only=True):
    """One size that an order may change, [sizes.NAME]."""

    default: Length
    says: Prose = ""
    least: Length | None = None
    most: Length | None = None


class WrittenStock(Written, kw_only=True):
    """What the component is made from."""

    section: SectionText
    cut: Length | None = None
    """The length that has proved itself; shown beside the sum."""
    grip: Length | None = None
    """Tong grip, cut off afterwards; not scaled."""
    trim: Length | None = None
    """Cut off the finished end; scaled like the form."""
    loss: Annotated[float, Meta(ge=0, le=30, description="Scale loss in per cent; 4 where it is not given.")] = 4.0


class WrittenSolid(Written, kw_only=True):
    """One simple form of the finished piece. `solid` says which keys it needs."""

    solid: Name
    across: Length | None = None
    wide: Length | None = None
    thick: Length | None = None
    long: Length | None = None
    section: SectionText | None = None
    start: SectionText | None = None
    end: SectionText | None = None
    inside: Length | None = None
    outside: Length | None = None
    centre_line: Length | None = None
    thread: Name | None = None
    times: Count = 1


class WrittenTool(Written, kw_only=True):
    """A tool or jig with its setting."""

    name: Name
    setting: Prose = ""


class WrittenTarget(Written, kw_only=True):
    """What the step makes of the bar."""

    section: SectionText | None = None
    long: Length | None = None
    hot: bool = False
    """True where the length is between hot marks."""


class WrittenGauge(Written, kw_only=True):
    """A size that is gauged, with its tolerance."""

    what: Name
    size: Length
    plus: Length | None = None
    minus: Length | None = None
    hot: bool = False


class WrittenHeats(Written, kw_only=True):
    """Planned heats by method."""

    hand: Heats | None = None
    striker: Heats | None = None
    power: Heats | None = None
    press: Heats | None = None


class WrittenStep(Written, kw_only=True):
    """One thing to do, [[component.step]]."""

    do: Annotated[str, Meta(description="The verb and its object: \"set down the pin\".", min_length=1, max_length=60)]
    kind: Name | None = None
    """forge, rest, normalise, anneal, harden, temper, bench, fit, gauge or finish."""
    id: Id | None = None
    done: Name | None = None
    says: Prose = ""
    heats: WrittenHeats | None = None
    minutes: Minutes | None = None
    """Planned time of bench work, a fit or a finish."""
    work: Annotated[str, Meta(description='"1150 degC to 850 degC": where to start and where to stop.', max_length=60)] | None = None
    section: SectionText | None = None
    """The section that is actually worked, where it is not the stock's."""
    to: WrittenTarget | None = None
    tools: list[str | WrittenTool] = []
    jigs: list[str | WrittenTool] = []
    gauge: list[WrittenGauge] = []
    follows: bool = False
    """True where it may follow the step before in the same heat."""
    until: Name | None = None
    """A rest's end: black, hand-warm, cold, "400 degC" or "10 min"."""
    medium: Name | None = msgspec.field(default=None, name="in")
    """A rest's place: still air, draught, ash, vermiculite, sand, fire."""
    why: Prose = ""
    skipping: Name | None = None
    """note or matters."""
    at: Heat | None = None
    """The heat of normalise, anneal, harden and temper."""
    soak: Minutes | None = None
    cycles: Annotated[int, Meta(ge=1, le=6)] = 1
    quench: Name | None = None
    """oil, water, brine or air."""
    judge: list[Name] = []
    """What a heat is judged by: eye, magnet, thermocouple, oven."""
    cool: Prose = ""
    """An end to be cooled in water, and which."""
    watch: Prose = ""
    recover: Prose = ""
    cautions: list[Name] = []


class WrittenNeed(Written, kw_only=True):
    """What an assembly takes up."""

    component: Id
    count: Count = 1


class WrittenComponent(Written, kw_only=True):
    """One component, [[component]]."""

    id: Id
    name: Name
    each: Count = 1
    """How many in one set, all hands together."""
    hands: list[Name] = []
    """Mirror images: ["left", "right"]."""
    variant: list[Name] = []
    """The same part turned over or otherwise marked."""
    lot: bool = False
    """Many small alike parts, counted as a handful."""
    stock: WrittenStock | None = None
    form: list[WrittenSolid] = []
    needs: list[str | WrittenNeed] = []
    match: list[Name] = []
    step: list[WrittenStep] = []


class WrittenRecipe(Written, kw_only=True):
    """A whole recipe file."""

    format: Annotated[int, Meta(description="1, the format that this page describes.")]
    id: Id
    name: Name
    says: Prose = ""
    maker: Name | None = None
    revision: int | Name = 1
    licence: Name = ""
    steel: Name = "mild"
    cautions: list[Name] = []
    sizes: dict[str, WrittenSize] = {}
    component: list[WrittenComponent] = []
