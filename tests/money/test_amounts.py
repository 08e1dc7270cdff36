"""Amounts of money: no coin is made or lost by reading, rounding or writing."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.money.amounts import Currency, MoneyError, read_money, read_share, show_share

COINS = {"JPY": 0, "KRW": 0, "EUR": 2, "USD": 2, "HUF": 2, "": 2, "BHD": 3, "TND": 3, "CLF": 4}
"""Decimals of some currencies. Source: ISO 4217 list one (from memory)."""
currencies = st.sampled_from(sorted(COINS)).map(lambda code: Currency(code=code))
amounts = st.decimals(0, 10**7, places=6, allow_nan=False, allow_infinity=False)


@pytest.mark.parametrize(("code", "digits"), COINS.items())
def test_a_currency_has_the_decimals_of_its_smallest_coin(code: str, digits: int) -> None:
    currency = Currency(code=code)
    assert currency.digits == digits
    assert len(currency.plain(Decimal(1)).partition(".")[2]) == digits


@pytest.mark.parametrize(
    ("code", "exact", "rounded"),
    [
        ("EUR", "2.675", "2.68"),
        ("EUR", "2.665", "2.67"),
        ("EUR", "2.6749999", "2.67"),
        ("JPY", "0.5", "1"),
        ("JPY", "1499.49", "1499"),
        ("BHD", "1.0005", "1.001"),
    ],
)
def test_halves_are_rounded_up_to_the_coin(code: str, exact: str, rounded: str) -> None:
    assert Currency(code=code).plain(Decimal(exact)) == rounded


@given(currencies, amounts)
def test_rounding_moves_an_amount_by_half_a_coin_at_most_and_only_once(
    currency: Currency, amount: Decimal
) -> None:
    rounded = currency.rounded(amount)
    assert abs(rounded - amount) <= Decimal(1).scaleb(-currency.digits) / 2
    assert currency.rounded(rounded) == rounded


@given(currencies, amounts)
def test_what_is_written_is_read_back_as_the_same_amount(
    currency: Currency, amount: Decimal
) -> None:
    assert read_money(currency.shown(amount), currency) == currency.rounded(amount)
    assert read_money(currency.price(amount), currency) == amount


@given(st.text(max_size=50))
def test_any_text_is_an_amount_from_nothing_up_or_refused_in_words(text: str) -> None:
    refused = ""
    amount = Decimal(0)
    try:
        amount = read_money(text, Currency(code="EUR"))
    except MoneyError as problem:
        refused = str(problem)
    assert "; write " in refused or (not refused and amount.is_finite() and amount >= 0)


@given(st.decimals(0, 100, places=1))
def test_a_share_is_read_back_as_it_is_shown(percent: Decimal) -> None:
    share = percent / 100
    assert read_share(show_share(share)) == share


@pytest.mark.parametrize("text", ["15", "-5 %", "101 %", "%", "15 percent", "1e3 %", "٥ %"])
def test_what_is_no_share_is_refused(text: str) -> None:
    with pytest.raises(MoneyError):
        read_share(text)
