"""Learnt times, with the place in the run taken out."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.heats import StepKey
from forgelog.learn.minutes import TimeRecord, learn_times, run_factor

DRILL: StepKey = ("hinge", "strap", "drill", "")


def _run(pieces: int, steady_s: float, planned_s: float = 600.0) -> list[TimeRecord]:
    return [
        TimeRecord(step=DRILL, taken_s=steady_s * run_factor(k), planned_s=planned_s, run=k)
        for k in range(1, pieces + 1)
    ]


def test_the_first_piece_takes_twice_the_steady_time_and_the_sixth_is_nearly_steady() -> None:
    shown = [round(run_factor(k), 2) for k in range(1, 7)]
    assert shown == [2.00, 1.35, 1.19, 1.12, 1.09, 1.07]


def test_without_records_the_plan_is_the_centre() -> None:
    steady = learn_times([]).ask(DRILL, 600.0)
    assert steady.centre_s == pytest.approx(600.0)
    assert (steady.low_s / 600.0, steady.high_s / 600.0) == pytest.approx(
        (1.47 / 4, 10.90 / 4), abs=0.002
    )
    assert steady.records == 0


def test_a_run_as_slow_as_planned_teaches_the_plan_and_not_its_slow_first_piece() -> None:
    steady = learn_times(_run(6, 600.0)).ask(DRILL, 600.0)
    assert steady.centre_s == pytest.approx(600.0)
    blind = sum(r.taken_s for r in _run(6, 600.0)) / 6
    assert blind > 1.3 * 600.0


def test_one_single_first_piece_is_divided_too() -> None:
    alone = learn_times(_run(1, 900.0)).ask(DRILL, 600.0)
    assert 600.0 < alone.centre_s < 900.0
    assert alone.records == 1


def test_a_quote_counts_the_slow_pieces_of_its_run() -> None:
    steady = learn_times(_run(6, 600.0)).ask(DRILL, 600.0)
    assert steady.run_s(1, 1) == pytest.approx(2 * steady.centre_s)
    assert steady.run_s(1, 6) / steady.centre_s == pytest.approx(7.82, abs=0.01)
    assert steady.run_s(1, 6) == pytest.approx(steady.run_s(1, 2) + steady.run_s(3, 6))
    assert steady.run_s(4, 3) == 0.0


def test_dividing_by_the_curve_beats_a_plain_mean_on_simulated_runs() -> None:
    """Log-noise 0.15; what the first piece takes extra varies with a log-sd of 0.35."""
    rng = random.Random(20)
    ours: list[float] = []
    blind: list[float] = []
    for _ in range(400):
        extra = math.exp(rng.gauss(0.0, 0.35))
        taken = [
            600.0 * (1.0 + extra * k**-1.5) * math.exp(rng.gauss(0.0, 0.15)) for k in range(1, 7)
        ]
        records = [
            TimeRecord(step=DRILL, taken_s=s, planned_s=600.0, run=k)
            for k, s in enumerate(taken, 1)
        ]
        ours.append(learn_times(records).ask(DRILL, 600.0).centre_s / 600.0 - 1.0)
        blind.append(sum(taken) / 6 / 600.0 - 1.0)
    assert abs(sum(ours) / 400) < 0.05
    assert sum(blind) / 400 > 0.28
    assert sum(map(abs, ours)) / 400 < 0.10


@pytest.mark.parametrize(
    ("taken_s", "planned_s", "run"), [(0.0, 60.0, 1), (60.0, 0.0, 1), (60.0, 60.0, 0)]
)
def test_senseless_records_are_refused(taken_s: float, planned_s: float, run: int) -> None:
    with pytest.raises(ValueError, match=r"above 0 s|count from 1"):
        learn_times([TimeRecord(step=DRILL, taken_s=taken_s, planned_s=planned_s, run=run)])


@given(
    records=st.lists(
        st.builds(
            TimeRecord,
            step=st.just(DRILL),
            taken_s=st.floats(1.0, 1e5),
            planned_s=st.floats(10.0, 1e4),
            run=st.integers(1, 50),
        ),
        max_size=20,
    ),
    planned_s=st.floats(10.0, 1e4),
)
def test_the_ends_are_in_order(records: list[TimeRecord], planned_s: float) -> None:
    steady = learn_times(records).ask(DRILL, planned_s)
    assert 0.0 < steady.low_s < steady.centre_s < steady.high_s
