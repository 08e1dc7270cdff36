"""The evening on the screen: told and skipped with four keys, in a real book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.pilot import Pilot

from forgelog.book.new_book import make_book
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.rack import offcuts
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.screens.digits import mass_digits
from forgelog.screens.evening import EveningScreen
from forgelog.units import parse_mass
from tests.desk.conftest import PIN
from tests.desk.working import work
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown

STOCK = """[[offcut]]
label = "B2"
section = "12 mm square"
long = "340 mm"
"""


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, clock: FakeClock) -> Shop:
    """A book with a day at the fire in it."""
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    (book / "stock.toml").write_text(STOCK)
    shop = Shop(book, DEVICE)
    order = take_order(shop, "test-pin", label="7", title="orchard gate", clock=clock)
    clock.go_on(600.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 24)
    session.press("q")
    clock.go_on(5.0)
    session.press("enter")
    session.close()
    clock.go_on(60.0)
    return shop.again()


def evening_app(shop: Shop, clock: FakeClock, first: str = "Nothing stands out.") -> TestApp:
    return TestApp(lambda app: EveningScreen(shop, clock=clock, first=lambda book: first))


async def to(pilot: Pilot[Any], words: str) -> None:
    """Go down the list to a row."""
    for _ in range(40):
        if any(row.startswith(" > ") and words in row for row in shown(pilot).split("\n")):
            return
        await pilot.press("tab")
        await pilot.pause()
    raise AssertionError(f"no row {words!r} in\n{shown(pilot)}")


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_the_whole_evening_is_told_with_four_keys(
    shop: Shop, clock: FakeClock, size: tuple[int, int]
) -> None:
    app = evening_app(shop, clock)
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "Nothing stands out.")
        await to(pilot, "the bottle before and after")
        await pilot.press("enter")
        await until_shown(pilot, "THE BOTTLE BEFORE")
        await pilot.press("2", "1", "enter")
        await until_shown(pilot, "THE BOTTLE AFTER")
        await pilot.press("1", "9", "enter")
        await until_shown(pilot, "written down: what the bottle lost")
        await to(pilot, "an offcut goes back on the rack")
        await pilot.press("enter")
        await until_shown(pilot, "OF WHICH BAR")
        await pilot.press("enter")
        await until_shown(pilot, "write K1 on it")
        await pilot.press("2", "1", "0", "enter")
        await until_shown(pilot, "written down: K1, 210 mm of 10 mm round, mild")
        await to(pilot, "an offcut is used up")
        await pilot.press("enter")
        await until_shown(pilot, "B2: 340 mm")
        await pilot.press("enter")
        await until_shown(pilot, "written down: B2 is used up")
        await to(pilot, "orchard gate: pin, 180 mm")
        await pilot.press("enter")
        await until_shown(pilot, "HOW DID IT COME OUT?")
        await pilot.press("tab", "enter")
        await until_shown(pilot, "TOO SHORT BY")
        await pilot.press("6", "enter")
        await until_shown(pilot, "try 186 mm")
        await to(pilot, "that was the evening")
        await pilot.press("enter")
        await until(pilot, lambda: not app.is_running)
    state = shop.again().state
    assert [burnt.kg for burnt in state.fuel.values()] == [2.0]
    assert [bar.label for bar in offcuts(shop.again())] == ["K1"]
    assert [(cut.component, cut.try_mm) for cut in state.cuts] == [("pin", 186.0)]
    assert (shop.book / "stock.toml").read_text() == STOCK


async def test_one_key_leaves_a_question_for_tonight_and_goes_on(
    shop: Shop, clock: FakeClock
) -> None:
    files = list((shop.book / "journal").rglob("*.jsonl"))
    app = evening_app(shop, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await to(pilot, "the bottle before and after")
        left = shown(pilot).split("\n")[0]
        await pilot.press("space")
        text = await until_shown(pilot, "not tonight")
        assert text.split("\n")[0] != left
        assert not any(r.startswith(" > ") and "bottle" in r for r in text.split("\n"))
        await pilot.press("backspace")
        await until(pilot, lambda: not app.is_running)
    assert list((shop.book / "journal").rglob("*.jsonl")) == files


async def test_what_cannot_be_is_said_and_the_question_stays(shop: Shop, clock: FakeClock) -> None:
    app = evening_app(shop, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await to(pilot, "the bottle before and after")
        await pilot.press("enter")
        await until_shown(pilot, "THE BOTTLE BEFORE")
        await pilot.press("2", "1", "enter")
        await until_shown(pilot, "THE BOTTLE AFTER")
        await pilot.press("2", "2", "enter")
        text = await until_shown(pilot, "must weigh less after the session")
        assert "THE BOTTLE AFTER" in text
        await pilot.press("backspace")
        await until_shown(pilot, "the bottle before and after")
    assert shop.again().state.fuel == {}


async def test_a_place_is_chosen_and_the_heats_lead_back_here(shop: Shop, clock: FakeClock) -> None:
    app = evening_app(shop, clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await to(pilot, "orchard gate: pin, left")
        await pilot.press("enter")
        await until_shown(pilot, "WHERE DOES IT LIE?")
        await pilot.press("tab", "enter")
        await until_shown(pilot, "written down: orchard gate: pin, left, beside the fire")
        heats = len(app_screen(app).evening.heats)
        if heats:
            await to(pilot, "heats that nobody pressed")
            await pilot.press("enter")
            await until_shown(pilot, "HEATS THAT NOBODY PRESSED")
            await pilot.press("2")
            await until(pilot, lambda: len(app_screen(app).evening.heats) < heats)


def app_screen(app: TestApp) -> EveningScreen:
    screen = app.screen_stack[0]
    assert isinstance(screen, EveningScreen)
    return screen


@given(st.floats(0.0, 400.0), st.booleans())
def test_a_weight_is_set_as_a_scale_shows_it(kg: float, in_pounds: bool) -> None:
    digits = mass_digits(kg, in_pounds=in_pounds)
    step_kg = 0.045359237 if in_pounds else 0.1
    assert abs(parse_mass(digits.text) - kg) <= step_kg / 2 + 1e-9


async def test_a_shop_in_inches_weighs_its_coke_in_pounds(shop: Shop, clock: FakeClock) -> None:
    settings = shop.book / "shop.toml"
    text = settings.read_text().replace('units = "mm"', "").replace('kind = "gas"', 'kind = "coke"')
    settings.write_text('units = "inch"\n' + text)
    clock.go_on(70_000.0)
    again = shop.again()
    session = start(again, list(again.state.orders), clock=clock)
    session.close()
    clock.go_on(60.0)
    app = evening_app(shop.again(), clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await to(pilot, "how much coke")
        await pilot.press("enter")
        await until_shown(pilot, "COKE BURNT")
        await pilot.press("1", "2", "enter")
        await until_shown(pilot, "12 lb")
    assert [round(b.kg, 4) for b in shop.again().state.fuel.values()] == [5.4431]


async def test_hostile_words_are_shown_and_do_nothing(shop: Shop, clock: FakeClock) -> None:
    hostile = "[bold]x[/] [@click=app.quit] \x1b[31m"
    app = evening_app(shop, clock, first=harmless(hostile))
    async with app.run_test(size=(80, 24)) as pilot:
        text = await until_shown(pilot, "[bold]x[/] [@click=app.quit]")
        assert "\x1b" not in text
