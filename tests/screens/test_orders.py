"""Orders with four keys: taken, changed, held and closed in a real book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.pilot import Pilot

from forgelog.book.new_book import make_book
from forgelog.desk.clock import FakeClock
from forgelog.desk.customers import customer_of
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop
from forgelog.screens.digits import count_digits, date_digits, length_digits
from forgelog.screens.orders import OrderScreen
from forgelog.screens.take_order import TakeOrderScreen
from forgelog.units import parse_length
from forgelog.work.state import Order
from tests.desk.conftest import PIN
from tests.desk.working import finished
from tests.screens.pilots import DEVICE, TestApp, shown, until, until_shown


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    return Shop(book, DEVICE)


def orders(shop: Shop) -> list[Order]:
    return list(shop.again().state.orders.values())


async def choose(pilot: Pilot[Any], words: str) -> None:
    """Go down the list to a row and take it."""
    for _ in range(30):
        if any(row.startswith(" > ") and words in row for row in shown(pilot).split("\n")):
            await pilot.press("enter")
            return
        await pilot.press("tab")
        await pilot.pause()
    raise AssertionError(f"no row {words!r} in\n{shown(pilot)}")


@given(st.integers(0, 999), st.floats(0, 9999, allow_nan=False), st.booleans())
def test_digits_hold_the_number_that_they_show(count: int, mm: float, in_inches: bool) -> None:
    assert int(count_digits(count).text) == count
    digits = length_digits(mm, in_inches=in_inches)
    step_mm = 25.4 / 32 if in_inches else 0.1
    assert abs(parse_length(digits.text) - mm) <= step_mm / 2 + 1e-6


@given(st.text(alphabet="0123456789", min_size=1, max_size=4))
def test_what_is_typed_is_what_is_meant(text: str) -> None:
    digits = length_digits(123.4, in_inches=False)
    for digit in text:
        digits = digits.typed(digit)
    assert parse_length(digits.text) == float(text)


def test_a_date_is_typed_from_left_to_right() -> None:
    digits = date_digits("1999-12-31")
    for digit in "20270615":
        digits = digits.typed(digit)
    assert digits.text == "2027-06-15"


@given(st.lists(st.sampled_from(["raise", "next"]), max_size=40))
def test_two_keys_reach_every_digit(presses: list[str]) -> None:
    digits = date_digits("2026-06-15")
    for press in presses:
        before = digits
        digits = digits.raised() if press == "raise" else digits.next()
        assert digits != before
        assert len(digits.text) == 10
    for _ in range(8 * 10):
        digits = digits.raised() if digits.digits[digits.at] != "7" else digits.next()
    assert set(digits.digits) == {"7"}


async def test_an_order_is_taken_with_four_keys(shop: Shop) -> None:
    app = TestApp(lambda app: TakeOrderScreen(shop, "test-pin"))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "take the order")
        await choose(pilot, "how many sets")
        await until_shown(pilot, "HOW MANY SETS")
        await pilot.press("space", "space", "enter")
        await until_shown(pilot, "TAKE AN ORDER")
        await choose(pilot, "drop: how far it hangs down")
        await until_shown(pilot, "DROP")
        await pilot.press("space", "enter")
        await until_shown(pilot, "61 mm")
        await choose(pilot, "promised for")
        await pilot.press(*"20270615", "enter")
        await until_shown(pilot, "2027-06-15")
        await choose(pilot, "who for")
        await until_shown(pilot, "WHO FOR: ")
        await pilot.press(*"Annab", "backspace", "space", *"Orchard", "enter")
        await until_shown(pilot, "Anna Orchard")
        await choose(pilot, "take this order")
        await until(pilot, lambda: not app.is_running)
    (order,) = orders(shop)
    customer = customer_of(shop, order.id)
    assert customer is not None
    assert customer.name == "Anna Orchard"
    assert (order.count, order.sizes_mm, order.promised) == (3, {"drop": 61.0}, "2027-06-15")


async def test_what_cannot_be_is_said_and_not_taken(shop: Shop) -> None:
    app = TestApp(lambda app: TakeOrderScreen(shop, "test-pin"))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "take the order")
        await choose(pilot, "drop")
        await until_shown(pilot, "DROP")
        await pilot.press("5", "0", "0", "enter")
        await until_shown(pilot, "take 0500.0 mm")
        await until_shown(pilot, "120 mm")
        await pilot.press("backspace")
        await until_shown(pilot, "60 mm")
        await choose(pilot, "how many")
        await pilot.press("0", "enter")
        await until_shown(pilot, "at least one set")
    assert orders(shop) == []


async def test_leaving_takes_no_order(shop: Shop) -> None:
    app = TestApp(lambda app: TakeOrderScreen(shop, "test-pin"))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "take the order")
        await pilot.press("backspace")
        await until(pilot, lambda: not app.is_running)
    assert orders(shop) == []


async def test_date_size_and_hold_are_changed_and_written_down(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="7", promised="2027-01-31")
    shop = shop.again()
    app = TestApp(lambda app: OrderScreen(shop, order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "2027-01-31")
        await choose(pilot, "no date after all")
        await until_shown(pilot, "no date")
        await until(pilot, lambda: orders(shop)[0].promised == "")
        await choose(pilot, "drop")
        await until_shown(pilot, "DROP")
        await pilot.press("space", "enter")
        await until(pilot, lambda: orders(shop)[0].sizes_mm == {"drop": 61.0})
        await until_shown(pilot, "61 mm")
        await choose(pilot, "hold it for now")
        await until_shown(pilot, "work on it again")
        assert orders(shop)[0].held is not None
        await pilot.press("enter")
        await until(pilot, lambda: orders(shop)[0].held is None)
        await choose(pilot, "promised for")
        await pilot.press(*"20269999", "enter")
        await until_shown(pilot, "is no date")


async def test_calling_off_wants_a_reason_and_is_answered_by_another_key(shop: Shop) -> None:
    order = take_order(shop, "test-pin")
    shop = shop.again()
    app = TestApp(lambda app: OrderScreen(shop, order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "set the date")
        await choose(pilot, "call it off")
        await until_shown(pilot, "WHY IT IS CALLED OFF: ")
        await pilot.press(*"lost", "enter")
        await until_shown(pilot, "leave it open")
        await pilot.press("enter")
        await until_shown(pilot, "say why: asks first")
        assert orders(shop)[0].closed is None
        await pilot.press("enter", *"lost", "enter")
        await until_shown(pilot, "leave it open")
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)
    assert (orders(shop)[0].closed, orders(shop)[0].called_off) == ("lost", True)


async def test_an_order_with_steps_undone_is_not_delivered_from_its_page(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "set the date")
        await choose(pilot, "deliver it: it is sent")
        await until_shown(pilot, "nothing of it has been begun")
    assert orders(shop)[0].closed is None


async def test_a_finished_order_is_delivered_from_its_page(shop: Shop) -> None:
    order = finished(shop, FakeClock(), label="gate")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "set the date")
        await choose(pilot, "deliver it: it is sent")
        await until_shown(pilot, "delivered, sent?")
        assert orders(shop)[0].closed is None
        await pilot.press("space")
        await until(pilot, lambda: not app.is_running)
    assert orders(shop)[0].delivered == "sent"


async def test_a_spare_is_asked_for_on_the_page(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "set the date")
        await choose(pilot, "make a spare pin, left")
        await until_shown(pilot, "1 pin, left")
    (spare,) = orders(shop)[0].spares
    assert (spare.component, spare.mark, spare.count) == ("pin", "left", 1)


async def test_who_an_order_is_for_is_said_later_and_shown(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "nobody named")
        await choose(pilot, "who for")
        await until_shown(pilot, "WHO FOR: ")
        await pilot.press("tab")
        await until_shown(pilot, "nobody named")
        await choose(pilot, "who for")
        await pilot.press(*"Ben", "enter")
        await until_shown(pilot, "who for: Ben")
    customer = customer_of(shop, order.id)
    assert customer is not None
    assert customer.name == "Ben"


async def test_where_the_name_cannot_be_kept_the_order_is_taken_and_it_is_said(shop: Shop) -> None:
    (shop.book / "customers").rmdir()
    (shop.book / "customers").write_text("a file where a folder should be")
    app = TestApp(lambda app: OrderScreen(shop.again(), first.id))
    first = take_order(shop, "test-pin", label="gate")
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "promised for")
        app.push_screen(TakeOrderScreen(shop.again(), "test-pin"))
        await until_shown(pilot, "take the order")
        await choose(pilot, "who for")
        await pilot.press(*"Ben", "enter")
        await until_shown(pilot, ". Ben")
        await choose(pilot, "take this order")
        await until_shown(pilot, "customers is no folder")
    assert len(orders(shop)) == 2


async def test_a_sheet_is_written_from_its_order_and_its_place_is_told(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="gate 14")
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(pilot, "ORDER gate 14")
        await choose(pilot, "job sheet")
        await until_shown(pilot, "in the book: sheets/job-gate-14-")
        (path,) = (shop.book / "sheets").iterdir()
        assert path.name in shown(pilot)
        assert "draw the point" in path.read_text(encoding="utf-8")
        await choose(pilot, "quote for the customer")
        await until_shown(pilot, "there is no price to print yet")


async def test_an_order_for_the_shop_is_closed_and_not_delivered(shop: Shop) -> None:
    order = take_order(shop, "test-pin", label="pins", for_shop=True)
    app = TestApp(lambda app: OrderScreen(shop.again(), order.id))
    async with app.run_test(size=(80, 24)) as pilot:
        page = await until_shown(pilot, "for the shop itself")
        assert "close it: the tool is made" in page
        assert "deliver it" not in page
