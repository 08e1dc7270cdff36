from __future__ import annotations

import time

import pytest

from forgelog.desk.clock import FakeClock, PracticeClock, RealClock, boot_id, local_offset_min
from forgelog.work.apply import now
from forgelog.work.moments import advance, start
from forgelog.work.state import State


def test_the_real_clock_reads_what_the_machine_has() -> None:
    before = time.time()
    stamp = RealClock().stamp()
    assert before - 0.01 <= stamp.wall <= time.time() + 0.01
    assert stamp.steady > 0
    assert stamp.boot == RealClock().stamp().boot == boot_id() or stamp.boot.startswith("run-")
    later = RealClock().stamp()
    assert later.steady >= stamp.steady
    assert later.awake >= stamp.awake


@pytest.mark.skipif(not hasattr(time, "CLOCK_BOOTTIME"), reason="needs a clock of suspend")
def test_the_steady_clock_counts_suspend_where_there_is_such_a_clock() -> None:
    stamp = RealClock().stamp()
    assert stamp.sleeps
    assert stamp.steady == pytest.approx(time.clock_gettime(time.CLOCK_BOOTTIME), abs=1.0)
    assert stamp.awake == pytest.approx(time.clock_gettime(time.CLOCK_MONOTONIC), abs=1.0)


@pytest.mark.parametrize(
    ("zone", "minutes"), [("UTC", 0), ("Asia/Kolkata", 330), ("America/St_Johns", -210)]
)
def test_local_time_is_told_as_minutes_from_utc(
    monkeypatch: pytest.MonkeyPatch, zone: str, minutes: int
) -> None:
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        assert local_offset_min(1769760900.0) == minutes
    finally:
        monkeypatch.undo()
        time.tzset()


def test_a_practice_clock_runs_all_its_hands_faster() -> None:
    under = FakeClock()
    clock = PracticeClock(20.0, under)
    first = clock.stamp()
    assert first == under.stamp()
    under.go_on(3.0)
    second = clock.stamp()
    assert (second.wall, second.steady, second.awake) == (
        first.wall + 60.0,
        first.steady + 60.0,
        first.awake + 60.0,
    )
    assert advance(start(first), first, second, paused=False).rest_s == first.wall + 60.0


def test_a_practice_clock_goes_on_where_the_practice_was_left() -> None:
    under = FakeClock()
    clock = PracticeClock(20.0, under)
    under.go_on(600.0)
    left = clock.stamp()
    again = PracticeClock(20.0, under, start=left)
    assert again.stamp() == left
    under.go_on(1.0)
    assert again.stamp().wall == left.wall + 20.0


@pytest.mark.parametrize("speed", [0.0, -1.0, float("inf"), float("nan")])
def test_a_practice_clock_needs_a_speed(speed: float) -> None:
    with pytest.raises(ValueError, match="practice clock"):
        PracticeClock(speed)


def test_the_made_up_clock_can_do_what_real_ones_do() -> None:
    clock = FakeClock()
    first = clock.stamp()
    state = State(stamp=first, moment=start(first))
    clock.go_on(10.0)
    assert now(state, clock.stamp()).work_s == 10.0
    clock.sleep(100.0)
    slept = now(state, clock.stamp())
    assert (slept.rest_s - first.wall, slept.work_s, slept.mark) == (110.0, 10.0, "slept")
    clock.set_wall(-3600.0)
    assert now(state, clock.stamp()).mark == "clock set"
    clock.start_again(60.0)
    assert now(state, clock.stamp()).mark == "power was off"
