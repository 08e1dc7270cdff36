"""Another bar than the recipe's, as a fact of the order."""

from __future__ import annotations

import pytest

from forgelog.trade.sections import Section
from forgelog.work.apply import happened
from forgelog.work.changes import CannotBe
from forgelog.work.facts import BarChosen, Noted, OrderTaken, Press
from forgelog.work.moments import Stamp
from forgelog.work.only import narrowed
from forgelog.work.state import State

THIRTEEN = Section(kind="flat", a_mm=25.0, b_mm=13.0)
TAKEN = OrderTaken(order="o", label="7", title="Gate", recipe="gate-hinge-set")


def bars(*facts: BarChosen) -> dict[str, Section]:
    return happened(State(), (TAKEN, *facts)).orders["o"].bars


def test_an_order_is_cut_from_the_recipes_bars_until_another_is_chosen() -> None:
    assert bars() == {}
    assert bars(BarChosen(order="o", component="nut", section=THIRTEEN)) == {"nut": THIRTEEN}


def test_the_last_choice_holds_and_the_recipes_own_can_be_taken_again() -> None:
    first = BarChosen(order="o", component="nut", section=THIRTEEN)
    other = BarChosen(
        order="o", component="strap", section=Section(kind="flat", a_mm=40.0, b_mm=10.0)
    )
    back = BarChosen(order="o", component="nut")
    assert set(bars(first, other)) == {"nut", "strap"}
    assert bars(first, other, back) == {"strap": other.section}
    assert bars(back) == {}


def test_a_bar_for_an_order_that_was_never_taken_cannot_be() -> None:
    with pytest.raises(CannotBe, match="there is no order x"):
        happened(State(), (BarChosen(order="x", component="nut", section=THIRTEEN),))


def test_the_bar_of_another_order_is_kept_with_what_was_agreed_and_dropped_from_its_work() -> None:
    press = Press(
        seq=1,
        at=Stamp(wall=0.0, steady=0.0, awake=0.0, boot="b"),
        facts=(
            BarChosen(order="o", component="nut", section=THIRTEEN),
            Noted(words="x", order="o"),
        ),
    )
    assert narrowed(press, ()).facts == press.facts[:1]
    assert narrowed(press, (), heads=False).facts == ()
