"""Facts of money in the fold."""

from __future__ import annotations

import pytest

from forgelog.work.apply import CannotBe, happened
from forgelog.work.facts import (
    AnyFact,
    HoursTold,
    OrderCost,
    OrderTaken,
    QuoteAnswered,
    QuoteMade,
)
from forgelog.work.state import Order, State

TAKEN = OrderTaken(order="o", label="7", title="gate", recipe="r")


def after(*facts: AnyFact) -> Order:
    return happened(State(), (TAKEN, *facts)).orders["o"]


def test_a_later_offer_takes_the_place_of_open_ones_but_not_of_answers() -> None:
    order = after(
        QuoteMade(order="o", net="10.00", total="12.00"),
        QuoteMade(order="o", net="11.00", total="13.20"),
        QuoteAnswered(order="o", accepted=False),
        QuoteMade(order="o", net="9.00", total="10.80"),
    )
    assert [quote.answer for quote in order.quotes] == ["superseded", "declined", ""]


def test_an_answer_may_be_put_right() -> None:
    order = after(
        QuoteMade(order="o", net="10.00", total="12.00"),
        QuoteAnswered(order="o", accepted=False),
        QuoteAnswered(order="o", accepted=True),
    )
    assert [quote.answer for quote in order.quotes] == ["accepted"]


def test_costs_and_hours_are_replaced_and_taken_off() -> None:
    order = after(
        OrderCost(order="o", words="carriage", amount="35.00"),
        OrderCost(order="o", words="survey", amount="40.00"),
        OrderCost(order="o", words="carriage", amount="30.00"),
        OrderCost(order="o", words="survey"),
        HoursTold(order="o", hours={"design": "2.50", "pack": "0.50"}),
        HoursTold(order="o", hours={"design": "3.00", "pack": ""}),
    )
    assert order.costs == {"carriage": "30.00"}
    assert order.hours == {"design": "3.00"}


@pytest.mark.parametrize(
    "fact",
    [
        QuoteMade(order="x", net="1.00", total="1.00"),
        QuoteAnswered(order="o", accepted=True),
        OrderCost(order="x", words="carriage", amount="1.00"),
        HoursTold(order="x", hours={"design": "1.00"}),
    ],
)
def test_what_cannot_have_happened_is_refused(fact: AnyFact) -> None:
    with pytest.raises(CannotBe):
        after(fact)
