"""A piece spoilt after its twin was finished is made to match the twin, driven by the real keys."""

from __future__ import annotations

import json

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import Shop
from forgelog.floor.stand import ELSE, Stand
from forgelog.work.state import FINISHED, Workpiece
from tests.desk.working import finish

ARM = """
format = 1
id = "test-arm"
name = "Arms for tests"
[[component]]
id = "arm"
name = "arm"
each = 2
hands = ["left", "right"]
match = ["over all"]
stock = { section = "12 mm square", cut = "180 mm" }
[[component.step]]
do = "draw the arm"
heats = { hand = 1 }
[[component.step]]
do = "gauge the arm"
kind = "gauge"
gauge = [
  { what = "over all", size = "212 mm", plus = "2 mm", minus = "2 mm" },
  { what = "hole", size = "6 mm", plus = "1 mm", minus = "0 mm" },
]
"""


@pytest.fixture
def floor(shop: Shop, clock: FakeClock) -> FloorSession:
    (shop.book / "recipes" / "test-arm.toml").write_text(ARM)
    order = take_order(shop.again(), "test-arm", label="arms", clock=clock)
    return start(shop.again(), [order.id], clock=clock)


def arms(session: FloorSession) -> list[Workpiece]:
    return list(session.state.pieces.values())


def from_list(session: FloorSession, clock: FakeClock, *choices: str) -> None:
    """Open "something else" by its keys, and take a choice in each list after another."""
    session._stand = Stand(chosen=ELSE)
    clock.go_on(5.0)
    session.press("enter")
    for wanted in choices:
        for _ in range(40):
            listed = session.view().list
            assert listed is not None
            here = listed.choices[listed.at]
            if here == wanted or (wanted in here and wanted not in listed.choices):
                break
            clock.go_on(2.0)
            session.press("tab")
        else:
            raise AssertionError(f"{wanted} is not in the list")
        clock.go_on(2.0)
        session.press("enter")


def test_the_remake_says_what_its_finished_twin_measures(
    floor: FloorSession, clock: FakeClock, shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    left, right = arms(floor)
    finish(floor, clock, left)
    assert floor.state.pieces[left.id].place == FINISHED
    from_list(floor, clock, "a size", "arm, left: over all", "212.5 mm")
    from_list(floor, clock, "a size", "arm, left: hole", "6.5 mm")
    from_list(floor, clock, "trouble with a cold piece", "arm, right", "make another", "lost")
    remade = arms(floor)[-1]
    assert remade.remade_from == right.id
    floor._stand = Stand(chosen=remade.id)
    line = "make it as arm, left: over all as made 212.5 mm, drawing 212 mm"
    assert floor.view().lines[0] == line
    assert not any("hole as made" in words for words in floor.view().lines)
    floor.close()
    at = ["--book", str(shop.book), "order", "show", "arms"]
    assert main(at) == 0
    told = "make it as its twin: over all as made 212.5 mm, drawing 212 mm (arm left 1)"
    assert told in capsys.readouterr().out
    assert main([*at, "--json"]) == 0
    pieces = json.loads(capsys.readouterr().out)["pieces"]
    assert [bool(piece["make_as"]) for piece in pieces] == [False, False, True]


def test_a_spare_that_takes_the_slot_is_told_the_same(
    floor: FloorSession, clock: FakeClock, shop: Shop
) -> None:
    from forgelog.desk.spares import add_spares

    left = arms(floor)[0]
    finish(floor, clock, left)
    from_list(floor, clock, "a size", "arm, left: over all", "211.5 mm")
    floor.close()
    order = next(iter(shop.again().state.orders.values()))
    add_spares(shop.again(), order, "arm", mark="right", clock=clock)
    again = start(shop.again(), [order.id], clock=clock)
    from_list(again, clock, "trouble with a cold piece", "arm, right", "take the", "burnt")
    spare = arms(again)[-1]
    again._stand = Stand(chosen=spare.id)
    assert "over all as made 211.5 mm, drawing 212 mm" in again.view().lines[0]
    again.close()


def test_a_twin_that_was_not_measured_says_nothing(
    floor: FloorSession, clock: FakeClock, shop: Shop
) -> None:
    left = arms(floor)[0]
    finish(floor, clock, left)
    from_list(floor, clock, "trouble with a cold piece", "arm, right", "make another", "lost")
    floor._stand = Stand(chosen=arms(floor)[-1].id)
    assert not any("as made" in words for words in floor.view().lines)
    floor.close()
    order = next(iter(shop.again().state.orders.values()))
    assert all(not piece.make_as for piece in order_shown(shop.again(), order).pieces)
