"""The recipe as the smith wrote it: every key of the file, nothing worked out yet.

This is the format (number 1). The JSON Schema and the page for smiths are made from it,
so every key carries its line of help here and nowhere else.
"""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from forgelog.recipe.written_evidence import WrittenEvidence, WrittenShared
from forgelog.recipe.written_words import (
    Count,
    Heat,
    Heats,
    Id,
    Judge,
    Kind,
    Length,
    Mass,
    Medium,
    Minutes,
    Name,
    Prose,
    Quench,
    SectionText,
    SizeName,
    Skipping,
    WorkRange,
    Written,
)

FORMAT = 1
"""The number of the format that this module describes."""


class WrittenSize(Written, frozen=True, kw_only=True):
    """One size that an order may change, under `[sizes.NAME]`."""

    default: Annotated[
        Length,
        Meta(description="The size where the order says nothing; may be a sum over other sizes."),
    ]
    says: Annotated[Prose, Meta(description="What is measured, and where.")] = ""
    least: Annotated[Length | None, Meta(description="The least that the recipe works for.")] = None
    most: Annotated[Length | None, Meta(description="The most that the recipe works for.")] = None


class WrittenStock(Written, frozen=True, kw_only=True):
    """What the component is cut from."""

    section: Annotated[SectionText, Meta(description="The bar.")]
    cut: Annotated[
        Length | None,
        Meta(description="The length that has proved itself; shown beside the sum."),
    ] = None
    grip: Annotated[
        Length | None, Meta(description="Tong grip, cut off afterwards; not scaled.")
    ] = None
    trim: Annotated[
        Length | None,
        Meta(description="Cut off the finished end; loses scale as the form does."),
    ] = None
    loss: Annotated[
        float,
        Meta(description="Scale loss in per cent; 4 where it is not given.", ge=0, le=30),
    ] = 4.0


class WrittenSolid(Written, frozen=True, kw_only=True):
    """One simple form of the finished piece; `solid` says which of the other keys it needs."""

    solid: Annotated[Name, Meta(description="Which simple form it is.")]
    across: Annotated[
        Length | None,
        Meta(description="Diameter of a round; across the flats of a square, hexagon or octagon."),
    ] = None
    wide: Annotated[Length | None, Meta(description="Width.")] = None
    thick: Annotated[Length | None, Meta(description="Thickness.")] = None
    long: Annotated[Length | None, Meta(description="Length of this form.")] = None
    section: Annotated[SectionText | None, Meta(description="The bar that is bent or rolled.")] = (
        None
    )
    start: Annotated[SectionText | None, Meta(description="Section where a taper starts.")] = None
    end: Annotated[SectionText | None, Meta(description="Section where a taper ends.")] = None
    inside: Annotated[Length | None, Meta(description="Inside diameter.")] = None
    outside: Annotated[Length | None, Meta(description="Outside diameter.")] = None
    centre_line: Annotated[Length | None, Meta(description="Diameter on the centre line.")] = None
    thread: Annotated[Name | None, Meta(description="The thread.", examples=["M12"])] = None
    times: Annotated[Count, Meta(description="How many alike.")] = 1


class WrittenTool(Written, frozen=True, kw_only=True):
    """A tool or jig with its setting."""

    name: Annotated[Name, Meta(description="The tool, as in the book's tools.", examples=["swage"])]
    setting: Annotated[Prose, Meta(description="How it is set for this step.")] = ""


class WrittenTarget(Written, frozen=True, kw_only=True):
    """What the step makes of the bar."""

    section: Annotated[SectionText | None, Meta(description="The section to come to.")] = None
    long: Annotated[Length | None, Meta(description="The length of that section.")] = None
    hot: Annotated[bool, Meta(description="true where the length is between hot marks.")] = False
    mark: Annotated[
        Length | None,
        Meta(description="How much of the bar, from the mark on, goes into that length."),
    ] = None


class WrittenGauge(Written, frozen=True, kw_only=True):
    """A size that is gauged, with its tolerance."""

    what: Annotated[Name, Meta(description="What is gauged; `match` names it.")]
    size: Annotated[Length, Meta(description="The size that it should have.")]
    plus: Annotated[Length | None, Meta(description="How much more is still right.")] = None
    minus: Annotated[Length | None, Meta(description="How much less is still right.")] = None
    hot: Annotated[bool, Meta(description="true where it is gauged hot.")] = False


