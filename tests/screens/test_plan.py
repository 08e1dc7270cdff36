"""The plan on the screen, from Home and back."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop
from forgelog.screens.home import HomeScreen
from forgelog.screens.plan import PlanScreen
from tests.desk.conftest import PIN
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown
from tests.screens.test_orders import choose


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "recipes" / "test-pin.toml").write_text(PIN)
    return Shop(tmp_path / "book", DEVICE)


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_space_leads_through_every_line_of_the_plan(
    shop: Shop, size: tuple[int, int]
) -> None:
    clock = FakeClock()
    take_order(shop, "test-pin", title="two pins", count=2, clock=clock)
    app = TestApp(lambda app: PlanScreen(shop.again(), clock=clock))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "THE RUN")
        screen = app.screen_stack[-1]
        assert isinstance(screen, PlanScreen)
        await until(pilot, lambda: screen.told is not None and not screen.told.draft)
        seen: set[str] = set()
        for _ in range(40):
            seen |= {row.strip() for row in shown(pilot).split("\n")}
            if "that was the last page: leave" in shown(pilot):
                break
            await pilot.press("space")
            await pilot.pause()
        wanted = {line.strip() for page in screen.pages for line in page.lines}
        assert {w for w in wanted if w and not any(w in row for row in seen)} == set()
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)


async def test_home_leads_to_the_plan_and_back(shop: Shop) -> None:
    clock = FakeClock()
    take_order(shop, "test-pin", title="two pins", clock=clock)
    app = TestApp(lambda app: HomeScreen(shop.again(), clock=clock))
    async with app.run_test(size=(80, 24)) as pilot:
        await choose(pilot, "plan the day")
        await until_shown(pilot, "THE RUN")
        await pilot.press("enter")
        await until_shown(pilot, "OPEN ORDERS")


async def test_a_plan_that_cannot_be_made_says_why(shop: Shop) -> None:
    app = TestApp(lambda app: PlanScreen(shop, clock=FakeClock()))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "there is no order to work on")
        await pilot.press("backspace")
        await until(pilot, lambda: not app.is_running)
