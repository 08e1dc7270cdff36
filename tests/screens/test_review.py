"""The review on the screen: pages through, and heats put right with one key."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event
from typing import Any

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.review import look_back, review_of
from forgelog.desk.review_facts import LookedBack
from forgelog.desk.shop import Shop
from forgelog.screens import review as review_screen
from forgelog.screens.review import ReviewScreen
from tests.desk.past_work import two_days
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    return two_days(tmp_path / "book").write()


def review_app(shop: Shop) -> TestApp:
    return TestApp(lambda app: ReviewScreen(shop))


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)])
async def test_one_key_leads_through_every_line_of_every_page(
    shop: Shop, size: tuple[int, int]
) -> None:
    app = review_app(shop)
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "page 1 of")
        screen = app.screen_stack[-1]
        assert isinstance(screen, ReviewScreen)
        seen: set[str] = set()
        for _ in range(60):
            seen |= {row.strip() for row in shown(pilot).split("\n")}
            if "that was the last page: leave" in shown(pilot):
                break
            await pilot.press("space")
            await pilot.pause()
        wanted = {line.strip() for page in screen.pages for line in page.lines}
        missing = {line for line in wanted if line and not any(line in row for row in seen)}
        assert missing == set()
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)


async def test_backspace_leads_back_and_out(shop: Shop) -> None:
    app = review_app(shop)
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "page 1 of")
        await pilot.press("tab")
        await until_shown(pilot, "page 2 of")
        await pilot.press("backspace")
        await until_shown(pilot, "page 1 of")
        await pilot.press("backspace")
        await until(pilot, lambda: not app.is_running)


async def test_heats_are_put_right_with_one_key(shop: Shop) -> None:
    app = review_app(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "tell heats: 1 not pressed")
        await pilot.press("enter")
        await until_shown(pilot, "orchard gate: strap right 1, roll the eye")
        await pilot.press("4")
        await until_shown(pilot, "written down: 4 for orchard gate: strap right 1, roll the eye")
        await until_shown(pilot, "leave the review")
    assert review_of(shop.again()).to_put_right == ()


async def test_larger_numbers_are_reached_with_the_four_keys(shop: Shop) -> None:
    app = review_app(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "tell heats")
        await pilot.press("enter", *["tab"] * 4)
        await until_shown(pilot, "ask with larger numbers")
        await pilot.press("enter", "tab")
        await until_shown(pilot, "it was 6")
        await pilot.press("enter")
        await until_shown(pilot, "written down: 6")
    (step,) = (s for s in review_of(shop.again()).steps if s.step == "eye")
    assert 6 in step.taken_heats


async def test_a_question_may_be_left_open(shop: Shop) -> None:
    app = review_app(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "tell heats")
        await pilot.press("enter")
        await until_shown(pilot, "HEATS THAT NOBODY PRESSED")
        await pilot.press("space")
        await until_shown(pilot, "page 1 of")
    assert len(review_of(shop.again()).to_put_right) == 1


async def test_an_empty_book_has_a_review_too(tmp_path: Path, shop: Shop) -> None:
    make_book(tmp_path / "empty")
    app = review_app(Shop(tmp_path / "empty", DEVICE))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "page 1 of 1")
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)


async def test_a_bounce_of_the_key_that_asked_answers_nothing(shop: Shop) -> None:
    app = review_app(shop)
    app.settle_s = 1000.0
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "tell heats")
        await pilot.press("enter", "enter")
        await until_shown(pilot, "came too soon for this question")
        await pilot.press("backspace")
        await until_shown(pilot, "page 1 of")
    assert len(review_of(shop.again()).to_put_right) == 1


async def test_p_writes_the_shown_session_as_a_page_and_says_where(shop: Shop) -> None:
    app = review_app(shop)
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "p: a page to print")
        await pilot.press("p")
        await until_shown(pilot, "in the book: sheets/session-")
        (path,) = (shop.book / "sheets").iterdir()
        assert path.name in shown(pilot)
        assert "SESSION" in path.read_text(encoding="utf-8")


async def test_while_a_long_journal_is_read_the_page_says_so_and_hears_every_key(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on = Event()

    def slowly(*of: Any, report: Callable[[int, int], None], **more: Any) -> LookedBack:
        report(3, 40)
        assert go_on.wait(30.0)
        return look_back(*of, report=report, **more)

    monkeypatch.setattr(review_screen, "look_back", slowly)
    app = review_app(shop)
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            await until_shown(pilot, "reading session 3 of 40")
            await pilot.press("space")
            await until_shown(pilot, "the rest is still being read")
            go_on.set()
            await until_shown(pilot, "page 1 of")
    finally:
        go_on.set()


async def test_a_session_that_there_is_not_is_told_on_the_page(shop: Shop) -> None:
    app = TestApp(lambda app: ReviewScreen(shop, "99"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, 'there is no session "99"')
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
