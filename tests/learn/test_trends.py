"""Trends: against second opinions, and never more than the record holds."""

from __future__ import annotations

import math
from functools import lru_cache

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from forgelog.learn.curves import FALSE_SHARE, LEAST_POINTS, Curve, learning_curves
from forgelog.learn.row_making import make_rows, session_rows
from forgelog.learn.rows import SessionRow, SpoiltRow, StepRow
from forgelog.learn.trends import (
    causes,
    hand_against_power,
    hours_of_day,
    sessions_used,
)
from forgelog.work.facts import DayEnded, EndCutOff, Scrapped
from tests.learn.shop import LEFT, RIGHT, Shop


@lru_cache(maxsize=1)
def one_step() -> StepRow:
    shop = Shop()
    shop.open_order()
    shop.forge(LEFT, "draw", 3)
    return make_rows(shop.state).steps[0]


def made(heats: int, *, step: str = "draw", **changes: object) -> StepRow:
    return msgspec.structs.replace(one_step(), heats=heats, step=step, **changes)  # type: ignore[arg-type]


def curve_of(heats: list[int]) -> Curve:
    return learning_curves([made(taken) for taken in heats])[0]


HEATS = st.lists(st.integers(1, 12), min_size=LEAST_POINTS, max_size=20)


@given(HEATS)
def test_the_curve_is_the_line_that_others_fit_to_the_logarithms(heats: list[int]) -> None:
    found = curve_of(heats)
    xs = [math.log(n) for n in range(1, len(heats) + 1)]
    other = stats.linregress(xs, [math.log(taken) for taken in heats])
    assert found.doubling is not None
    assert found.doubling.centre == pytest.approx(2.0**other.slope)
    wanted = [math.exp(other.intercept + other.slope * x) for x in xs]
    assert found.fitted == pytest.approx(wanted)
    if len(set(heats)) > 2 and other.stderr > 0.1:
        t = stats.t.ppf(0.9, len(heats) - 2)
        assert found.doubling.high == pytest.approx(2.0 ** (other.slope + t * other.stderr))
        assert found.p == pytest.approx(other.pvalue)


@given(HEATS)
def test_the_curve_lies_within_its_range_and_every_piece_is_told(heats: list[int]) -> None:
    found = curve_of(heats)
    assert found.heats == tuple(heats)
    for low, middle, high in zip(found.low, found.fitted, found.high, strict=True):
        assert 0.0 < low < middle < high


def test_of_three_pieces_no_curve_is_drawn() -> None:
    found = curve_of([5, 4, 3])
    assert (found.fitted, found.doubling, found.sure) == ((), None, False)


def test_a_step_that_falls_from_eight_heats_to_two_surely_falls() -> None:
    found = curve_of([8, 6, 5, 4, 4, 3, 3, 3, 2, 2])
    assert found.sure
    assert found.doubling is not None
    assert found.doubling.high < 1.0


def test_equal_counts_never_lean() -> None:
    assert not curve_of([2] * 12).sure


@given(st.lists(HEATS, min_size=1, max_size=12))
def test_among_many_steps_those_are_sure_that_others_would_pass(many: list[list[int]]) -> None:
    rows = [made(taken, step=f"s{i}") for i, heats in enumerate(many) for taken in heats]
    found = learning_curves(rows)
    adjusted = stats.false_discovery_control([curve.p for curve in found], method="bh")
    assert [curve.sure for curve in found] == [bool(p <= FALSE_SHARE + 1e-12) for p in adjusted]


def test_spoilt_pieces_and_handfuls_and_steps_done_again_draw_no_curve() -> None:
    for changes in ({"scrapped": True}, {"again": True}, {"lot": 6}, {"kind": "bench"}):
        assert learning_curves([made(2, **changes) for _ in range(5)]) == ()


