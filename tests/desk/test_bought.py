"""What is bought for an order: told for all its sets, by the recipe as it is now."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.layout import layout
from forgelog.desk.order_text import order_lines
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop
from forgelog.screens.layout_text import sheets
from forgelog.work.state import Order


def taken(shop: Shop, clock: FakeClock, recipe: str = "gate-hinge-set", count: int = 2) -> Order:
    clock.go_on(60.0)
    return take_order(shop.again(), recipe, label="gate", count=count, clock=clock)


def test_two_sets_of_hinges_want_sixteen_bolts_as_long_as_the_gate_is_thick(
    shop: Shop, clock: FakeClock
) -> None:
    shown = order_shown(shop.again(), taken(shop, clock))
    (bolts,) = shown.bought
    assert (bolts.id, bolts.name, bolts.count) == ("coach-bolt", "coach bolts M10", 16)
    assert bolts.component == "strap"
    # 45 mm of rail, and 22 mm for the strap, the washer and the nut.
    assert bolts.words.startswith("16 coach bolts M10, at least 67 mm long")
    assert f"  to buy    {bolts.words}" in order_lines(shown)


def test_what_one_weighs_is_told_for_all(shop: Shop, clock: FakeClock, book: Path) -> None:
    path = book / "recipes" / "gate-hinge-set.toml"
    path.write_text(path.read_text().replace('for = "strap"', 'for = "strap"\nmass = "90 g"'))
    (bolts,) = order_shown(shop.again(), taken(shop, clock)).bought
    assert bolts.mass_kg == pytest.approx(16 * 0.090)


def test_a_recipe_that_buys_nothing_says_nothing(shop: Shop, clock: FakeClock) -> None:
    shown = order_shown(shop.again(), taken(shop, clock, "test-pin"))
    assert shown.bought == ()
    assert not any("to buy" in line for line in order_lines(shown))


def test_the_layout_has_a_page_of_what_to_buy(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    view = layout(shop.again(), [order.id], clock.stamp())
    page = next(s for s in sheets(view, 78, 20) if s.title == "TO BUY")
    assert next(words for words, _ in page.lines) == "gate: 16 coach bolts M10"
    assert not [
        s for s in sheets(layout(shop.again(), [], clock.stamp()), 78, 20) if s.title == "TO BUY"
    ]


def test_json_gives_what_to_buy(
    shop: Shop, clock: FakeClock, capsys: pytest.CaptureFixture[str]
) -> None:
    taken(shop, clock, "scroll-shelf-brackets", 1)
    assert main(["--book", str(shop.book), "order", "show", "gate", "--json"]) == 0
    bought = json.loads(capsys.readouterr().out)["bought"]
    assert [(one["id"], one["count"]) for one in bought] == [("nut-m10", 4), ("shelf-screw", 4)]
