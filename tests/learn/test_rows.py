"""Rows tell what the state holds, and lead to nothing else."""

from __future__ import annotations

import pytest

from forgelog.learn.records import done_steps
from forgelog.learn.rests import see_rests
from forgelog.learn.row_making import make_rows, practice_sessions, session_rows
from forgelog.learn.rows import GaugeRow, RestRow, SpoiltRow
from forgelog.work.facts import (
    BenchBegun,
    Cracked,
    EndCutOff,
    Gauged,
    NewPiece,
    PutInFire,
    RestEnded,
    RestSkipped,
    Scrapped,
    StepFinished,
    StepReopened,
    TakenOut,
)
from tests.learn.shop import HAMMER, LEFT, RIGHT, Shop


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def test_every_step_that_was_done_has_a_row(shop: Shop) -> None:
    shop.forge(RIGHT, "draw", 5)
    shop.forge(LEFT, "draw", 4)
    rows = make_rows(shop.state).steps
    assert [(r.workpiece, r.step, r.heats, r.planned, r.run) for r in rows] == [
        (RIGHT, "draw", 5, 3, 1),
        (LEFT, "draw", 4, 3, 2),
    ]
    assert rows[0].do == "draw the tail"
    assert (rows[0].mark, rows[0].slot, rows[0].set) == ("right", "strap right 1", 1)
    assert [(d.ended_s, d.key) for d in done_steps(shop.state)] == [
        (r.ended_s, r.key) for r in rows
    ]


def test_a_rest_has_its_verdict_and_the_sum_behind_it(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    shop.rest(LEFT, "black")
    shop.press(90.0, RestEnded(workpiece=LEFT, step="black", rested_s=90.0, verdict="short"))
    shop.forge(RIGHT, "draw", 3)
    shop.press(5.0, RestSkipped(workpiece=RIGHT, step="black", until="black"))
    left, right = make_rows(shop.state).rests
    assert isinstance(left, RestRow)
    assert (left.verdict, left.until, left.why_rest) == (
        "short",
        "black",
        "so that the eye is not worked on too cold",
    )
    assert (left.needed_s, left.rested_s, left.start_degc) == (200.0, 90.0, 850.0)
    assert (right.verdict, right.needed_s) == ("skipped", 0.0)
    assert {r.workpiece for r in see_rests(shop.state)} == {left.workpiece, right.workpiece}


def test_what_went_wrong_says_in_which_step_and_what_was_made_in_its_stead(shop: Shop) -> None:
    again = NewPiece(id="o1/strap/4", component="strap", serial=4, remade_from=LEFT)
    shop.press(1.0, PutInFire(workpiece=LEFT))
    shop.press(300.0, TakenOut(workpiece=LEFT))
    shop.press(20.0, EndCutOff(workpiece=LEFT, why="burnt", lost_mm=12.0))
    shop.press(20.0, Scrapped(workpiece=LEFT, why="burnt", heat=1, remake=again))
    shop.press(20.0, Cracked(workpiece=RIGHT, words="at the shoulder"))
    burnt, scrapped, cracked = make_rows(shop.state).spoilt
    assert isinstance(burnt, SpoiltRow)
    assert (burnt.kind, burnt.step, burnt.lost_mm, burnt.heat) == ("end cut off", "draw", 12.0, 1)
    assert (scrapped.kind, scrapped.heat, scrapped.remade_as) == ("scrapped", 1, "o1/strap/4")
    assert burnt.over
    assert not cracked.over
    assert (cracked.kind, cracked.why, cracked.heat) == ("cracked", "at the shoulder", 0)


def test_a_step_done_again_is_told_with_its_reason(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    shop.press(5.0, StepReopened(workpiece=LEFT, step="draw", why="too thick"))
    (again,) = make_rows(shop.state).spoilt
    assert (again.kind, again.step, again.why) == ("again", "draw", "too thick")


def test_a_gauged_size_is_kept_each_time(shop: Shop) -> None:
    shop.press(5.0, Gauged(workpiece=HAMMER, step="drift", what="eye", fits=False, mm=22.5))
    shop.press(5.0, Gauged(workpiece=HAMMER, step="drift", what="eye", fits=True))
    first, second = make_rows(shop.state).gauges
    assert isinstance(first, GaugeRow)
    assert (first.fits, first.mm, first.session) == (False, 22.5, "s1")
    assert (second.fits, second.mm, second.wanted_mm) == (True, None, None)


def test_what_was_undone_has_no_row(shop: Shop) -> None:
    shop.press(5.0, Cracked(workpiece=HAMMER))
    shop.undo()
    assert make_rows(shop.state).spoilt == ()


def test_a_rest_that_passes_by_itself_belongs_to_the_session_that_began_it(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 4)
    for cycle in ("normalise-1", "normalise-2"):
        shop.press(5.0, RestSkipped(workpiece=HAMMER, step=cycle, until="black", cycle=1))
    shop.press(5.0, BenchBegun(workpiece=HAMMER, step="grind"))
    shop.press(600.0, StepFinished(workpiece=HAMMER, step="grind"))
    shop.rest(HAMMER, "cool", needed_s=600.0)
    shop.begin("desk", kind="desk", after_s=60.0)
    shop.begin("s2", orders=("o1",), after_s=86_400.0)
    assert [(r.step, r.session) for r in make_rows(shop.state).rests][-1] == ("cool", "s1")


def test_rows_of_a_practice_session_are_marked(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    shop.begin("s2", practice=20.0, orders=("o1",), after_s=3600.0)
    shop.press(0.0, Cracked(workpiece=RIGHT))
    rows = make_rows(shop.state)
    assert not rows.steps[0].practice
    assert rows.spoilt[0].practice
    assert practice_sessions(shop.state) == {"s2"}


def test_an_order_and_a_session_have_a_row_each(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    (order,) = make_rows(shop.state).orders
    assert (order.title, order.recipes, order.closed) == ("orchard gate", ("test-piece",), None)
    (session,) = session_rows(shop.state.sessions, {"s1": 4}, {"s1": 60.0})
    assert (session.session, session.heats, session.worked_s) == ("s1", 4, 60.0)
    assert not session.practice


def test_rows_can_be_made_of_some_orders_alone(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    assert make_rows(shop.state, ()).steps == ()
    assert make_rows(shop.state, ("o1",)) == make_rows(shop.state)