def test_an_hour_is_held_against_the_same_step_and_not_against_easier_ones() -> None:
    slow = [made(1, step="upset", work_s=100.0, ended_s=8 * 3600.0 + i) for i in range(5)]
    slow += [made(1, step="upset", work_s=100.0, ended_s=14 * 3600.0 + i) for i in range(5)]
    quick = [made(1, step="vein", work_s=10.0, ended_s=14 * 3600.0 + i) for i in range(5)]
    quick += [made(1, step="vein", work_s=20.0, ended_s=15 * 3600.0 + i) for i in range(5)]
    hours = {one.hour: one for one in hours_of_day([*slow, *quick], {})}
    assert hours[8].usual.centre == pytest.approx(1.0)
    assert hours[8].heat_s.centre == pytest.approx(100.0)
    assert hours[15].usual.centre == pytest.approx(math.sqrt(2.0))
    assert set(hours) == {8, 14, 15}


def test_the_clock_on_the_wall_gives_the_hour() -> None:
    rows = [made(1, work_s=10.0, session="s", ended_s=h * 3600.0) for h in (22.0, 23.0)]
    assert [one.hour for one in hours_of_day(rows, {"s": 90})] == [0, 23]


def test_a_step_made_in_one_hour_alone_says_nothing_of_hours() -> None:
    assert hours_of_day([made(1, work_s=10.0) for _ in range(5)], {}) == ()


def session(shop: Shop, heats: int, worked_s: float) -> SessionRow:
    (row,) = session_rows(shop.state.sessions, {"s1": heats}, {"s1": worked_s})
    return row


def test_fire_and_hands_are_what_the_steps_took_of_the_session() -> None:
    shop = Shop()
    shop.open_order()
    shop.forge(LEFT, "draw", 2)
    shop.press(600.0, DayEnded())
    rows = make_rows(shop.state)
    (use,) = sessions_used([session(shop, 2, 600.0)], rows.steps)
    # Two heats of 30 s in hand, each with 120 s in the fire before it; 5 s to put it in.
    assert use.idle_share == pytest.approx(1.0 - 60.0 / 600.0)
    assert use.in_fire == pytest.approx(240.0 / 305.0)


def test_of_a_session_without_a_step_nothing_is_known() -> None:
    shop = Shop()
    shop.open_order()
    (use,) = sessions_used([session(shop, 0, 600.0)], ())
    assert (use.in_fire, use.idle_share) == (None, None)


def test_causes_are_counted_whatever_their_letters_the_most_frequent_first() -> None:
    shop = Shop()
    shop.open_order()
    shop.forge(LEFT, "draw", 3)
    shop.press(5.0, EndCutOff(workpiece=LEFT, why="burnt"))
    shop.press(5.0, EndCutOff(workpiece=LEFT, why="Burnt"))
    shop.press(5.0, Scrapped(workpiece=RIGHT, why="cracked"))
    rows: tuple[SpoiltRow, ...] = make_rows(shop.state).spoilt
    assert [(cause.why, cause.times) for cause in causes(rows)] == [("Burnt", 2), ("cracked", 1)]
    assert causes(()) == ()


@given(
    st.lists(st.floats(5.0, 500.0), min_size=2, max_size=12),
    st.lists(st.floats(5.0, 500.0), min_size=2, max_size=12),
)
def test_hand_against_power_is_the_comparison_that_others_make(
    hand: list[float], power: list[float]
) -> None:
    rows = [made(2, work_s=s, method="hand") for s in hand]
    rows += [made(1, work_s=s, method="power") for s in power]
    (pair,) = hand_against_power(rows)
    logs = [math.log(s) for s in hand], [math.log(s) for s in power]
    assert pair.times.centre == pytest.approx(
        math.exp(math.fsum(logs[0]) / len(hand) - math.fsum(logs[1]) / len(power))
    )
    if min(max(h) - min(h) for h in logs) > 0.01:
        other = stats.ttest_ind(*logs, equal_var=False).confidence_interval(0.8)
        assert pair.times.low == pytest.approx(math.exp(other.low), rel=1e-6)
        assert pair.times.high == pytest.approx(math.exp(other.high), rel=1e-6)


def test_one_piece_by_power_is_no_comparison() -> None:
    rows = [made(2, work_s=30.0) for _ in range(3)] + [made(1, work_s=9.0, method="power")]
    assert hand_against_power(rows) == ()
