"""What a shop charges and pays, as its settings have it. What is not set is None, or missing."""

from __future__ import annotations

from decimal import Decimal

import msgspec

from forgelog.money.amounts import Currency
from forgelog.trade.sections import Section

HOURS = {
    "design": "design and talk",
    "lay-out": "lay-out",
    "fire": "fire",
    "bench": "bench",
    "finish": "finish",
    "pack": "pack",
    "survey": "site survey",
    "fitting": "fitting",
}
"""Kinds of hour, with their words, in the order in which the work goes."""
OF_STEPS = ("fire", "bench", "finish")
"""Hours that steps of the recipe stand for; the others are told."""
ALWAYS = ("design", "lay-out", *OF_STEPS, "pack")
"""Hours that every order has; the others only where they are told."""


class MoneyRecord(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records of money."""


class BarPrice(MoneyRecord, frozen=True, kw_only=True):
    """What a kg of one bar costs."""

    kg: Decimal
    section: Section | None = None
    """None for any."""
    steel: str = ""
    """"" for any."""


class Rates(MoneyRecord, frozen=True, kw_only=True):
    """The tables of money in shop.toml."""

    currency: Currency = Currency()
    hour: dict[str, Decimal] = {}
    """Of one hour, by kind."""
    consumables_hour: Decimal | None = None
    """Belts, discs, flux and the like, for an hour at fire and bench."""
    steel_kg: dict[str, Decimal] = {}
    """By steel, in small letters."""
    bars: tuple[BarPrice, ...] = ()
    bought: dict[str, Decimal] = {}
    """One of each bought part, by its id in recipes."""
    finish_kg: Decimal | None = None
    """Oil, wax or paint for a kg of finished work."""
    waste: Decimal = Decimal(0)
    """Share of stock that ends too short to keep come to."""
    fuel_kg: dict[str, Decimal] = {}
    """By kind of fire."""
    fuel_kg_h: dict[str, Decimal] = {}
    """The shop's own figure of what a fire burns in an hour, by kind of fire."""
    kwh: Decimal | None = None
    hammer_kwh_h: Decimal | None = None
    """What the power hammer draws in an hour of its work."""
    shop_kwh_h: Decimal | None = None
    """What blower, light and machines draw in an hour of work."""
    year: dict[str, Decimal] = {}
    """Yearly costs by name."""
    sellable_hours: Decimal | None = None
    overhead_in_rates: bool = False
    tax_name: str = ""
    tax: Decimal | None = None
    hours: dict[str, Decimal] = {}
    """Hours that an order usually has, by kind."""
    remakes: Decimal | None = None
    """Share of pieces made again that the smith reckons with."""
    margin: Decimal | None = None
    """Share on top of the costs."""
    minimum: Decimal | None = None
    deposit: Decimal | None = None
    valid_days: int | None = None

    def bar_kg(self, section: Section, steel: str) -> Decimal | None:
        """Price of a kg of a bar: of this section and steel, of the section, of the steel."""
        steel = steel.casefold()
        alike = [
            bar
            for bar in self.bars
            if (bar.section is None or _same(bar.section, section))
            and (not bar.steel or bar.steel.casefold() == steel)
        ]
        best = max(alike, key=lambda b: (b.section is not None, bool(b.steel)), default=None)
        return best.kg if best is not None else self.steel_kg.get(steel)

    @property
    def overhead_hour(self) -> Decimal | None:
        """Yearly costs for one sellable hour, in whole coins; None where either is not set."""
        if not self.year or not self.sellable_hours:
            return None
        return self.currency.rounded(sum(self.year.values(), Decimal(0)) / self.sellable_hours)


def _same(one: Section, other: Section) -> bool:
    return (
        one.kind == other.kind
        and len(one.sizes_mm) == len(other.sizes_mm)
        and all(abs(a - b) < 0.05 for a, b in zip(one.sizes_mm, other.sizes_mm, strict=True))
    )
