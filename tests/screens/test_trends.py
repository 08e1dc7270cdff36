"""Trends on the screen: one key leads through every page."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.shop import Shop
from forgelog.screens.trends import TrendsScreen
from tests.desk.past_work import two_days
from tests.screens.pilots import TestApp, shown, until, until_shown


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    return two_days(tmp_path / "book").write()


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_one_key_leads_through_every_page_and_out(shop: Shop, size: tuple[int, int]) -> None:
    app = TestApp(lambda app: TrendsScreen(shop))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "page 1 of")
        screen = app.screen_stack[-1]
        assert isinstance(screen, TrendsScreen)
        seen: set[str] = set()
        for _ in range(60):
            seen |= {row.strip() for row in shown(pilot).split("\n")}
            if "that was the last page: leave" in shown(pilot):
                break
            await pilot.press("space")
            await pilot.pause()
        wanted = {line.strip() for page in screen.pages for line in page.lines if line.strip()}
        assert {line for line in wanted if not any(line in row for row in seen)} == set()
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)


async def test_a_record_that_cannot_be_read_says_so(shop: Shop) -> None:
    app = TestApp(lambda app: TrendsScreen(shop, "no-such-recipe"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "nothing was worked from a recipe")
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
