"""What the journal holds for learning, and what is left out of it."""

from __future__ import annotations

import pytest

from forgelog.learn.heats import learn_heats
from forgelog.learn.records import bench_times, done_steps, hand_times, heat_records
from forgelog.work.facts import (
    BenchBegun,
    HeatsCorrected,
    MethodChanged,
    PutInFire,
    RestEnded,
    Scrapped,
    StepFinished,
    StepReopened,
    TakenOut,
)
from tests.learn.shop import HAMMER, LEFT, RIGHT, Shop

DRAW = ("test-piece", "strap", "draw", "hand")


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def _taken(shop: Shop) -> list[tuple[str, int, int]]:
    return [(r.step[2], r.taken, r.planned) for r in heat_records(done_steps(shop.state))]


def test_the_heats_that_were_pressed_are_records_oldest_first(shop: Shop) -> None:
    shop.forge(RIGHT, "draw", 5)
    shop.forge(LEFT, "draw", 4)
    records = heat_records(done_steps(shop.state))
    assert [(r.workpiece, r.taken, r.planned, r.run) for r in records] == [
        (RIGHT, 5, 3, 1),
        (LEFT, 4, 3, 2),
    ]
    assert {r.step for r in records} == {DRAW}
    assert {r.session for r in records} == {"s1"}
    assert records[0].ended_s < records[1].ended_s


def test_a_step_under_the_hammer_is_a_step_of_its_own(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    shop.press(1.0, MethodChanged(method="power"))
    shop.forge(RIGHT, "draw", 2, method="power")
    records = heat_records(done_steps(shop.state))
    assert [(r.step[3], r.taken, r.planned) for r in records] == [("hand", 4, 3), ("power", 2, 1)]


def test_heats_that_nobody_pressed_are_unknown_and_left_out(shop: Shop) -> None:
    shop.press(1.0, PutInFire(workpiece=LEFT))
    shop.press(300.0, StepFinished(workpiece=LEFT, step="draw", heats_unknown=True))
    assert _taken(shop) == []
    (done,) = done_steps(shop.state)
    assert done.heats_unknown


def test_heats_that_were_told_afterwards_are_used_and_marked(shop: Shop) -> None:
    shop.press(1.0, PutInFire(workpiece=LEFT))
    shop.press(300.0, StepFinished(workpiece=LEFT, step="draw", heats_unknown=True))
    shop.press(60.0, HeatsCorrected(workpiece=LEFT, step="draw", heats=5))
    (record,) = heat_records(done_steps(shop.state))
    assert (record.taken, record.corrected) == (5, True)
    assert not done_steps(shop.state)[0].heats_unknown


def test_the_step_in_which_a_piece_was_spoilt_is_left_out_and_those_before_are_not(
    shop: Shop,
) -> None:
    shop.forge(HAMMER, "drift", 6)
    shop.forge(LEFT, "draw", 4)
    shop.press(1.0, PutInFire(workpiece=RIGHT))
    shop.press(200.0, TakenOut(workpiece=RIGHT))
    shop.press(30.0, Scrapped(workpiece=RIGHT, why="burnt", heat=1))
    assert _taken(shop) == [("drift", 6, 4), ("draw", 4, 3)]
    assert [d.scrapped for d in done_steps(shop.state)] == [False, False, True]
    shop.press(1.0, Scrapped(workpiece=HAMMER, why="cracked"))
    assert _taken(shop) == [("drift", 6, 4), ("draw", 4, 3)]


def test_a_step_in_the_same_heat_as_its_neighbour_is_noted_as_shared(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    (record,) = heat_records(done_steps(shop.state))
    assert not record.shared
    shop.forge(RIGHT, "draw", 2, to="hand")
    record = heat_records(done_steps(shop.state))[-1]
    assert record.shared
    assert record.taken == 2


def test_a_reopened_step_counts_once_with_all_its_heats(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    shop.press(10.0, StepReopened(workpiece=LEFT, step="draw", why="too thick"))
    shop.forge(LEFT, "draw", 2)
    assert _taken(shop) == [("draw", 5, 3)]


def test_a_method_that_the_recipe_plans_no_heats_for_teaches_nothing(shop: Shop) -> None:
    shop.press(1.0, MethodChanged(method="press"))
    shop.forge(LEFT, "draw", 2, method="press")
    assert _taken(shop) == []
    assert len(done_steps(shop.state)) == 1


def test_practice_and_real_work_are_never_mixed(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    shop.begin("s2", after_s=3600.0, practice=20.0)
    shop.press(0.0, *_fire())
    shop.forge(RIGHT, "draw", 9)
    real = heat_records(done_steps(shop.state))
    practised = heat_records(done_steps(shop.state, practice=True))
    assert [r.taken for r in real] == [4]
    assert [r.taken for r in practised] == [9]


def _fire() -> tuple[object, ...]:
    from forgelog.work.facts import FireLit

    return (FireLit(orders=("o1",)),)


def test_undone_heats_are_no_records(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    shop.undo()
    assert _taken(shop) == []


def test_records_teach_the_next_piece(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 5)
    shop.forge(RIGHT, "draw", 5)
    heats = learn_heats(heat_records(done_steps(shop.state))).ask(DRAW, 3)
    assert heats.records == 2
    assert 3 < heats.centre < 5


def test_time_in_hand_is_kept_with_the_place_in_the_run(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 4)
    shop.forge(RIGHT, "draw", 4)
    times = hand_times(done_steps(shop.state))
    assert [(t.taken_s, t.planned_s, t.run) for t in times] == [
        (pytest.approx(120.0), 180.0, 1),
        (pytest.approx(120.0), 180.0, 2),
    ]


def test_time_at_the_bench_is_kept_against_the_planned_minutes(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    shop.rest(LEFT, "black")
    shop.press(300.0, RestEnded(workpiece=LEFT, step="black", rested_s=300.0, verdict="ok"))
    shop.forge(LEFT, "eye", 2)
    shop.press(5.0, BenchBegun(workpiece=LEFT, step="drill"))
    shop.press(720.0, StepFinished(workpiece=LEFT, step="drill"))
    (time,) = bench_times(done_steps(shop.state))
    assert (time.step[2], time.taken_s, time.planned_s) == ("drill", pytest.approx(720.0), 600.0)
    assert [t.step[2] for t in hand_times(done_steps(shop.state))] == ["draw", "eye"]
