"""The page of a session: what was worked in it and nothing else."""

from __future__ import annotations

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import find_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.sheets.making import Wanted, set_sheet
from tests.desk.working import work
from tests.sheets.reading import PageRead

LAST = Wanted(kind="session")


def test_the_last_session_is_told_with_its_heats_and_rests(shop: Shop, clock: FakeClock) -> None:
    order = find_order(shop.state, "gate 14")
    for presses in (20, 60):
        session = start(shop, [order.id], clock=clock)
        work(session, clock, presses)
        session.close()
        clock.go_on(9 * 3600.0)
        shop = shop.again()
    made = set_sheet(shop, LAST, clock=clock)
    assert made.name == f"session-{session.id.lower()}.html"
    read = PageRead(made.text)
    assert "SESSION" in read.text
    assert "Orders Two pins" in read.text
    assert "Heats: Pin for tests" in read.text
    first = set_sheet(shop, Wanted(kind="session", session="1"), clock=clock)
    assert "pin draw the point hand 2" in PageRead(first.text).text
    assert "pin draw the point" not in read.text, "that was worked the day before"


def test_a_book_without_sessions_says_so(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="there is no session at the fire yet"):
        set_sheet(shop, LAST, clock=clock)


def test_a_session_that_is_not_there_is_refused(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="there is no session"):
        set_sheet(shop, Wanted(kind="session", session="9"), clock=clock)
