"""The cut list with four keys: read, written down as sawn, taken back."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.rack import rack
from forgelog.desk.shop import Shop
from forgelog.screens.cut import CutScreen
from forgelog.screens.home import HomeScreen
from forgelog.screens.layout import LayoutScreen
from forgelog.screens.orders import OrderScreen
from forgelog.work.state import Order
from tests.desk.conftest import PIN
from tests.screens.pilots import DEVICE, TestApp, shown, until_shown

RACK = '[[bar]]\nsection = "12 mm square"\nlong = "3 m"\ncount = 2\n'


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


SIZES = pytest.mark.parametrize("size", [(80, 24), (100, 30)])


@SIZES
async def test_the_list_is_read_page_by_page_and_written_down_as_sawn_on_another_key(
    shop: Shop, order: Order, size: tuple[int, int]
) -> None:
    clock = FakeClock()
    clock.go_on(60.0)
    app = TestApp(lambda app: CutScreen(shop.again(), clock=clock))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "5 pieces from 2 bars; buy 1 bar")
        assert "buy 10 mm round, mild: 1 bar of 6000 mm, 3.70 kg" in shown(pilot)
        await pilot.press("space")
        await until_shown(pilot, "3 of 30 mm: wedge (gate)")
        await pilot.press("space")
        await until_shown(pilot, "2 of 180 mm: pin (gate)")
        assert "mark each at 180, 362 mm" in shown(pilot)
        assert "write K2 on it" in shown(pilot)
        await pilot.press("enter")
        await until_shown(pilot, "Has all of it been sawn")
        await pilot.press("enter")
        await until_shown(pilot, "2 of 180 mm: pin (gate)")
        assert shop.again().state.sawn == ()
        await pilot.press("enter")
        await until_shown(pilot, "Has all of it been sawn")
        await pilot.press("space")
        await until_shown(pilot, "write K2 on 2636 mm of 12 mm square")
        assert "nothing is to be sawn" in shown(pilot)
    assert [(b.label, b.count) for b in rack(shop.again())] == [("", 1), ("K1", 1), ("K2", 1)]


@SIZES
async def test_the_bar_that_is_shown_is_ticked_off_alone(
    shop: Shop, order: Order, size: tuple[int, int]
) -> None:
    clock = FakeClock()
    clock.go_on(60.0)
    app = TestApp(lambda app: CutScreen(shop.again(), clock=clock))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "5 pieces from 2 bars")
        await pilot.press("space", "space")
        await until_shown(pilot, "2. bar of 3000 mm")
        await pilot.press("enter")
        await until_shown(pilot, "one bar only: asks which")
        clock.go_on(60.0)
        await pilot.press("tab")
        await until_shown(pilot, "Has bar 2 been sawn, and no other: bar of 3000 mm")
        await until_shown(pilot, "yes: bar 2 is sawn")
        clock.go_on(60.0)
        await pilot.press("tab")
        await until_shown(pilot, "Has bar 1 been sawn, and no other: new bar of 6000 mm")
        clock.go_on(60.0)
        await pilot.press("tab")
        await until_shown(pilot, "yes: bar 2 is sawn")
        assert shop.again().state.sawn == ()
        await pilot.press("space")
        await until_shown(pilot, "write K2 on 2636 mm of 12 mm square")
        await until_shown(pilot, "3 pieces from 1 bar; buy 1 bar")
    assert [(b.label, b.count) for b in rack(shop.again())] == [("", 1), ("K2", 1)]


async def test_what_was_sawn_is_taken_back_with_two_keys(shop: Shop, order: Order) -> None:
    clock = FakeClock()
    clock.go_on(60.0)
    app = TestApp(lambda app: CutScreen(shop.again(), (order.id,), clock=clock))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "nothing was sawn yet")
        await pilot.press("enter")
        await until_shown(pilot, "yes: it is all sawn")
        await pilot.press("space")
        await until_shown(pilot, "take the last sawing back: asks")
        clock.go_on(60.0)
        await pilot.press("tab")
        await until_shown(
            pilot, "Take back what was last written down as sawn: 2 bars (10 mm round"
        )
        await pilot.press("space")
        await until_shown(pilot, "taken back: 2 bars")
        await until_shown(pilot, "5 pieces from 2 bars")
    assert [(b.label, b.count) for b in rack(shop.again())] == [("", 2)]
    assert shop.again().state.sawn == ()


async def test_a_list_that_changed_meanwhile_is_shown_anew_and_not_written_down(
    shop: Shop, order: Order
) -> None:
    clock = FakeClock()
    clock.go_on(60.0)
    app = TestApp(lambda app: CutScreen(shop.again(), clock=clock))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "5 pieces from 2 bars")
        await pilot.press("enter")
        await until_shown(pilot, "yes: it is all sawn")
        take_order(shop.again(), "test-pin", label="more", clock=clock)
        await pilot.press("space")
        await until_shown(pilot, "the cut list has changed since")
        await until_shown(pilot, "10 pieces from 2 bars")
    assert shop.again().state.sawn == ()


@SIZES
async def test_it_is_opened_from_home_lay_out_and_order(
    shop: Shop, order: Order, size: tuple[int, int]
) -> None:
    pages = (
        lambda app: HomeScreen(shop.again(), clock=FakeClock()),
        lambda app: LayoutScreen(shop.again(), [order.id], clock=FakeClock()),
        lambda app: OrderScreen(shop.again(), order.id),
    )
    for page in pages:
        app = TestApp(page)
        async with app.run_test(size=size) as pilot:
            await until_shown(pilot, "cut list")
            for _ in range(16):
                if "open the cut list" in shown(pilot):
                    break
                await pilot.press("tab")
            await until_shown(pilot, "open the cut list")
            await pilot.press("enter")
            await until_shown(pilot, "5 pieces from 2 bars; buy 1 bar")
            await pilot.press("backspace")
            await until_shown(pilot, "open the cut list")


async def test_with_nothing_to_cut_no_key_writes_anything(shop: Shop) -> None:
    app = TestApp(lambda app: CutScreen(shop.again(), clock=FakeClock()))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "There is nothing to cut.")
        await pilot.press("enter", "tab", "space")
        assert "nothing was sawn yet" in shown(pilot)
    assert shop.again().state.sawn == ()
