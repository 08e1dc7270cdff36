from __future__ import annotations

from forgelog.work.facts import (
    DayEnded,
    FireWentOut,
    Hot,
    Noted,
    OrderClosed,
    Press,
    PutInFire,
    SessionBegan,
    ToolSeen,
)
from forgelog.work.moments import Stamp
from forgelog.work.only import narrowed, only_tools, order_of, orders_in, orders_of

STAMP = Stamp(wall=1.0, steady=1.0, awake=1.0)
A = PutInFire(workpiece="a-1/hook/1")
B = PutInFire(workpiece="b-2/hook/1")


def press(*facts: object, seq: int = 3) -> Press:
    return Press(seq=seq, at=STAMP, facts=facts)  # type: ignore[arg-type]


def test_a_workpiece_says_which_order_it_belongs_to() -> None:
    assert order_of("anvil7k-3f9q/strap/2") == "anvil7k-3f9q"
    assert orders_of(A) == ("a-1",)
    assert orders_of(Noted(words="x", order="b-2")) == ("b-2",)
    assert orders_of(Noted(words="x")) == ()
    assert orders_in([press(A), press(B, DayEnded())]) == {"a-1", "b-2"}


def test_facts_of_other_orders_are_left_out_and_number_and_time_are_kept() -> None:
    less = narrowed(press(A, B, DayEnded()), {"a-1"})
    assert less == press(A, DayEnded())
    assert narrowed(press(B), {"a-1"}) == press()


def test_a_press_that_loses_nothing_is_the_same_press() -> None:
    whole = press(A, DayEnded())
    assert narrowed(whole, {"a-1"}) is whole


def test_what_was_agreed_on_other_orders_is_kept_unless_it_is_not_wanted() -> None:
    closed = press(OrderClosed(order="b-2"))
    assert narrowed(closed, {"a-1"}) is closed
    assert narrowed(closed, {"a-1"}, heads=False) == press()


def test_only_what_is_wanted_lies_in_a_fire_that_went_out() -> None:
    out = FireWentOut(hot={"a-1/hook/1": Hot(degc=900.0), "b-2/hook/1": Hot(degc=800.0)})
    (fact,) = narrowed(press(out), {"a-1"}).facts
    assert fact == FireWentOut(hot={"a-1/hook/1": Hot(degc=900.0)})


def test_tools_are_kept_with_the_beginning_of_the_session() -> None:
    began = SessionBegan(version="0", session="s", device="d")
    seen = ToolSeen(tool="jig", state="have")
    assert only_tools(press(began, A, seen, seq=0)).facts == (began, seen)
    assert only_tools(press(A, seen)).facts == (seen,)
