"""An order is done with: delivered, closed or called off, and never with steps undone unsaid."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off, close_order, deliver_order
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_text import order_rows
from forgelog.desk.order_view import orders_shown
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.work.state import Order
from tests.desk.working import finish, finished


def order_of(shop: Shop, order: Order) -> Order:
    return shop.again().state.orders[order.id]


@pytest.mark.parametrize("how", ["", "fetched", "sent", "fitted"])
def test_a_finished_order_is_delivered_and_leaves_the_open_ones(
    shop: Shop, clock: FakeClock, how: str
) -> None:
    order = finished(shop, clock, label="gate")
    deliver_order(shop.again(), order, how, "by the carrier", clock=clock)
    after = order_of(shop, order)
    assert after.closed is not None
    assert after.delivered == (how or "delivered")
    assert after.delivered_on == "2026-01-30"
    assert after.notes == ("by the carrier",)
    assert orders_shown(shop.again()) == ()
    with pytest.raises(CannotDo, match="is closed"):
        deliver_order(shop.again(), after, clock=clock)


def test_the_day_of_delivery_may_be_another(shop: Shop, clock: FakeClock) -> None:
    order = finished(shop, clock, label="gate")
    with pytest.raises(CannotDo, match="no date"):
        deliver_order(shop.again(), order, day="yesterday", clock=clock)
    deliver_order(shop.again(), order, day="2026-01-28", clock=clock)
    assert order_of(shop, order).delivered_on == "2026-01-28"


def test_a_way_that_is_none_is_refused(shop: Shop, clock: FakeClock) -> None:
    order = finished(shop, clock, label="gate")
    with pytest.raises(CannotDo, match="write fetched, sent or fitted"):
        deliver_order(shop.again(), order, "flown", clock=clock)


def test_what_is_undone_is_told_piece_by_piece_and_nothing_is_written(
    shop: Shop, clock: FakeClock
) -> None:
    order = take_order(shop, "test-pin", label="gate", clock=clock)
    for deed in (deliver_order, close_order):
        with pytest.raises(CannotDo, match="nothing of it has been begun"):
            deed(shop.again(), order, clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    pins = [p for p in session.state.pieces.values() if p.component == "pin"]
    wedge = next(p for p in session.state.pieces.values() if p.component == "wedge")
    finish(session, clock, pins[0])
    finish(session, clock, wedge)
    finish(session, clock, pins[1], steps=3)
    session.close()
    with pytest.raises(CannotDo) as refused:
        deliver_order(shop.again(), order_of(shop, order), clock=clock)
    assert str(refused.value).splitlines()[:2] == [
        'order "gate" cannot be delivered: 1 step on 1 piece still to do',
        "    pin right 1: file the end",
    ]
    assert order_of(shop, order).closed is None


def test_an_unfinished_order_is_called_off_with_a_reason_only(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", label="gate", clock=clock)
    with pytest.raises(CannotDo, match="say why"):
        call_off(shop.again(), order, "  ", clock=clock)
    call_off(shop.again(), order, "the gate was sold", clock=clock)
    after = order_of(shop, order)
    assert (after.closed, after.called_off, after.delivered) == ("the gate was sold", True, "")


def test_the_list_tells_delivered_closed_and_called_off_apart(shop: Shop, clock: FakeClock) -> None:
    deliver_order(shop.again(), finished(shop, clock, label="one"), "sent", clock=clock)
    close_order(shop.again(), finished(shop, clock, label="two"), "a gift", clock=clock)
    three = take_order(shop.again(), "test-pin", label="three", clock=clock)
    call_off(shop.again(), three, "sold", clock=clock)
    rows = order_rows(orders_shown(shop.again(), closed=True))
    ends = {row.split()[1]: row.rpartition("  ")[2] for row in rows}
    assert ends == {
        "one": "delivered 2026-01-30, sent",
        "two": "closed: a gift",
        "three": "called off: sold",
    }


def test_the_command_delivers_refuses_and_calls_off(
    shop: Shop, book: Path, clock: FakeClock, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ["--book", str(book), "order"]
    finished(shop, clock, label="gate")
    assert (
        main([*at, "deliver", "gate", "--how", "fetched", "--on", "2026-02-01", "--note", "by Ben"])
        == 0
    )
    assert "delivered 2026-02-01, fetched" in capsys.readouterr().out
    assert main([*at, "show", "gate", "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert (shown["delivered"], shown["delivered_on"]) == ("fetched", "2026-02-01")
    assert (shown["undone"], shown["called_off"]) == ([], False)
    assert main([*at, "take", "test-pin", "--label", "hooks"]) == 0
    assert main([*at, "deliver", "hooks"]) == 2
    assert "nothing of it has been begun" in capsys.readouterr().err
    assert main([*at, "close", "hooks", "--called-off", "sold"]) == 0
    assert "called off: sold" in capsys.readouterr().out
