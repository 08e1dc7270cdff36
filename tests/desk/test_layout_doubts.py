"""The lay-out says what will not do at the customer's sizes, before the fire is lit."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from forgelog.book.device import Device
from forgelog.book.new_book import make_book
from forgelog.desk.clock import RealClock
from forgelog.desk.layout import layout
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop

BAD = Path(__file__).parents[1] / "bad" / "sizes-found-out-too-late.toml"
SOUND = Path(__file__).parents[2] / "recipes" / "gate-hinge-set.toml"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    for recipe in (BAD, SOUND):
        shutil.copy(recipe, tmp_path / "book" / "recipes" / recipe.name)
    return Shop(tmp_path / "book", Device(id="test1"))


def _doubts(shop: Shop, recipe: str, **sizes_mm: float) -> tuple[str, ...]:
    order = take_order(shop, recipe, sizes_mm=sizes_mm)
    shop = shop.again()
    return layout(shop, [order.id], RealClock().stamp()).doubts


def test_sizes_that_will_not_do_are_said_with_what_would(shop: Shop) -> None:
    said = "\n".join(_doubts(shop, "sizes-found-out-too-late"))
    assert "24 mm across and 8.9 mm high would do" in said
    assert "114.3 mm is the least for M12" in said
    assert "18 mm of thread begins 3 mm inside it" in said
    assert "which buckles when it is upset at once" in said
    assert "113 mm of the bar at least" in said


def test_the_customers_post_changes_what_is_said(shop: Shop) -> None:
    said = "\n".join(_doubts(shop, "sizes-found-out-too-late", post=150.0, post_thin=140.0))
    assert "164.3 mm is the least for M12" in said


def test_a_sound_recipe_has_no_doubts_at_other_sizes(shop: Shop) -> None:
    assert _doubts(shop, "gate-hinge-set", post=150.0, post_thin=147.0) == ()
