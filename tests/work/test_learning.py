"""Answers to suggestions: the book's own figures, and what is not asked again."""

from __future__ import annotations

import pytest

from forgelog.work.apply import CannotBe
from forgelog.work.facts import SuggestionAccepted, SuggestionDeclined, SuggestionReopened
from forgelog.work.learning import own_heats
from tests.learn.shop import Shop

ID = "heats/test-piece/strap/draw/hand"
KEY = ("test-piece", "strap", "draw", "hand")


def _accepted(heats: int) -> SuggestionAccepted:
    return SuggestionAccepted(
        suggestion=ID,
        what="heats",
        recipe="test-piece",
        component="strap",
        step="draw",
        method="hand",
        heats=heats,
        instead_of=3,
    )


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def test_what_was_taken_up_is_the_books_own_figure(shop: Shop) -> None:
    shop.press(1.0, _accepted(4))
    assert own_heats(shop.state) == {KEY: 4}


def test_the_newest_answer_holds(shop: Shop) -> None:
    shop.press(1.0, _accepted(4))
    shop.press(1.0, _accepted(5))
    assert own_heats(shop.state) == {KEY: 5}
    shop.press(1.0, SuggestionDeclined(suggestion=ID))
    assert own_heats(shop.state) == {}
    assert not shop.state.answers[ID].accepted


def test_an_answer_is_taken_back_by_its_opposite(shop: Shop) -> None:
    shop.press(1.0, _accepted(4))
    shop.press(1.0, SuggestionReopened(suggestion=ID))
    assert shop.state.answers == {}
    shop.press(1.0, SuggestionReopened(suggestion=ID))
    assert shop.state.answers == {}


def test_the_recipe_that_was_pinned_stays_as_it_was(shop: Shop) -> None:
    pins = shop.state.orders["o1"].pins
    shop.press(1.0, _accepted(4))
    assert shop.state.orders["o1"].pins == pins


@pytest.mark.parametrize("heats", [0, -1, 100])
def test_heats_that_cannot_be_planned_are_refused(shop: Shop, heats: int) -> None:
    with pytest.raises(CannotBe, match="cannot be planned"):
        shop.press(1.0, _accepted(heats))
