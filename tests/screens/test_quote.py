"""The quote on the screen: read, priced by the other method, offered and answered."""

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
from forgelog.desk.shop import Shop
from forgelog.screens.digits import hours_digits, money_digits
from forgelog.screens.orders import OrderScreen
from forgelog.screens.quote import QuoteScreen
from tests.desk.conftest import PIN
from tests.desk.money_shop import RATES
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown
from tests.screens.test_orders import choose, finished


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    (book / "shop.toml").write_text(RATES)
    return Shop(book, DEVICE)


@given(st.integers(0, 99_999), st.integers(0, 10**6 - 1), st.sampled_from([0, 2, 3]))
def test_digits_of_hours_and_money_hold_what_they_show(hundredths: int, coins: int, n: int) -> None:
    hours = f"{hundredths // 100}.{hundredths % 100:02}"
    assert float(hours_digits(hours).text.removesuffix(" h")) == float(hours)
    amount = f"{coins / 10**n:.{n}f}"
    assert float(money_digits(amount, n).text) == float(amount)
    assert float(money_digits("no amount", n).text) == 0


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_every_page_is_reached_with_one_key(shop: Shop, size: tuple[int, int]) -> None:
    order = take_order(shop, "test-pin", label="gate")
    app = TestApp(lambda app: QuoteScreen(shop.again(), order.id))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "by hand 226.67; by power hammer 226.83 EUR")
        seen = ""
        for _ in range(12):
            page = shown(pilot)
            assert all(len(row) <= size[0] for row in page.split("\n"))
            seen += page
            if "back to the first page" in page:
                break
            await pilot.press("space")
            await until(pilot, lambda page=page: shown(pilot) != page)  # type: ignore[misc]
        for words in (
            "price without tax",
            "VAT 20 %",
            "HOURS · by hand",
            "0.95 kg an hour assumed",
        ):
            assert words in seen
        await pilot.press("q")
        await until(pilot, lambda: not app.is_running)


async def test_it_opens_from_the_order_and_is_offered_and_taken(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "the quote: what it costs")
        await choose(pilot, "the quote")
        await until_shown(pilot, "price it by power hammer")
        await pilot.press("tab")
        await until_shown(pilot, "price it by hand")
        await pilot.press("enter")
        await until_shown(pilot, "offer this price, by power hammer")
        await _set_hours_and_carriage(pilot)
        await choose(pilot, "offer this price")
        await until_shown(pilot, "Offers before lapse")
        await pilot.press("enter")
        await until_shown(pilot, "offer it: asks first")
        assert shop.again().state.orders[order.id].quotes == ()
        await pilot.press("enter", "space")
        await until_shown(pilot, "the offer is in the journal")
        await choose(pilot, "the customer took the last offer")
        await until_shown(pilot, "accepted")
        await pilot.press("backspace")
        await until_shown(pilot, "accepted")
    quote = shop.again().state.orders[order.id].quotes[-1]
    assert (quote.method, quote.answer, quote.hours["design"]) == ("power", "accepted", "12.00")
    assert quote.amounts["own:carriage"] == "35.00"


async def _set_hours_and_carriage(pilot: Pilot[Any]) -> None:
    await choose(pilot, "design and talk")
    await until_shown(pilot, "DESIGN AND TALK")
    await pilot.press("1", "2", "enter")
    await until_shown(pilot, "12.00 h")
    await choose(pilot, "carriage")
    await until_shown(pilot, "CARRIAGE")
    await pilot.press("3", "5", "enter")
    await until_shown(pilot, "35.00")


async def test_a_shop_without_rates_is_told_where_to_set_them(shop: Shop) -> None:
    (shop.book / "shop.toml").write_text('methods = ["hand"]\n')
    order = take_order(shop.again(), "test-pin", label="gate")
    app = TestApp(lambda app: QuoteScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "Nothing is priced yet")
        await pilot.press("tab")
        await until_shown(pilot, "the shop forges by hand alone")
        for _ in range(6):
            if "shop.toml [rates] fire_hour" in shown(pilot):
                break
            page = shown(pilot)
            await pilot.press("space")
            await until(pilot, lambda page=page: shown(pilot) != page)  # type: ignore[misc]
        await until_shown(pilot, "shop.toml [rates] fire_hour")
        await pilot.press("enter")
        await until_shown(pilot, "nothing is priced yet")


async def test_a_hostile_title_is_shown_as_plain_text(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate", title="[red]gate[/] [@click=app.quit]x")
    app = TestApp(lambda app: QuoteScreen(shop.again(), order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "[red]gate[/] [@click=app.quit]x")


async def test_a_recipe_that_is_gone_is_said_and_nothing_breaks(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate")
    (shop.book / "recipes" / "test-pin.toml").unlink()
    app = TestApp(lambda app: QuoteScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "the book has no recipe")
        await pilot.press("space", "enter", "tab")
        await until_shown(pilot, "there is no quote")


async def test_a_delivered_order_asks_what_it_took_and_the_next_quote_begins_with_it(
    shop: Shop,
) -> None:
    order = finished(shop, FakeClock(), label="gate")
    app = TestApp(lambda app: QuoteScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "COSTS AND PRICE")
        app.push_screen(OrderScreen(shop.again(), order.id))
        await until_shown(pilot, "set the date")
        await choose(pilot, "deliver it: it is sent")
        await until_shown(pilot, "delivered, sent?")
        await pilot.press("space")
        await until_shown(pilot, "WHAT IT TOOK BESIDES FIRE AND BENCH")
        await choose(pilot, "design and talk")
        await until_shown(pilot, "DESIGN AND TALK")
        await pilot.press("3", "enter")
        await until_shown(pilot, "3.00 h")
        await choose(pilot, "that is all")
        await until_shown(pilot, "QUOTE gate")
    state = shop.again().state
    assert state.orders[order.id].delivered == "sent"
    assert state.orders[order.id].hours == {"design": "3.00"}
