"""The settings files as the smith writes them: shop.toml, tools.toml and stock.toml."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta, field

from forgelog.book.money_written import (
    WrittenFuel,
    WrittenOverhead,
    WrittenPrices,
    WrittenQuote,
    WrittenRates,
    WrittenTax,
)
from forgelog.recipe.written_words import Count, Heat, Id, Length, Name, SectionText, Written

Method = Literal["hand", "striker", "power", "press"]
Setting = Annotated[
    str, Meta(title="few words", description="A few words on one line.", max_length=120)
]


class WrittenFire(Written, frozen=True, kw_only=True):
    """One fire, under `[[fire]]`."""

    id: Annotated[Id, Meta(description="A short name for it.", examples=["gas"])]
    name: Annotated[Name | None, Meta(description="What it is called on the screen.")] = None
    kind: Annotated[Literal["gas", "coke", "charcoal"], Meta(description="What it burns.")] = "gas"
    places: Annotated[
        int, Meta(title="count", description="How many pieces lie in it at once.", ge=1, le=20)
    ] = 3
    heat: Annotated[Heat | None, Meta(description="How hot it runs.")] = None


class WrittenSaw(Written, frozen=True, kw_only=True):
    """How bars are cut, under `[saw]`."""

    kerf: Annotated[Length | None, Meta(description="Width of a saw cut.", examples=["2 mm"])] = (
        None
    )
    bar: Annotated[
        Length | None, Meta(description="Length of a bar as it is bought.", examples=["6 m"])
    ] = None
    least: Annotated[
        Length | None,
        Meta(description="A shorter rest is not kept.", examples=["150 mm"]),
    ] = None


class WrittenSubstitute(Written, frozen=True, kw_only=True):
    """A bar that may be taken in place of another, under `[[substitute]]`."""

    planned: Annotated[SectionText, Meta(description="The bar that a recipe wants.")]
    bar: Annotated[SectionText, Meta(description="The bar that will do in its place.")]


class WrittenShop(Written, frozen=True, kw_only=True):
    """shop.toml."""

    name: Annotated[Name | None, Meta(description="The shop's name, for sheets.")] = None
    who: Annotated[Name | None, Meta(description="Who works here, for the record.")] = None
    dialect: Annotated[Literal["uk", "us"], Meta(description="Usage of the trade's words.")] = "uk"
    units: Annotated[Literal["mm", "inch"], Meta(description="How numbers are shown.")] = "mm"
    currency: Annotated[
        str,
        Meta(
            title="currency",
            description="Three capital letters of a currency.",
            examples=["EUR"],
            max_length=3,
        ),
    ] = ""
    light: Annotated[
        Literal["dim", "day"], Meta(description="The light that heat colours are judged in.")
    ] = "dim"
    air: Annotated[Heat | None, Meta(description="Temperature of the shop's air.")] = None
    methods: Annotated[
        list[Method], Meta(description="How the shop can forge; the first is the usual one.")
    ] = field(default_factory=list)
    alarms_off: Annotated[
        list[Literal["look", "rest", "heat"]], Meta(description="Alarms that stay quiet.")
    ] = field(default_factory=list)
    fire: list[WrittenFire] = field(default_factory=list)
    saw: WrittenSaw = WrittenSaw()
    substitute: list[WrittenSubstitute] = field(default_factory=list)
    rates: WrittenRates = WrittenRates()
    prices: WrittenPrices = field(default_factory=WrittenPrices)
    fuel: WrittenFuel = WrittenFuel()
    overhead: WrittenOverhead = field(default_factory=WrittenOverhead)
    tax: WrittenTax = WrittenTax()
    quote: WrittenQuote = WrittenQuote()


class WrittenOwnTool(Written, frozen=True, kw_only=True):
    """One tool or jig of the shop, under `[[tool]]`."""

    name: Annotated[Name, Meta(description="What it is called.", examples=["16 mm mandrel"])]
    id: Annotated[Id | None, Meta(description="Where it is not the name in small letters.")] = None
    also: Annotated[list[Name], Meta(description="Other names of it.")] = field(
        default_factory=list
    )
    state: Annotated[
        Literal["have", "to be made", "to be repaired", "proved"],
        Meta(description="Whether it can be used."),
    ] = "have"
    setting: Annotated[Setting, Meta(description="How it is set at present.")] = ""
    jig: Annotated[bool, Meta(description="True for a jig.")] = False


class WrittenTools(Written, frozen=True, kw_only=True):
    """tools.toml."""

    tool: list[WrittenOwnTool] = field(default_factory=list)


class WrittenBar(Written, frozen=True, kw_only=True):
    """Bars of one kind on the rack, under `[[bar]]`, or one labelled rest, under `[[offcut]]`."""

    section: Annotated[SectionText, Meta(description="The bar.")]
    long: Annotated[Length, Meta(description="Length of each.", examples=["3 m"])]
    count: Annotated[Count, Meta(description="How many there are.")] = 1
    steel: Annotated[Name, Meta(description="The steel.")] = "mild"
    label: Annotated[Setting, Meta(description="What is written on it.")] = ""
    where: Annotated[Setting, Meta(description="Where it lies.")] = ""


class WrittenRack(Written, frozen=True, kw_only=True):
    """stock.toml."""

    bar: list[WrittenBar] = field(default_factory=list)
    offcut: list[WrittenBar] = field(default_factory=list)