class WrittenHeats(Written, frozen=True, kw_only=True):
    """Planned heats by method; write those that you know."""

    hand: Annotated[Heats | None, Meta(description="Alone, by hand.")] = None
    striker: Annotated[Heats | None, Meta(description="With a striker.")] = None
    power: Annotated[Heats | None, Meta(description="Under the power hammer.")] = None
    press: Annotated[Heats | None, Meta(description="Under the press.")] = None


class WrittenStep(Written, frozen=True, kw_only=True):
    """One thing to do, under `[[component.step]]`."""

    do: Annotated[
        str,
        Meta(
            title="few words",
            description="The verb and its object.",
            examples=["set down the pin"],
            min_length=1,
            max_length=60,
        ),
    ]
    kind: Annotated[
        Kind | None,
        Meta(description="What kind of step it is, where `do` and `heats` do not say it."),
    ] = None
    id: Annotated[
        Id | None, Meta(description="Needed where two steps of a component have the same `do`.")
    ] = None
    done: Annotated[
        Name | None, Meta(description="Its words when done.", examples=["the pin is set down"])
    ] = None
    says: Annotated[Prose, Meta(description="What to do and how, for someone new to it.")] = ""
    heats: Annotated[
        WrittenHeats | None, Meta(description="Planned heats by method, of a forging step.")
    ] = None
    minutes: Annotated[
        Minutes | None, Meta(description="Planned time of bench work, a fit or a finish.")
    ] = None
    dries: Annotated[
        Minutes | None,
        Meta(description="How long the finish dries before it is packed.", examples=["24 h"]),
    ] = None
    work: Annotated[
        WorkRange | None, Meta(description="The heat to start at and the heat to stop at.")
    ] = None
    section: Annotated[
        SectionText | None,
        Meta(description="The section that is worked, where it is not the stock's."),
    ] = None
    to: Annotated[WrittenTarget | None, Meta(description="The section and length to come to.")] = (
        None
    )
    tools: Annotated[
        list[Name | WrittenTool],
        Meta(description="Tools, by name or with a setting.", max_length=40),
    ] = []
    jigs: Annotated[
        list[Name | WrittenTool],
        Meta(description="Jigs, by name or with a setting.", max_length=40),
    ] = []
    gauge: Annotated[
        list[WrittenGauge], Meta(description="Sizes to gauge in this step.", max_length=40)
    ] = []
    follows: Annotated[
        bool, Meta(description="true where it may follow the step before in the same heat.")
    ] = False
    until: Annotated[
        Name | None,
        Meta(
            description="A rest's end: black, hand-warm, cold, a temperature or a time.",
            examples=["black", "400 degC", "10 min"],
        ),
    ] = None
    medium: Annotated[Medium | None, Meta(description="Where it rests.")] = msgspec.field(
        default=None, name="in"
    )
    why: Annotated[Prose, Meta(description="Why it rests, and what to look for meanwhile.")] = ""
    skipping: Annotated[
        Skipping | None,
        Meta(description="What cutting the rest short means: worth a note, or it matters."),
    ] = None
    at: Annotated[
        Heat | None, Meta(description="The heat of a normalise, anneal, harden or temper.")
    ] = None
    soak: Annotated[Minutes | None, Meta(description="How long at that heat.")] = None
    cycles: Annotated[int, Meta(description="How many times over.", ge=1, le=6)] = 1
    quench: Annotated[Quench | None, Meta(description="What it is hardened in.")] = None
    judge: Annotated[
        list[Judge], Meta(description="What the heat is judged by.", max_length=4)
    ] = []
    cool: Annotated[Prose, Meta(description="An end to be cooled in water, and which.")] = ""
    watch: Annotated[Prose, Meta(description="What to watch for.")] = ""
    recover: Annotated[Prose, Meta(description="What to do when it goes wrong.")] = ""
    cautions: Annotated[
        list[Name], Meta(description="Cautions of this step, by id.", max_length=30)
    ] = []


class WrittenNeed(Written, frozen=True, kw_only=True):
    """Finished components that an assembly takes up."""

    component: Annotated[Id, Meta(description="The component's id.")]
    count: Annotated[Count, Meta(description="How many go into one.")] = 1


