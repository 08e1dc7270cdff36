"""From Home to the fire and back, in a real book, with the four keys alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from forgelog.book.new_book import make_book
from forgelog.desk import home as desk_home
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import change_sizes, hold_order, take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.screens.floor import FloorScreen
from forgelog.screens.home import HomeScreen
from forgelog.screens.layout import LayoutScreen
from forgelog.work.state import Order
from tests.desk.conftest import PIN
from tests.desk.test_tool_jobs import JIG
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown
from tests.screens.test_orders import choose


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    return Shop(book, DEVICE)


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


class Day:
    """Home on a book, with a clock that stands."""

    def __init__(self, shop: Shop, clock: FakeClock) -> None:
        self.shop = shop
        self.clock = clock
        self.app = TestApp(lambda app: HomeScreen(shop.again(), clock=clock))

    @property
    def home(self) -> HomeScreen:
        home = self.app.screen_stack[0]
        assert isinstance(home, HomeScreen)
        return home

    async def read(self, pilot: Pilot[Any]) -> None:
        """Wait until all of Home has been read."""
        await until(pilot, lambda: self.home.rest is not None)
        await until_shown(pilot, "RECIPES")


@pytest.fixture
def day(shop: Shop, clock: FakeClock) -> Iterator[Day]:
    day = Day(shop, clock)
    yield day
    day.app.close_all()


def taken(shop: Shop, clock: FakeClock, label: str, **options: Any) -> Order:
    clock.go_on(60.0)
    return take_order(shop.again(), "test-pin", label=label, title=label, clock=clock, **options)


async def test_an_empty_book_leads_to_an_order_with_four_keys(day: Day) -> None:
    async with day.app.run_test(size=(80, 24)) as pilot:
        await day.read(pilot)
        await pilot.press("enter")
        await until_shown(pilot, "> Pin for tests")
        await pilot.press("enter")
        await until_shown(pilot, "TAKE AN ORDER")
        await pilot.press("enter")
        await until_shown(pilot, "OPEN ORDERS")
        await until_shown(pilot, "> [ ] Pin for tests")
    assert len(day.shop.again().state.orders) == 1


async def test_orders_are_seen_before_the_recipes_are_read(
    day: Day, shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken(shop, clock, "orchard gate", promised="2026-02-01")
    import threading

    go = threading.Event()
    really = desk_home.home

    def slow(*args: Any) -> Any:
        assert go.wait(20)
        return really(*args)

    monkeypatch.setattr(desk_home, "home", slow)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        text = await until_shown(pilot, "orchard gate")
        assert "RECIPES" not in text
        await pilot.press("space")
        await until_shown(pilot, "[x] orchard gate")
        go.set()
        await day.read(pilot)
        assert "> [x] orchard gate" in shown(pilot)


async def test_a_fault_in_reading_leaves_the_orders_usable(
    day: Day, shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken(shop, clock, "orchard gate")

    def broken(*args: Any) -> Any:
        raise ValueError("a made-up fault")

    monkeypatch.setattr(desk_home, "home", broken)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "could not be read: a made-up fault")
        await pilot.press("enter")
        await until_shown(pilot, "LAY OUT")


async def test_one_order_goes_from_home_to_the_fire_and_back(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, "orchard gate")
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await day.read(pilot)
        await pilot.press("enter")
        await until_shown(pilot, "light the fire, begin")
        await pilot.press("enter")
        await until_shown(pilot, "FIRE 0 of 3")
        floor = day.app.screen_stack[-1]
        assert isinstance(floor, FloorScreen)
        assert len(day.app.screen_stack) == 2
        await pilot.press("space")
        await until_shown(pilot, "FIRE 1 of 3")
        clock.go_on(30.0)
        await pilot.press("q")
        await until_shown(pilot, "leave the list")
        await pilot.press("enter")
        await until_shown(pilot, "EVENING")
        await pilot.press("backspace")
        await until_shown(pilot, "OPEN ORDERS")
        await until_shown(pilot, "PAST SESSIONS")
    state = day.shop.again().state
    assert state.orders[order.id].pins
    assert day.app.leaving == []


async def test_marked_orders_are_laid_out_together(day: Day, shop: Shop, clock: FakeClock) -> None:
    for label in ("first", "second", "third"):
        taken(shop, clock, label)
    day = Day(shop, clock)
    async with day.app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "third")
        await pilot.press("space", "tab", "tab", "space")
        await until_shown(pilot, "lay out 2 orders")
        await pilot.press("enter")
        await until_shown(pilot, "LAY OUT")
        layout = day.app.screen_stack[-1]
        assert isinstance(layout, LayoutScreen)
        titles = [order.title for order in layout.view.orders]
        assert titles == ["first", "third"]


async def test_a_held_order_is_opened_and_not_laid_out(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, "orchard gate")
    hold_order(shop.again(), shop.again().state.orders[order.id], clock=clock)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "held, not begun")
        assert "[ ]" not in shown(pilot)
        await pilot.press("enter")
        await until_shown(pilot, "ORDER orchard gate")
        await choose(pilot, "held: nothing is to be done on it")
        await until_shown(pilot, "hold it for now")
        await pilot.press("backspace")
        await until_shown(pilot, "[ ] orchard gate")


async def test_after_a_power_cut_one_key_goes_on(day: Day, shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock, "orchard gate")
    session = start(shop.again(), [order.id], clock=clock)
    session.press("space")
    session._lock.drop()
    clock.start_again(120.0)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "go on where it was cut off")
        await pilot.press("enter")
        await until_shown(pilot, "BACKSPACE")
        floor = day.app.screen_stack[-1]
        assert isinstance(floor, FloorScreen)


async def test_a_floor_that_is_taken_opens_to_look_at_only(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, "orchard gate")
    other = start(shop.again(), [order.id], clock=clock)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "go on where")
        await pilot.press("enter")
        await until_shown(pilot, "FIRE 0 of")
        await pilot.press("space")
        await until_shown(pilot, "only looking: another floor has this book")
    other.close()


async def test_the_layout_says_all_that_the_desk_says(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock, "orchard gate")
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "orchard gate")
        await pilot.press("enter")
        await until_shown(pilot, "page 1 of")
        layout = day.app.screen_stack[-1]
        assert isinstance(layout, LayoutScreen)
        pages = len(layout.sheets) + 1
        words = ""
        for _ in range(pages):
            words += " " + " ".join(shown(pilot).split())
            before = layout.sheet
            await pilot.press("space")
            await until(pilot, lambda before=before: layout.sheet != before)
        assert layout.sheet == 0
        view = layout.view
        for text in (*(s.words for s in view.stock), *(t.words for t in view.tools)):
            assert " ".join(text.split()) in words
        for caution in view.cautions:
            assert " ".join(caution.split()) in words
        await pilot.press("tab", "tab", "tab", "enter")
        await until_shown(pilot, "daylight")


async def test_a_changed_size_is_asked_about_before_the_fire_is_lit(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, "orchard gate")
    session = start(shop.again(), [order.id], clock=clock)
    clock.go_on(5.0)
    session.press("q")
    clock.go_on(5.0)
    session.press("enter")
    session.close()
    clock.go_on(60.0)
    again = shop.again()
    change_sizes(again, again.state.orders[order.id], {"drop": 80.0}, clock=clock)
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "orchard gate")
        await choose(pilot, "orchard gate")
        await until_shown(pilot, "ASKED FIRST")
        await pilot.press("tab")
        await until_shown(pilot, "first say what to do")
        await pilot.press("enter")
        assert isinstance(day.app.screen_stack[-1], LayoutScreen)
        await pilot.press("backspace")
        await until_shown(pilot, "OPEN ORDERS")
        await pilot.press("enter")
        await choose(pilot, "the recipe, a size or a bar has changed")
        await until_shown(pilot, "WHAT DIFFERS")
        assert "60 mm" in shown(pilot)
        assert "80 mm" in shown(pilot)
        await pilot.press("tab", "tab", "enter")
        await until_shown(pilot, "light the fire, begin")
    pinned = shop.again().state.orders[order.id].pins[-1]
    assert pinned.sizes_mm["drop"] == 80.0


async def test_home_leads_to_the_evening_and_to_the_review(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock, "orchard gate")
    day = Day(shop, clock)
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "orchard gate")
        await choose(pilot, "the evening: five minutes after the fire")
        await until_shown(pilot, "that was the evening: leave")
        await pilot.press("backspace")
        await choose(pilot, "look back over all sessions")
        await until_shown(pilot, "No work at the fire is written down yet.")
        await pilot.press("backspace")
        await until_shown(pilot, "OPEN ORDERS")


async def test_home_can_be_left_with_four_keys(day: Day) -> None:
    async with day.app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "OPEN ORDERS")
        await pilot.press("backspace")
        await until_shown(pilot, "> leave forgelog")
        await pilot.press("enter")
        await until(pilot, lambda: not day.app.is_running)
    assert day.app.return_code == 0


async def test_a_window_too_small_still_names_the_keys(day: Day) -> None:
    async with day.app.run_test(size=(60, 15)) as pilot:
        text = await until_shown(pilot, "60 x 15 found")
        assert "BACKSPACE the one before" in text


async def test_a_tool_that_is_missing_is_taken_in_hand_from_home(
    day: Day, shop: Shop, clock: FakeClock
) -> None:
    (shop.book / "tools.toml").write_text('[[tool]]\nname = "bending jig"\nstate = "to be made"\n')
    (shop.book / "recipes" / "make-bending-jig.toml").write_text(JIG)
    taken(shop, clock, "gate")
    async with day.app.run_test(size=(100, 30)) as pilot:
        await day.read(pilot)
        await choose(pilot, "bending jig (to be made) holds up gate")
        await until_shown(pilot, "FOR THE SHOP")
        assert "who for" not in shown(pilot)
        await choose(pilot, "take this order")
        await until(pilot, lambda: len(shop.again().state.orders) == 2)
        await until_shown(pilot, "OPEN ORDERS")
    (own,) = [o for o in shop.again().state.orders.values() if o.for_shop]
    assert own.recipe == "make-bending-jig"
