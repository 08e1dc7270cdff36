"""Shop time out of two clocks."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from forgelog.work.moments import Moment, Stamp, advance, start

BEGIN = Stamp(wall=1_790_000_000.0, steady=100.0, awake=100.0, boot="a")


def later(
    wall_s: float, steady_s: float, awake_s: float, *, boot: str = "a", sleeps: bool = True
) -> Stamp:
    """Clock readings after BEGIN."""
    return Stamp(
        wall=BEGIN.wall + wall_s,
        steady=BEGIN.steady + steady_s,
        awake=BEGIN.awake + awake_s,
        boot=boot,
        sleeps=sleeps,
    )


def passed(stamp: Stamp, *, paused: bool = False) -> tuple[float, float, str]:
    """Rest and work seconds since BEGIN, and the mark."""
    begun = start(BEGIN)
    then = advance(begun, BEGIN, stamp, paused=paused)
    return then.rest_s - begun.rest_s, then.work_s - begun.work_s, then.mark


def test_an_hour_at_the_fire_is_an_hour_of_rest_and_of_work() -> None:
    assert passed(later(3600.5, 3600, 3600)) == (3600, 3600, "")


def test_a_laptop_that_slept_rests_on_but_does_not_work() -> None:
    assert passed(later(3600, 3600, 600)) == (3600, 600, "slept")


def test_where_no_clock_counts_sleep_the_wall_tells_how_long_it_was() -> None:
    assert passed(later(3600, 600, 600, sleeps=False)) == (3600, 600, "slept")


def test_a_clock_that_was_set_back_does_not_shorten_a_rest() -> None:
    assert passed(later(-3000, 600, 600)) == (600, 600, "clock set")


def test_a_clock_that_was_set_forward_does_not_lengthen_a_rest() -> None:
    assert passed(later(4200, 600, 600)) == (600, 600, "clock set")


def test_over_a_power_cut_only_the_wall_is_left_and_no_work_is_counted() -> None:
    assert passed(later(900, -50, -50, boot="b")) == (900, 0, "power was off")


def test_a_clock_that_ran_backwards_over_a_power_cut_takes_no_time_away() -> None:
    assert passed(later(-900, 5, 5, boot="b")) == (0, 0, "power was off")


def test_a_pause_stops_work_and_not_rests() -> None:
    assert passed(later(600, 600, 600), paused=True) == (600, 0, "")


@given(
    st.floats(-1e6, 1e6),
    st.floats(-1e6, 1e6),
    st.floats(-1e6, 1e6),
    st.sampled_from(["a", "b"]),
    st.booleans(),
    st.booleans(),
)
def test_shop_time_never_runs_backwards(
    wall: float, steady: float, awake: float, boot: str, sleeps: bool, paused: bool
) -> None:
    stamp = later(wall, steady, awake, boot=boot, sleeps=sleeps)
    then = advance(Moment(rest_s=0.0), BEGIN, stamp, paused=paused)
    assert then.rest_s >= 0
    assert then.work_s >= 0
    assert then.work_s <= max(then.rest_s, 0.0) + 2.0