class WrittenComponent(Written, frozen=True, kw_only=True):
    """One component, under `[[component]]`."""

    id: Annotated[Id, Meta(description="Its short name, for references.", examples=["pintle"])]
    name: Annotated[Name, Meta(description="What the smith calls it.", examples=["pintle"])]
    each: Annotated[Count, Meta(description="How many in one set, all hands together.")] = 1
    hands: Annotated[
        list[Name],
        Meta(description="Mirror images.", examples=[["left", "right"]], max_length=12),
    ] = []
    variant: Annotated[
        list[Name],
        Meta(
            description="The same part turned over or otherwise marked.",
            examples=[["upper", "lower"]],
            max_length=12,
        ),
    ] = []
    lot: Annotated[
        bool, Meta(description="true for many small alike parts, counted as a handful.")
    ] = False
    stock: Annotated[WrittenStock | None, Meta(description="What it is cut from.")] = None
    form: Annotated[
        list[WrittenSolid],
        Meta(
            description="The finished solid as simple forms; gives the stock its length.",
            max_length=60,
        ),
    ] = []
    needs: Annotated[
        list[Id | WrittenNeed],
        Meta(description="Components that go into it, by id or with a count.", max_length=60),
    ] = []
    match: Annotated[
        list[Name], Meta(description="Gauged sizes that a pair must share.", max_length=20)
    ] = []
    step: Annotated[
        list[WrittenStep], Meta(description="The steps, in order.", max_length=200)
    ] = []


class WrittenBought(Written, frozen=True, kw_only=True):
    """Something that is bought and goes with the work, under `[[bought]]`."""

    id: Annotated[Id, Meta(description="Its short name, for references.", examples=["nut-m10"])]
    name: Annotated[
        Name, Meta(description="What it is, as it is counted.", examples=["nuts M10", "oil"])
    ]
    each: Annotated[Count, Meta(description="How many in one set.")] = 1
    says: Annotated[Prose, Meta(description="Which to buy, and what it is for.")] = ""
    component: Annotated[Id | None, Meta(description="The component that it goes with, by id.")] = (
        msgspec.field(default=None, name="for")
    )
    mass: Annotated[Mass | None, Meta(description="What one of them weighs.")] = None


class WrittenRecipe(Written, frozen=True, kw_only=True):
    """A whole recipe file."""

    format: Annotated[int, Meta(description="1, the format that this page describes.", ge=1, le=1)]
    id: Annotated[Id, Meta(description="The recipe's short name, for orders and files.")]
    name: Annotated[Name, Meta(description="What the piece is called.", examples=["Gate pintle"])]
    says: Annotated[Prose, Meta(description="What it is, in a sentence or two.")] = ""
    maker: Annotated[Name | None, Meta(description="Who worked it out.")] = None
    revision: Annotated[
        int | Name, Meta(description="Your label for this state of the recipe.")
    ] = 1
    licence: Annotated[
        Annotated[str, Meta(title="few words", max_length=80)],
        Meta(description="On what terms others may use it.", examples=["CC-BY-4.0"]),
    ] = ""
    steel: Annotated[
        Name, Meta(description="The steel: mild, a grade, or unknown.", examples=["mild", "1045"])
    ] = "mild"
    cautions: Annotated[
        list[Name], Meta(description="Cautions of the whole work, by id.", max_length=30)
    ] = []
    sizes: Annotated[
        dict[SizeName, WrittenSize],
        Meta(description="Sizes that an order may change.", max_length=50),
    ] = {}
    component: Annotated[
        list[WrittenComponent],
        Meta(description="The components, in order of work.", max_length=100),
    ] = []
    makes: Annotated[
        list[Id],
        Meta(
            description="Tools of the shop that this recipe makes, by id: the name with dashes.",
            examples=[["scroll-jig"]],
            max_length=10,
        ),
    ] = []
    bought: Annotated[
        list[WrittenBought],
        Meta(description="What is bought and not forged, and goes with it.", max_length=50),
    ] = []
    shared: Annotated[
        WrittenShared | None,
        Meta(description="What forgelog writes when the recipe is shared; never needed by hand."),
    ] = None
    evidence: Annotated[
        WrittenEvidence | None,
        Meta(description="What the sharer's own records say; written by forgelog."),
    ] = None
