"""The customer's quote tells the price and nothing of what it costs; the inner sheet tells that."""

from __future__ import annotations

from decimal import Decimal

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import find_order
from forgelog.desk.quote import quote_of
from forgelog.desk.quote_told import QuoteTold
from forgelog.desk.shop import Shop
from forgelog.sheets.making import Wanted, set_sheet
from tests.sheets.reading import PageRead

RATES = """
name = "Test forge"
currency = "EUR"
methods = ["hand", "power"]
[rates]
hour = "40"
fire_hour = "48"
[prices]
consumables_hour = "1.20"
finish_kg = "1"
[prices.steel]
mild = "2.00"
[fuel]
gas = "2.50"
[tax]
name = "VAT"
share = "20 %"
[quote]
design = "1 h"
margin = "10 %"
deposit = "30 %"
valid_days = 30
"""


@pytest.fixture
def priced(shop: Shop) -> Shop:
    (shop.book / "shop.toml").write_text(RATES)
    return shop.again()


def told(shop: Shop, clock: FakeClock) -> QuoteTold:
    return quote_of(shop, find_order(shop.state, "gate 14"), clock=clock)


def page(shop: Shop, clock: FakeClock, kind: str, *, customer: bool = False) -> PageRead:
    wanted = Wanted(kind=kind, order="gate 14", customer=customer)
    return PageRead(set_sheet(shop, wanted, clock=clock).text)


def test_the_customer_reads_the_price_and_not_what_it_costs(priced: Shop, clock: FakeClock) -> None:
    quote = told(priced, clock)
    column = quote.chosen
    assert Decimal(column.total) > Decimal(column.net) > 0
    text = page(priced, clock, "quote").text
    assert f"price without tax {column.net} VAT 20 % {column.tax}" in text
    assert f"price, EUR {column.total}" in text
    assert f"deposit with the order: {column.deposit} EUR" in text
    assert f"Holds until {quote.valid_until}" in text
    assert "2 sets" in text
    assert "drop 60 mm" in text
    for inner in ("margin", "gas", "hour", "overhead", "48.00", "power hammer", "cost"):
        assert inner not in text, inner
    for line in column.lines:
        if line.amount:
            assert line.amount not in text, line.words


def test_the_inner_sheet_has_every_line_by_every_method(priced: Shop, clock: FakeClock) -> None:
    quote = told(priced, clock)
    text = page(priced, clock, "inner").text
    assert "FOR THE SHOP ALONE" in text
    assert [column.method for column in quote.columns] == ["hand", "power"]
    for column in quote.columns:
        assert column.words in text
        assert column.net in text
        for line in column.lines:
            assert line.words in text
            assert (line.amount or line.missing or "-") in text


def test_an_offer_that_stands_is_told_as_it_was_made(priced: Shop, clock: FakeClock) -> None:
    from forgelog.desk.offers import make_offer

    before = told(priced, clock).chosen.total
    assert "Not offered yet" in page(priced, clock, "quote").text
    make_offer(priced, told(priced, clock), clock=clock)
    (priced.book / "shop.toml").write_text(RATES.replace('hour = "40"', 'hour = "80"'))
    shop = priced.again()
    assert told(shop, clock).chosen.total != before
    text = page(shop, clock, "quote").text
    assert f"price, EUR {before}" in text
    assert "Not offered yet" not in text


def test_what_is_left_out_of_a_price_is_said_on_it(priced: Shop, clock: FakeClock) -> None:
    (priced.book / "shop.toml").write_text(RATES.replace('gas = "2.50"', ""))
    shop = priced.again()
    assert "It is not whole" in page(shop, clock, "quote").text
    assert "gas: not set" in page(shop, clock, "inner").text


def test_without_a_rate_there_is_no_quote_to_print(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="there is no price to print yet"):
        page(shop, clock, "quote")
    assert "Nothing is priced yet" in page(shop, clock, "inner").text


def test_the_customer_is_named_where_that_is_asked_for(priced: Shop, clock: FakeClock) -> None:
    order = find_order(priced.state, "gate 14")
    (priced.book / "customers").mkdir(exist_ok=True)
    (priced.book / "customers" / f"{order.id}.toml").write_text('name = "Hazel Oakes"\n')
    assert "Hazel" not in page(priced, clock, "quote").text
    assert "For Hazel Oakes" in page(priced, clock, "quote", customer=True).text
