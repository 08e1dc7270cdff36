"""The tables of money in shop.toml: read as written, refused with their line, never guessed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from forgelog.book.settings import read_shop
from forgelog.money.amounts import Currency
from forgelog.money.rates import BarPrice, Rates
from forgelog.trade.sections import Section

FLAT = Section(kind="flat", a_mm=25.0, b_mm=12.0)


def rates(text: str) -> Rates:
    shop, problems = read_shop(text.encode())
    assert problems == ()
    return shop.rates


def problem(text: str) -> str:
    _, problems = read_shop(text.encode())
    assert len(problems) == 1, [p.text for p in problems]
    return problems[0].text


def test_a_shop_that_says_nothing_of_money_has_no_rate_at_all() -> None:
    assert rates("") == Rates()
    assert rates('currency = "EUR"') == Rates(currency=Currency(code="EUR"))


def test_an_hour_without_a_rate_of_its_own_takes_the_usual_one() -> None:
    found = rates('[rates]\nhour = "40"\nfire_hour = "48.50"\n').hour
    assert found["fire"] == Decimal("48.50")
    assert found["bench"] == found["lay-out"] == Decimal(40)
    assert "bench" not in rates('[rates]\nfire_hour = "48"\n').hour


def test_the_currency_may_stand_after_the_amount_and_a_price_be_finer_than_the_coin() -> None:
    found = rates('currency = "EUR"\n[fuel]\nelectricity = "0.2755 EUR"\ngas = "2.6 eur"\n')
    assert found.kwh == Decimal("0.2755")
    assert found.fuel_kg == {"gas": Decimal("2.6")}


def test_the_price_of_a_bar_is_the_one_that_says_most_of_it() -> None:
    found = rates(
        """
[prices.steel]
Mild = "1.90"
[[prices.bar]]
section = "25 x 12 mm flat"
kg = "2.10"
[[prices.bar]]
section = "25 x 12 mm flat"
steel = "1045"
kg = "3.40"
"""
    )
    assert found.bars[0] == BarPrice(section=FLAT, kg=Decimal("2.10"))
    assert found.bar_kg(FLAT, "mild") == Decimal("2.10")
    assert found.bar_kg(FLAT, "1045") == Decimal("3.40")
    assert found.bar_kg(Section(kind="square", a_mm=12.0), "mild") == Decimal("1.90")
    assert found.bar_kg(Section(kind="square", a_mm=12.0), "1045") is None


def test_fuel_current_overhead_tax_and_terms_are_read() -> None:
    found = rates(
        """
[fuel]
gas_hour = "2 lb"
hammer_hour = "1.5 kWh"
[overhead]
sellable_hours = 900
[overhead.year]
rent = "4800"
insurance = "600"
[tax]
name = "VAT"
share = "20 %"
[quote]
lay_out = "45 min"
remakes = "4 %"
margin = "10 %"
minimum = "60"
deposit = "30 %"
valid_days = 30
"""
    )
    assert found.fuel_kg_h == {"gas": Decimal("0.907")}
    assert found.hammer_kwh_h == Decimal("1.5")
    assert found.overhead_hour == Decimal("6.00")
    assert (found.tax_name, found.tax) == ("VAT", Decimal("0.2"))
    assert found.hours == {"lay-out": Decimal("0.75")}
    assert (found.remakes, found.margin) == (Decimal("0.04"), Decimal("0.1"))
    assert (found.minimum, found.deposit, found.valid_days) == (60, Decimal("0.3"), 30)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[rates]\nfire_hour = 38.5\n", "fire_hour is 38.5; write an amount of money"),
        ('[rates]\nfire_hour = "-38"\n', 'fire_hour is "-38", which is below nothing'),
        ('[rates]\nfire_hour = "38,50"\n', 'did you mean "38.50"?'),
        ('[rates]\nfire_hour = "€38"\n', "has a sign for the currency"),
        ('[rates]\nfire_hour = "1,250.00"\n', "has a sign between its figures"),
        ('[rates]\nfire_hour = "38 EUR"\n', "names a currency, and the shop has none"),
        ('currency = "GBP"\n[rates]\nhour = "38 EUR"\n', "is in EUR, and the shop counts in GBP"),
        ('[rates]\nfire_hour = "lots"\n', "has no number"),
        ('[rates]\nfire_hour = "NaN"\n', "has no number"),
        ('[rates]\nfire_hour = "1e9"\n', "cannot be read"),
        ('[rates]\nfire_hour = "99999999999"\n', "more than a thousand million"),
        ('[rates]\nfire_our = "38"\n', 'did you mean "fire_hour"?'),
        ('[quote]\nmargin = "15"\n', 'did you mean "15 %"?'),
        ('[quote]\nremakes = "80 %"\n', "is more than 50 %"),
        ('[tax]\nshare = "120 %"\n', "is more than 100 %"),
        ('[fuel]\ngas_hour = "900 kg"\n', "cannot be what an hour takes"),
        ('[fuel]\nhammer_hour = "1.5 kW"\n', "kilowatt-hours"),
        ("[overhead]\nsellable_hours = 0\n", "a whole number from 1 to 20000"),
        ('[prices]\nsteel = "1.90"\n', 'write a table, like { name = "38.50" }'),
        ('[[prices.bar]]\nkg = "2.10"\n', "has neither section nor steel"),
        ('[[prices.bar]]\nsection = "12 mm"\nkg = "2.10"\n', "12 mm"),
        ('[overhead]\nin_rates = true\nyear = { rent = "1" }\n', "would be charged twice"),
    ],
)
def test_what_cannot_be_is_refused_in_the_smiths_words_with_its_line(text: str, words: str) -> None:
    said = problem(text)
    assert words in said
    assert said.startswith("shop.toml:")
