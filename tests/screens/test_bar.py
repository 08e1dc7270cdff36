"""Another bar at the lay-out, with four keys."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.bars import choose_bar
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.screens.bar import BarScreen
from forgelog.screens.layout import LayoutScreen
from forgelog.trade.sections import Section
from forgelog.work.state import Order
from tests.desk.conftest import PIN
from tests.desk.working import work
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown

HALF_INCH = Section(kind="square", a_mm=12.7)
RACK = '[[bar]]\nsection = "12.7 mm square"\nlong = "3 m"\ncount = 2\n'


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    (book / "stock.toml").write_text(RACK)
    return Shop(book, DEVICE)


@pytest.fixture
def order(shop: Shop) -> Order:
    return take_order(shop, "test-pin", label="gate", title="gate", clock=FakeClock())


def order_now(shop: Shop, order: Order) -> Order:
    return shop.again().state.orders[order.id]


def laid_out(shop: Shop, order: Order) -> TestApp:
    return TestApp(lambda app: LayoutScreen(shop.again(), [order.id], clock=FakeClock()))


async def to_stock(pilot: Pilot[Any]) -> str:
    """Turn the pages to the stock that is to be cut."""
    await until_shown(pilot, "light the fire, begin")
    for _ in range(8):
        if "STOCK TO CUT" in shown(pilot):
            return shown(pilot)
        await pilot.press("space")
        await pilot.pause()
    raise AssertionError(f"no page of stock in\n{shown(pilot)}")


async def under(pilot: Pilot[Any], words: str) -> None:
    """Step with TAB until a row is under the key."""
    for _ in range(12):
        if any(row.lstrip().startswith("> ") and words in row for row in shown(pilot).split("\n")):
            return
        await pilot.press("tab")
        await pilot.pause()
    raise AssertionError(f"no row {words!r} in\n{shown(pilot)}")


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_another_bar_is_taken_at_the_layout_and_shows_its_cut(
    shop: Shop, order: Order, size: tuple[int, int]
) -> None:
    async with laid_out(shop, order).run_test(size=size) as pilot:
        text = await to_stock(pilot)
        assert "pin: 2 of 12 mm square, 180 mm each (proved)" in text
        await under(pilot, "pin: 2 of")
        await until_shown(pilot, "another bar for pin")
        await pilot.press("enter")
        await until_shown(pilot, "CUT FROM")
        await under(pilot, "12.7 mm square, on the rack: 2 bars of 3000 mm")
        text = shown(pilot)
        assert "cut 161 mm each, drawn to the recipe's sizes" in text
        assert "left as thick as the bar, cut 180 mm" in text
        await until_shown(pilot, "take 12.7 mm square")
        await pilot.press("enter")
        await until_shown(pilot, "pin: 2 of 12.7 mm square, 161 mm each")
    assert order_now(shop, order).bars == {"pin": HALF_INCH}


async def test_the_recipes_own_bar_is_one_of_those_that_can_be_taken(
    shop: Shop, order: Order
) -> None:
    choose_bar(shop.again(), order_now(shop, order), "pin", HALF_INCH)
    app = TestApp(lambda app: BarScreen(shop.again(), order.id, "pin"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "12.7 mm square, on the rack: 2 bars of 3000 mm, chosen")
        await until_shown(pilot, "leave the bar as it is")
        await under(pilot, "12 mm square, the recipe's")
        await until_shown(pilot, "take the recipe's own bar")
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
    assert order_now(shop, order).bars == {}


async def test_leaving_the_page_changes_no_bar(shop: Shop, order: Order) -> None:
    app = TestApp(lambda app: BarScreen(shop.again(), order.id, "pin"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "CUT FROM")
        await pilot.press("tab", "tab", "backspace")
        await until(pilot, lambda: not app.is_running)
    assert order_now(shop, order).bars == {}


async def test_a_bar_with_too_little_says_so_before_it_is_taken(shop: Shop) -> None:
    for path in shipped_recipes():
        shutil.copy(path, shop.book / "recipes")
    order = take_order(shop.again(), "gate-hinge-set", label="hinges")
    app = TestApp(lambda app: BarScreen(shop.again(), order.id, "pintle"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "CUT FROM")
        assert "too little" not in shown(pilot)
        await under(pilot, "24 mm square")
        await until_shown(pilot, "24 mm square is too little for 25 mm square")
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
    layout = laid_out(shop, order)
    async with layout.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "LOOK AT hinges: pintle: 24 mm square is too little")


async def test_another_bar_under_way_is_asked_about_before_the_fire_is_lit(
    shop: Shop, order: Order
) -> None:
    clock = FakeClock()
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 4)
    session.close()
    choose_bar(shop.again(), order_now(shop, order), "pin", HALF_INCH, clock=clock)
    async with laid_out(shop, order).run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "ASKED FIRST")
        await until_shown(pilot, "a bar has changed since it was begun")
        await until_shown(pilot, "say what to do about it")
        await pilot.press("enter")
        await until_shown(pilot, "pin: cut from 180 mm of 12 mm square, now 161 mm of")
