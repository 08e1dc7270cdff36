"""The rack now: the smith's own list, which stays untouched, and what the journal says since."""

from __future__ import annotations

import pytest

from forgelog.desk.bars import bars_shown
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import take_order
from forgelog.desk.rack import keep_offcut, offcuts, propose_label, rack, use_up
from forgelog.desk.shop import Shop
from forgelog.trade.sections import Section

TWELVE = Section(kind="square", a_mm=12.0)
STOCK = """[[bar]]
section = "12 mm square"
long = "3 m"
[[offcut]]
label = "B2"
section = "12 mm square"
long = "340 mm"
"""


@pytest.fixture
def racked(shop: Shop) -> Shop:
    (shop.book / "stock.toml").write_text(STOCK)
    return shop.again()


def labels(shop: Shop) -> list[str]:
    return [bar.label for bar in offcuts(shop.again())]


def test_an_offcut_is_kept_under_the_proposed_label_and_stock_toml_is_not_touched(
    racked: Shop, clock: FakeClock
) -> None:
    keep_offcut(racked, TWELVE, 210.0, where="box 2", clock=clock)
    clock.go_on(60.0)
    keep_offcut(racked.again(), TWELVE, 90.0, clock=clock)
    assert labels(racked) == ["B2", "K1", "K2"]
    assert len(rack(racked.again())) == 4
    assert (racked.book / "stock.toml").read_text() == STOCK


def test_one_used_up_is_gone_and_its_label_is_not_proposed_again(
    racked: Shop, clock: FakeClock
) -> None:
    for label in ("K1", "b2"):
        if label == "K1":
            keep_offcut(racked.again(), TWELVE, 210.0, clock=clock)
            clock.go_on(60.0)
        use_up(racked.again(), label, clock=clock)
        clock.go_on(60.0)
    assert labels(racked) == []
    assert propose_label(racked.again()) == "K2"


def test_a_label_that_is_borne_or_that_nobody_bears_is_told(racked: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match='"b2" lies on the rack already; "K1" is free'):
        keep_offcut(racked, TWELVE, 210.0, label="b2", clock=clock)
    with pytest.raises(CannotDo, match='no offcut on the rack is labelled "B3"; there are B2'):
        use_up(racked, "B3", clock=clock)
    with pytest.raises(CannotDo, match="at most 20 letters"):
        keep_offcut(racked, TWELVE, 210.0, label="x" * 21, clock=clock)
    with pytest.raises(CannotDo, match="longer than nothing"):
        keep_offcut(racked, TWELVE, 0.0, clock=clock)


def test_the_lay_out_and_the_choice_of_a_bar_know_of_it_after_the_order_is_closed(
    racked: Shop, clock: FakeClock
) -> None:
    order = take_order(racked, "test-pin", label="gate", clock=clock)
    clock.go_on(60.0)
    keep_offcut(racked.again(), TWELVE, 210.0, clock=clock)
    clock.go_on(60.0)
    again = racked.again()
    own = bars_shown(again, again.state.orders[order.id], "pin").rows[0]
    assert (
        own.whence
        == "the recipe's; on the rack: 1 bar of 3000 mm, offcut B2 of 340 mm, offcut K1 of 210 mm"
    )
    call_off(again, again.state.orders[order.id], why="delivered", clock=clock)
    assert labels(racked) == ["B2", "K1"]
