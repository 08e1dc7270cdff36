"""The tables of money in shop.toml: read, or reported with their lines. None is ever guessed."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from forgelog.book.money_written import (
    WrittenFuel,
    WrittenOverhead,
    WrittenPrices,
    WrittenQuote,
    WrittenRates,
    WrittenTax,
)
from forgelog.book.toml_file import TomlFile
from forgelog.money.amounts import Currency, MoneyError, read_money, read_share
from forgelog.money.rates import HOURS, BarPrice, Rates
from forgelog.recipe.problems import Fault, Path
from forgelog.trade.sections import Section, parse_section
from forgelog.units import parse_mass, parse_time, tidy

MOST_FUEL_KG_H = 50.0
MOST_KWH_H = 200.0
_ENERGY = re.compile(r"(\d{1,6}(?:\.\d{1,6})?) ?kwh", re.ASCII | re.IGNORECASE)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.book.settings_written import WrittenShop


def rates_of(file: TomlFile[WrittenShop], currency: str) -> Rates:
    """The rates of a shop's file; what is wrong is reported to it.

    Args:
        file: shop.toml as it was read.
        currency: Its three letters, or "" where it names none.
    """
    return _Reader(file, Currency(code=currency)).rates()


class _Reader:
    def __init__(self, file: TomlFile[WrittenShop], currency: Currency) -> None:
        self.file = file
        self.currency = currency

    def rates(self) -> Rates:
        shop = self.file.written
        prices, fuel, overhead, terms = shop.prices, shop.fuel, shop.overhead, shop.quote
        return Rates(
            currency=self.currency,
            hour=self.hours(shop.rates),
            consumables_hour=self.money(("prices", "consumables_hour"), prices.consumables_hour),
            steel_kg={
                name.casefold(): price
                for name, price in self.by_name(("prices", "steel"), prices.steel).items()
            },
            bars=self.bars(prices),
            bought=self.by_name(("prices", "bought"), prices.bought),
            finish_kg=self.money(("prices", "finish_kg"), prices.finish_kg),
            waste=self.share(("prices", "waste"), prices.waste, 60) or Decimal(0),
            **self.fuel(fuel),
            **self.overhead(overhead),
            **self.tax(shop.tax),
            **self.terms(terms),
        )

    def money(self, path: Path, text: str | None) -> Decimal | None:
        return self.file.quantity(path, text or "", self.read_money, None)

    def read_money(self, text: str) -> Decimal | None:
        return read_money(text, self.currency)

    def share(self, path: Path, text: str | None, most_percent: int = 100) -> Decimal | None:
        def read(text: str) -> Decimal | None:
            return read_share(text, most_percent)

        return self.file.quantity(path, text or "", read, None)

    def by_name(self, path: Path, table: dict[str, str]) -> dict[str, Decimal]:
        found = {name: self.money((*path, name), text) for name, text in table.items()}
        return {name: price for name, price in found.items() if price is not None}

    def hours(self, rates: WrittenRates) -> dict[str, Decimal]:
        usual = self.money(("rates", "hour"), rates.hour)
        found: dict[str, Decimal] = {}
        for kind in HOURS:
            key = f"{kind.replace('-', '_')}_hour"
            own = self.money(("rates", key), getattr(rates, key))
            price = usual if own is None else own
            if price is not None:
                found[kind] = price
        return found

    def bars(self, prices: WrittenPrices) -> tuple[BarPrice, ...]:
        found: list[BarPrice] = []
        for number, row in enumerate(prices.bar):
            at = ("prices", "bar", number)
            section = self.file.quantity((*at, "section"), row.section or "", _section, None)
            kg = self.money((*at, "kg"), row.kg)
            lost = bool(row.section) and section is None
            if not lost and kg is not None and (section is not None or row.steel):
                found.append(BarPrice(section=section, steel=row.steel or "", kg=kg))
            elif not row.section and not row.steel and row.kg:
                fault = Fault(
                    found="has neither section nor steel",
                    expected='add section = "25 x 12 mm flat", or steel = "mild"',
                )
                self.file.report(at, fault)
        return tuple(found)

    def fuel(self, fuel: WrittenFuel) -> dict[str, Any]:
        prices: dict[str, Decimal] = {}
        use: dict[str, Decimal] = {}
        for kind in ("gas", "coke", "charcoal"):
            price = self.money(("fuel", kind), getattr(fuel, kind))
            if price is not None:
                prices[kind] = price
            key = f"{kind}_hour"
            kg = self.file.quantity(("fuel", key), getattr(fuel, key) or "", _fuel_kg, None)
            if kg is not None:
                use[kind] = kg
        return {
            "fuel_kg": prices,
            "fuel_kg_h": use,
            "kwh": self.money(("fuel", "electricity"), fuel.electricity),
            "hammer_kwh_h": self.kwh("hammer_hour", fuel.hammer_hour),
            "shop_kwh_h": self.kwh("shop_hour", fuel.shop_hour),
        }

    def kwh(self, key: str, text: str | None) -> Decimal | None:
        return self.file.quantity(("fuel", key), text or "", _kwh, None)

    def overhead(self, overhead: WrittenOverhead) -> dict[str, Any]:
        if overhead.in_rates and overhead.year:
            fault = Fault(
                found="is true, and costs of a year stand here too: they would be charged twice",
                expected="take out one of them",
            )
            self.file.report(("overhead", "in_rates"), fault)
        return {
            "year": self.by_name(("overhead", "year"), overhead.year),
            "sellable_hours": (
                Decimal(overhead.sellable_hours) if overhead.sellable_hours else None
            ),
            "overhead_in_rates": overhead.in_rates,
        }

    def tax(self, tax: WrittenTax) -> dict[str, Any]:
        return {"tax_name": tax.name or "", "tax": self.share(("tax", "share"), tax.share)}

    def terms(self, terms: WrittenQuote) -> dict[str, Any]:
        hours: dict[str, Decimal] = {}
        for kind in ("design", "lay-out", "pack"):
            key = kind.replace("-", "_")
            found = self.file.quantity(("quote", key), getattr(terms, key) or "", _hours, None)
            if found is not None:
                hours[kind] = found
        return {
            "hours": hours,
            "remakes": self.share(("quote", "remakes"), terms.remakes, 50),
            "margin": self.share(("quote", "margin"), terms.margin, 500),
            "minimum": self.money(("quote", "minimum"), terms.minimum),
            "deposit": self.share(("quote", "deposit"), terms.deposit),
            "valid_days": terms.valid_days,
        }


def _section(text: str) -> Section | None:
    return parse_section(text)


def _fuel_kg(text: str) -> Decimal | None:
    kg = parse_mass(text)
    if not 0 < kg <= MOST_FUEL_KG_H:
        raise MoneyError(
            text, "cannot be what an hour takes", f"a mass up to {MOST_FUEL_KG_H:g} kg"
        )
    return Decimal(repr(kg)).quantize(Decimal("0.001"), rounding=ROUND_HALF_UP)


def _kwh(text: str) -> Decimal | None:
    expected = 'kilowatt-hours, like "1.5 kWh"'
    match = _ENERGY.fullmatch(tidy(text))
    if match is None:
        raise MoneyError(text, "cannot be read", expected)
    kwh = Decimal(match[1])
    if kwh > Decimal(repr(MOST_KWH_H)):
        raise MoneyError(text, f"is more than {MOST_KWH_H:g} kWh in an hour", expected)
    return kwh


def _hours(text: str) -> Decimal | None:
    seconds = parse_time(text)
    if seconds > 1000 * 3600:
        raise MoneyError(text, "is more than 1000 h", 'a time, like "1 h 30 min"')
    exact = Decimal(repr(seconds)) / 3600
    return exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
