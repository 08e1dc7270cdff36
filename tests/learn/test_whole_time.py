"""Hours of an order from the times of its steps."""

from __future__ import annotations

import pytest

from forgelog.learn.minutes import TimeRecord, learn_times, run_factor
from forgelog.learn.whole_time import RunOfStep, whole_time

DRAW = ("hook", "hook", "draw", "hand")
BEND = ("hook", "hook", "bend", "hand")


def records(step: tuple[str, str, str, str], taken_s: float, count: int) -> list[TimeRecord]:
    return [
        TimeRecord(step=step, taken_s=taken_s * run_factor(k), planned_s=60.0, run=k)
        for k in range(1, count + 1)
    ]


@pytest.mark.parametrize("pieces", [1, 2, 12])
@pytest.mark.parametrize("known", [0, 4])
def test_the_run_of_one_step_is_what_the_step_itself_says(pieces: int, known: int) -> None:
    times = learn_times(records(DRAW, 90.0, known))
    run = times.run(DRAW, 60.0, 1, pieces)
    whole = whole_time(times, [RunOfStep(step=DRAW, planned_s=60.0, pieces=pieces)])
    assert whole.centre_s == pytest.approx(run.centre_s)
    assert whole.low_s == pytest.approx(run.low_s)
    assert whole.high_s == pytest.approx(run.high_s)
    assert (whole.records, whole.known, whole.steps) == (known, known > 0, 1)


def test_the_first_piece_takes_double_and_it_is_told_how_much_that_adds() -> None:
    whole = whole_time(learn_times([]), [RunOfStep(step=DRAW, planned_s=60.0, pieces=2)])
    assert whole.centre_s == pytest.approx(60.0 * (2.0 + run_factor(2)), rel=0.03)
    assert whole.first_s / whole.centre_s == pytest.approx(1 - 2 / (2.0 + run_factor(2)))


def test_many_alike_pieces_are_surer_than_one_but_never_surer_than_what_they_share() -> None:
    times = learn_times(records(DRAW, 90.0, 30))
    one = whole_time(times, [RunOfStep(step=DRAW, planned_s=60.0, steady=True)])
    many = whole_time(times, [RunOfStep(step=DRAW, planned_s=60.0, pieces=50, steady=True)])
    assert many.spread < one.spread / 2
    nothing_known = learn_times([])
    alone = whole_time(nothing_known, [RunOfStep(step=DRAW, planned_s=60.0)])
    steps = [RunOfStep(step=(*DRAW[:2], str(n), "hand"), planned_s=60.0) for n in range(50)]
    whole = whole_time(nothing_known, steps)
    assert 0.5 < whole.spread / alone.spread < 1.0


def test_a_step_that_took_longer_makes_the_order_longer_and_lends_to_the_one_beside_it() -> None:
    runs = [RunOfStep(step=DRAW, planned_s=60.0), RunOfStep(step=BEND, planned_s=60.0)]
    fresh = whole_time(learn_times([]), runs)
    slow = whole_time(learn_times(records(DRAW, 150.0, 6)), runs)
    assert slow.centre_s > 1.5 * fresh.centre_s
    assert slow.known == 1


def test_an_order_without_such_work_takes_no_time() -> None:
    assert whole_time(learn_times([]), []).centre_s == 0
