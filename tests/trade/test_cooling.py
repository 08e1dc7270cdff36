"""What the cooling and heating curves promise to the floor."""

from __future__ import annotations

import math
import timeit

import pytest

from forgelog.trade.cooling import (
    band,
    cold_degc,
    cooling_curve,
    window_s,
)
from forgelog.trade.errors import SumError
from forgelog.trade.heating import heating_curve, look_s, pieces_in_fire, reheat_s
from forgelog.trade.sections import parse_section

BAR = parse_section("12 mm square")


def test_a_curve_is_made_once_and_asked_in_no_time() -> None:
    curve = cooling_curve(BAR)
    assert cooling_curve(parse_section("12 mm square")) is curve
    # thirty pieces, four times a second, must be no load at all: 0.2 ms each is far too slow
    assert timeit.timeit(lambda: curve.degc_after(1100, 200), number=200) < 0.04
    assert timeit.timeit(lambda: curve.seconds(1100, 480), number=200) < 0.04


def test_a_curve_at_its_ends() -> None:
    curve = cooling_curve(BAR)
    assert curve.seconds(480, 480) == 0.0
    assert curve.seconds(480, 900) == 0.0
    assert curve.seconds(1150, 20) == math.inf
    assert curve.seconds(1150, 20.5) < math.inf
    assert curve.degc_after(1150, 0) == 1150
    assert curve.degc_after(1150, 1e9) == pytest.approx(20.25, abs=0.1)
    assert curve.degc_after(15, 100) == 15
    assert curve.seconds(1600, 480) == curve.seconds(1500, 480)


def test_hand_warm_depends_on_the_room() -> None:
    summer, winter = (cooling_curve(BAR, "still air", air) for air in (32.0, 5.0))
    assert summer.seconds(850, 45) > 1.4 * winter.seconds(850, 45)
    assert summer.seconds(850, 480) == pytest.approx(winter.seconds(850, 480), rel=0.03)


def test_work_shortens_the_window() -> None:
    windows = [window_s(BAR, method=method) for method in ("still air", "hand", "power")]
    assert windows == sorted(windows, reverse=True)
    assert window_s(BAR, method="striker") == window_s(BAR, method="hand")
    assert window_s(BAR, method="press") == window_s(BAR, method="power")
    assert window_s(BAR, 900, 890) == 0.0


def test_a_sheet_cools_by_both_faces() -> None:
    sheet = cooling_curve(parse_section("3 mm sheet"))
    strip = cooling_curve(parse_section("157 x 3 mm flat"))
    assert sheet.seconds(900, 480) == pytest.approx(strip.seconds(900, 480), rel=0.05)


def test_a_place_or_a_room_that_is_none_is_refused() -> None:
    with pytest.raises(SumError, match='no sum for "bucket"'):
        cooling_curve(BAR, "bucket")
    with pytest.raises(SumError, match="the air is 200 degC"):
        cooling_curve(BAR, "still air", 200.0)


def test_the_spread_is_narrow_hot_and_wide_near_hand_warm() -> None:
    hot, warm, bed = band(100, 480), band(100, 45), band(100, 480, "bed")
    assert (hot.low_s, hot.high_s) == pytest.approx((88, 112))
    assert (warm.low_s, warm.high_s) == pytest.approx((60, 140))
    assert (bed.low_s, bed.high_s) == (50, 200)
    assert band(100, 150).high_s == pytest.approx(112 + 28 * 100 / 205)


def test_cold_is_near_the_air_but_no_colder_than_25() -> None:
    assert cold_degc(5) == 25
    assert cold_degc(30) == 35


def test_a_fire_brings_no_bar_past_itself() -> None:
    with pytest.raises(SumError, match="a fire of 1280 degC does not bring a bar to 1300 degC"):
        reheat_s(BAR, 20, 1300, "gas")
    assert reheat_s(BAR, 900, 800) == 0.0
    assert reheat_s(BAR, 20, 1270, "gas") < math.inf
    with pytest.raises(SumError, match='a fire of "straw"'):
        reheat_s(BAR, 20, 900, "straw")
    with pytest.raises(SumError, match="the fire is 90 degC"):
        heating_curve(BAR, "gas", 90.0)


def test_a_hotter_fire_is_quicker() -> None:
    hot = heating_curve(BAR, "gas", 1350.0).seconds(20, 1150)
    assert hot < reheat_s(BAR, 20, 1150, "gas")
    assert look_s(BAR, 20, 1150) < reheat_s(BAR, 20, 1150)


def test_pieces_in_the_fire_are_one_and_the_reheat_over_the_work() -> None:
    assert pieces_in_fire(120, 40) == 4
    with pytest.raises(SumError):
        pieces_in_fire(120, 0)
