"""What a session that was cut off left in the fire is hot, whatever is begun after it."""

from __future__ import annotations

from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop


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
