"""What the journal teaches, on the screen: every line by one key, answers by the four."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.shop import Shop
from forgelog.screens.home import HomeScreen
from forgelog.screens.learn import LearnScreen
from tests.desk.taught import KEY, taught
from tests.screens.pilots import TestApp, shown, until, until_shown
from tests.screens.test_orders import choose


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    return taught(tmp_path / "book")


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)])
async def test_every_line_of_every_page_is_seen(shop: Shop, size: tuple[int, int]) -> None:
    app = TestApp(lambda app: LearnScreen(shop))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "page 1 of")
        screen = app.screen_stack[-1]
        assert isinstance(screen, LearnScreen)
        seen: set[str] = set()
        for _ in range(40):
            seen |= {row.strip() for row in shown(pilot).split("\n")}
            further = "further down this page" in shown(pilot)
            if "that was the last page: leave" in shown(pilot):
                break
            await pilot.press("space" if further else "tab")
            await pilot.pause()
        wanted = {line.strip() for page in screen.pages for line in page.lines}
        assert {w for w in wanted if w and not any(w in row for row in seen)} == set()


async def test_a_suggestion_that_was_taken_up_is_taken_back(shop: Shop) -> None:
    app = TestApp(lambda app: LearnScreen(shop))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "SUGGESTION 1 OF")
        await pilot.press("enter")
        await until_shown(pilot, "yes: plan 5 from now on")
        app.screen_stack[-1].ready_at = 0.0
        await pilot.press("space")
        await until_shown(pilot, "5 heats are planned from now on, your own figure")
        assert learnt_so_far(shop.again())[KEY].own
        for _ in range(20):
            if "YOUR OWN FIGURE" in shown(pilot):
                break
            await pilot.press("tab")
            await pilot.pause()
        await pilot.press("enter")
        await until_shown(pilot, "the answer is taken back")
        assert not learnt_so_far(shop.again())[KEY].own


async def test_leafing_and_leaving_answer_no_suggestion(shop: Shop) -> None:
    app = TestApp(lambda app: LearnScreen(shop))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "SUGGESTION 1 OF")
        for key in ("enter", "enter", "space", "backspace", "enter", "backspace"):
            app.screen_stack[-1].ready_at = 0.0
            await pilot.press(key)
            await pilot.pause()
        await until_shown(pilot, "SUGGESTION 1 OF")
        assert not shop.again().state.answers


async def test_a_suggestion_is_declined_once_and_for_all(shop: Shop) -> None:
    app = TestApp(lambda app: LearnScreen(shop))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "SUGGESTION 1 OF")
        await pilot.press("enter")
        await until_shown(pilot, "no: never suggest it again")
        await pilot.press("tab")
        await until_shown(pilot, "not suggested again")
        assert "draw the tail by hand." not in shown(pilot)
        assert not learnt_so_far(shop.again())[KEY].own


async def test_home_leads_there_and_back(shop: Shop) -> None:
    app = TestApp(lambda app: HomeScreen(shop.again()))
    async with app.run_test(size=(80, 24)) as pilot:
        await choose(pilot, "what your own pieces teach")
        await until_shown(pilot, "SUGGESTION 1 OF")
        await pilot.press("backspace")
        await until(pilot, lambda: isinstance(app.screen_stack[-1], HomeScreen))


async def test_a_recipe_that_is_not_there_is_said_in_words(shop: Shop) -> None:
    app = TestApp(lambda app: LearnScreen(shop, "no-such"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "the book has no recipe")
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
