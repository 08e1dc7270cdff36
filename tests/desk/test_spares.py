"""Spares made in the run: asked for at the desk, used at the fire, told at the end."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import KEPT, deliver_order
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import layout
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.desk.spares import add_spares
from forgelog.work.state import Order, Workpiece
from tests.desk.working import finish, finished


def taken(shop: Shop, clock: FakeClock) -> Order:
    return take_order(shop.again(), "test-pin", label="gate", clock=clock)


def begun(shop: Shop, clock: FakeClock, order: Order) -> None:
    start(shop.again(), [order.id], clock=clock).close()
    clock.go_on(60.0)


def pieces(shop: Shop, order: Order) -> list[Workpiece]:
    return [p for p in shop.again().state.pieces.values() if p.order == order.id]


def now(shop: Shop, order: Order) -> Order:
    return shop.again().state.orders[order.id]


def test_spares_asked_for_before_the_lay_out_are_made_and_cut_with_the_others(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    add_spares(shop.again(), order, "pin", 2, mark="left", clock=clock)
    add_spares(shop.again(), order, "pin", mark="left", clock=clock)
    assert order_shown(shop.again(), now(shop, order)).spares == ("2 pin, left", "1 pin, left")
    begun(shop, clock, order)
    spares = [p for p in pieces(shop, order) if p.spare]
    assert [p.slot for p in spares] == ["pin left spare 1", "pin left spare 2", "pin left spare 3"]
    assert len({p.serial for p in pieces(shop, order)}) == len(pieces(shop, order))
    stock = layout(shop.again(), [order.id], clock.stamp()).stock
    assert next(s.pieces for s in stock if s.name == "pin") == 5


def test_spares_asked_for_after_the_lay_out_have_serials_of_their_own(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    begun(shop, clock, order)
    before = len(pieces(shop, order))
    add_spares(shop.again(), now(shop, order), "pin", 2, mark="right", clock=clock)
    add_spares(shop.again(), now(shop, order), "pin", mark="right", clock=clock)
    after = pieces(shop, order)
    assert len(after) == before + 3
    assert [p.slot for p in after[-3:]] == [f"pin right spare {n}" for n in (1, 2, 3)]
    assert {p.serial for p in after} == set(range(1, before + 4))


def test_spares_do_not_count_and_hold_nothing_up(shop: Shop, clock: FakeClock) -> None:
    order = finished(shop, clock, label="gate")
    far = order_shown(shop.again(), order)
    add_spares(shop.again(), order, "pin", mark="left", clock=clock)
    after = order_shown(shop.again(), now(shop, order))
    assert (after.steps_done, after.steps) == (far.steps_done, far.steps)
    assert after.undone == ()
    assert after.spares == ("pin left spare 1: 0 of 4 steps",)
    deliver_order(shop.again(), now(shop, order), keep_spares=True, clock=clock)
    spare = next(p for p in shop.again().whole_state.pieces.values() if p.spare)
    assert spare.notes == (KEPT,)


@pytest.mark.parametrize(
    ("component", "mark", "says"),
    [
        ("pim", "left", 'no component "pim"'),
        ("wedge", "", "is a handful"),
        ("pin", "", "say which one: left or right"),
        ("pin", "upper", 'has no "upper": left or right'),
    ],
)
def test_what_cannot_be_a_spare_is_refused_in_words(
    shop: Shop, clock: FakeClock, component: str, mark: str, says: str
) -> None:
    with pytest.raises(CannotDo, match=says):
        add_spares(shop.again(), taken(shop, clock), component, mark=mark, clock=clock)


def test_spares_of_an_assembly_are_spares_of_its_parts(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop.again(), "gate-hinge-set", label="hinge", clock=clock)
    with pytest.raises(CannotDo, match="make spares of strap, pintle, nut and washer"):
        add_spares(shop.again(), order, "hinge", mark="upper", clock=clock)
    add_spares(shop.again(), order, "strap", clock=clock)
    with pytest.raises(CannotDo, match="from 1 to 20"):
        add_spares(shop.again(), order, "strap", 21, clock=clock)


def test_the_command_makes_spares_and_tells_them_at_the_end(
    shop: Shop, book: Path, clock: FakeClock, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ["--book", str(book), "order"]
    order = finished(shop, clock, label="gate")
    assert main([*at, "spare", "gate", "pin", "--mark", "left", "--count", "2"]) == 0
    assert "spare: pin left spare 2: 0 of 4 steps" in capsys.readouterr().out
    session = start(shop.again(), [order.id], clock=clock)
    finish(session, clock, next(p for p in session.state.pieces.values() if p.spare))
    session.close()
    assert main([*at, "deliver", "gate", "--keep-spares"]) == 0
    out = capsys.readouterr().out
    assert "spare left: pin left spare 1: finished" in out
    assert "spare left: pin left spare 2: 0 of 4 steps" in out
