"""The sums on the screen: chosen and filled in with four keys, or typed."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.shop import Shop
from forgelog.desk.sums import SUMS, find_sum
from forgelog.desk.sums.form import answer_of, begin, stepped, usual_of, written
from forgelog.screens.home import HomeScreen
from forgelog.screens.sums import SumsScreen
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown

SIZES = [(80, 24), (100, 30), (200, 60)]


def sums_app(units: str = "mm", dialect: str = "uk") -> TestApp:
    return TestApp(lambda app: SumsScreen(units=units, dialect=dialect))


@pytest.mark.parametrize("size", SIZES)
async def test_tab_and_enter_lead_to_every_sum_and_back(size: tuple[int, int]) -> None:
    app = sums_app()
    async with app.run_test(size=size) as pilot:
        for name in SUMS:
            await until_shown(pilot, f"this one: {name}")
            await pilot.press("enter")
            await until_shown(pilot, "another sum")
            page = shown(pilot)
            assert name.upper() in page.split("\n")[0]
            assert "█" in page or name in ("colour", "temper-colour", "steel")
            await pilot.press("backspace")
            await until_shown(pilot, f"this one: {name}")
            await pilot.press("tab")


async def test_a_thread_is_stepped_to_and_its_drill_stands_large() -> None:
    app = sums_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "this one: bar")
        for _ in range(list(SUMS).index("thread")):
            await pilot.press("tab")
        await until_shown(pilot, "this one: thread")
        await pilot.press("enter")
        await until_shown(pilot, "M12: tap drill")
        await pilot.press("space")
        await until_shown(pilot, "M10: tap drill")
        screen = app.screen_stack[-1]
        assert isinstance(screen, SumsScreen)
        assert not isinstance(screen.answer, str)
        assert screen.answer.table["tap_drill_mm"] == 8.5


@pytest.mark.parametrize("size", SIZES)
async def test_four_keys_show_every_figure(size: tuple[int, int]) -> None:
    app = sums_app()
    async with app.run_test(size=size) as pilot:
        screen = app.screen_stack[-1]
        assert isinstance(screen, SumsScreen)
        screen.open("thread")
        screen.canvas.redraw()
        await until_shown(pilot, "tap drill")
        seen = {row[size[0] // 2 :].strip() for row in shown(pilot).split("\n")}
        while screen.slot is not None and screen.more:
            await pilot.press("tab")
            await pilot.pause()
        for _ in range(12):
            seen |= {row[size[0] // 2 :].strip() for row in shown(pilot).split("\n")}
            if screen.more:
                await pilot.press("space")
                await pilot.pause()
        wanted = {row.strip() for row in screen.figures(size[0])}
        assert {row for row in wanted if not any(row in one for one in seen)} == set()


async def test_what_is_typed_is_taken_or_refused_in_words() -> None:
    app = sums_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "this one: bar")
        await pilot.press("enter")
        await until_shown(pilot, "it weighs")
        await pilot.press("tab", "enter", *"3x", "backspace", "space", "m", "enter")
        await until_shown(pilot, "7.07 kg" if "7.07 kg" in shown(pilot) else "3 m")
        screen = app.screen_stack[-1]
        assert isinstance(screen, SumsScreen)
        assert not isinstance(screen.answer, str)
        assert screen.answer.table["length_mm"] == 3000.0
        await pilot.press("5", "enter")
        await until_shown(pilot, '"5" has no unit')
        assert screen.answer.table["length_mm"] == 3000.0
        await pilot.press("enter", "tab")
        await until_shown(pilot, "next usual choice")


async def test_home_leads_to_the_sums_in_the_shops_units(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "shop.toml").write_text('format = 1\nunits = "inch"\n')
    app = TestApp(lambda app: HomeScreen(Shop(tmp_path / "book", DEVICE)))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "the sums of the trade")
        for _ in range(30):
            if "open them" in shown(pilot):
                break
            await pilot.press("backspace")
            await pilot.pause()
        await pilot.press("enter")
        await until_shown(pilot, "this one: bar")
        assert "inch" in shown(pilot).split("\n")[0]
        await pilot.press("space")
        await until_shown(pilot, "HOME")


async def test_space_leaves_the_list() -> None:
    app = sums_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "leave the sums")
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)


async def test_inches_and_american_words() -> None:
    app = sums_app("inch", "us")
    async with app.run_test(size=(100, 30)) as pilot:
        screen = app.screen_stack[-1]
        assert isinstance(screen, SumsScreen)
        screen.open("colour")
        screen.canvas.redraw()
        await until_shown(pilot, "degF")
        assert "name of a color" in shown(pilot)


@pytest.mark.parametrize("name", SUMS)
def test_a_form_begins_with_an_answer_and_every_step_can_be_read(name: str) -> None:
    form = begin(name)
    assert not isinstance(answer_of(form), str)
    for slot in form.slots:
        moved = form
        for _ in range(min(len(usual_of(slot)), 5)):
            moved = stepped(moved, next(s for s in moved.slots if s.field == slot.field))
            answer = answer_of(moved)
            assert isinstance(answer, str) is False or answer


def test_one_size_of_a_ring_takes_the_place_of_another() -> None:
    form = begin("ring")
    outside = next(slot for slot in form.slots if slot.field.name == "outside")
    form = written(form, outside, "60 mm")
    assert form.texts["inside"] == ()
    answer = answer_of(form)
    assert not isinstance(answer, str)
    assert answer.table["outside_mm"] == 60.0


def test_a_second_form_of_a_piece_gets_a_line_of_its_own() -> None:
    form = begin("stock")
    solids = [slot for slot in form.slots if slot.field.name == "solid"]
    count = len([text for text in shlex.split(find_sum("stock").examples[0]) if text == "--solid"])
    assert len(solids) == count + 1
    more = written(form, solids[-1], "ball 25 mm")
    assert len([slot for slot in more.slots if slot.field.name == "solid"]) == count + 2
