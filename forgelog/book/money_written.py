"""The tables of money in shop.toml, as the smith writes them. All of it may be left out."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, field

from forgelog.recipe.written_words import Minutes, Name, SectionText, Written

Money = Annotated[
    str,
    Meta(
        title="money",
        description="An amount of money; the currency may stand after it.",
        examples=["38.50"],
        min_length=1,
        max_length=40,
    ),
]
Share = Annotated[
    str,
    Meta(
        title="share",
        description="A share of the whole.",
        examples=["15 %"],
        min_length=1,
        max_length=40,
    ),
]
MassText = Annotated[
    str,
    Meta(
        title="mass",
        description="A mass with its unit.",
        examples=["0.9 kg"],
        min_length=1,
        max_length=40,
    ),
]
Energy = Annotated[
    str,
    Meta(
        title="energy",
        description="Kilowatt-hours.",
        examples=["1.5 kWh"],
        min_length=1,
        max_length=40,
    ),
]

YearHours = Annotated[int, Meta(title="count", ge=1, le=20000)]
Days = Annotated[int, Meta(title="count", ge=1, le=365)]


class WrittenRates(Written, frozen=True, kw_only=True):
    """What an hour costs the customer, under `[rates]`."""

    hour: Annotated[Money | None, Meta(description="Any hour that has no rate of its own.")] = None
    design_hour: Annotated[Money | None, Meta(description="Drawing, talking, quoting.")] = None
    lay_out_hour: Annotated[Money | None, Meta(description="Setting up, once an order.")] = None
    fire_hour: Annotated[Money | None, Meta(description="At the fire.")] = None
    bench_hour: Annotated[Money | None, Meta(description="At the bench.")] = None
    finish_hour: Annotated[Money | None, Meta(description="Oil, wax, paint.")] = None
    pack_hour: Annotated[Money | None, Meta(description="Packing.")] = None
    survey_hour: Annotated[Money | None, Meta(description="Measuring on site.")] = None
    fitting_hour: Annotated[Money | None, Meta(description="Fitting on site.")] = None


class WrittenBarPrice(Written, frozen=True, kw_only=True):
    """What a kg of one bar costs, under `[[prices.bar]]`."""

    section: Annotated[SectionText | None, Meta(description="The bar; left out for any.")] = None
    steel: Annotated[Name | None, Meta(description="The steel; left out for any.")] = None
    kg: Annotated[Money, Meta(description="Price of a kg.")]


class WrittenPrices(Written, frozen=True, kw_only=True):
    """What is bought, under `[prices]`."""

    steel: Annotated[dict[Name, Money], Meta(description="A kg of bar, by steel.")] = field(
        default_factory=dict
    )
    bar: Annotated[
        list[WrittenBarPrice], Meta(description="Bars that have a price of their own.")
    ] = field(default_factory=list)
    bought: Annotated[dict[Name, Money], Meta(description="One of each bought part, by id.")] = (
        field(default_factory=dict)
    )
    waste: Annotated[Share | None, Meta(description="Ends of bars that are too short to keep.")] = (
        None
    )
    finish_kg: Annotated[
        Money | None, Meta(description="Oil, wax or paint for a kg of finished work.")
    ] = None
    consumables_hour: Annotated[
        Money | None, Meta(description="Belts, discs, flux for an hour at fire and bench.")
    ] = None


class WrittenFuel(Written, frozen=True, kw_only=True):
    """Fuel and current, under `[fuel]`."""

    gas: Annotated[Money | None, Meta(description="A kg of gas.")] = None
    gas_hour: Annotated[MassText | None, Meta(description="Gas that an hour takes.")] = None
    coke: Annotated[Money | None, Meta(description="A kg of coke.")] = None
    coke_hour: Annotated[MassText | None, Meta(description="Coke that an hour takes.")] = None
    charcoal: Annotated[Money | None, Meta(description="A kg of charcoal.")] = None
    charcoal_hour: Annotated[MassText | None, Meta(description="Charcoal that an hour takes.")] = (
        None
    )
    electricity: Annotated[Money | None, Meta(description="A kilowatt-hour.")] = None
    hammer_hour: Annotated[
        Energy | None, Meta(description="What the power hammer draws in an hour of its work.")
    ] = None
    shop_hour: Annotated[
        Energy | None, Meta(description="Blower, light and machines in an hour of work.")
    ] = None


class WrittenOverhead(Written, frozen=True, kw_only=True):
    """What the shop costs whether it works or not, under `[overhead]`."""

    year: Annotated[dict[Name, Money], Meta(description="Costs of a year, by name.")] = field(
        default_factory=dict
    )
    sellable_hours: Annotated[
        YearHours | None, Meta(description="Hours of a year that are sold.")
    ] = None
    in_rates: Annotated[bool, Meta(description="True where the rates hold it already.")] = False


class WrittenTax(Written, frozen=True, kw_only=True):
    """Tax on the price, under `[tax]`."""

    name: Annotated[Name | None, Meta(description="What it is called.")] = None
    share: Annotated[Share | None, Meta(description="Of the price; 0 % where none is due.")] = None


class WrittenQuote(Written, frozen=True, kw_only=True):
    """Terms, under `[quote]`."""

    design: Annotated[Minutes | None, Meta(description="What an order usually takes of it.")] = None
    lay_out: Annotated[Minutes | None, Meta(description="Setting up, once an order.")] = None
    pack: Annotated[Minutes | None, Meta(description="Packing an order.")] = None
    remakes: Annotated[
        Share | None, Meta(description="Pieces made again, before the record says.")
    ] = None
    margin: Annotated[Share | None, Meta(description="On top of the costs.")] = None
    minimum: Annotated[Money | None, Meta(description="No order costs less, tax left out.")] = None
    deposit: Annotated[Share | None, Meta(description="Of the price with tax.")] = None
    valid_days: Annotated[Days | None, Meta(description="How long an offer holds.")] = None
