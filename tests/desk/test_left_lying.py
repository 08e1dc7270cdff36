"""What a session that was cut off left in the fire is hot, whatever is begun after it."""

from __future__ import annotations

import random

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from tests.desk.test_shop import months


def test_a_piece_left_in_the_fire_is_on_the_hot_list_of_a_session_that_begins_anew(
    shop: Shop, clock: FakeClock
) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    session.press("space")
    assert [p.place for p in session.state.pieces.values()].count("fire") == 1
    clock.go_on(200)
    session.close()
    clock.start_again(60)
    again = start(shop.again(), [order.id], clock=clock)
    assert [p.place for p in again.state.pieces.values()].count("fire") == 0
    assert again.view().hot
    again.close()


def test_a_piece_in_hand_when_the_power_went_was_worked_until_the_last_press_and_no_longer(
    shop: Shop, clock: FakeClock
) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    clock.go_on(500)
    session.press("space")
    clock.go_on(200)
    session.press("space")
    clock.go_on(40)
    session.press("n")
    session.press("text:the power flickers")
    clock.go_on(300)
    session.close()
    clock.start_again(3600)
    again = start(shop.again(), [order.id], clock=clock)
    (piece,) = [p for p in again.state.pieces.values() if p.begun]
    assert piece.place == "waiting"
    assert piece.work_s == 40
    again.close()


@pytest.mark.parametrize("seed", range(3))
def test_no_step_ever_took_less_than_no_time(shop: Shop, clock: FakeClock, seed: int) -> None:
    months(shop, clock, random.Random(seed))
    pieces = shop.again().whole_state.pieces.values()
    assert min(record.work_s for piece in pieces for record in piece.done) >= 0
    assert min(piece.work_s for piece in pieces) >= 0
