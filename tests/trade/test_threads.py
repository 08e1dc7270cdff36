"""Threads by the names that smiths call them."""

from __future__ import annotations

import pytest

from forgelog.trade import thread_tables
from forgelog.trade.errors import SumError
from forgelog.trade.threads import ThreadError, special_thread, thread


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("M12", "M12"),
        ("m 12", "M12"),
        ("M12x1.75", "M12"),
        ("M12 × 1.25", "M12 x 1.25"),
        ("1/2 UNC", "1/2 UNC"),
        ("1/2-13", "1/2 UNC"),
        ("1/2-20", "1/2 UNF"),
        ('1/2" BSW', "1/2 BSW"),
        ("3/8 in Whitworth", "3/8 BSW"),
        ("½-12", "1/2 BSW"),
        ("1 1/8 UNC", "1-1/8 UNC"),
        ("no. 10-32", "#10 UNF"),
    ],
)
def test_threads_as_smiths_write_them_are_found(text: str, name: str) -> None:
    assert thread(text).name == name


@pytest.mark.parametrize(
    ("text", "problem", "hint"),
    [
        ("M13", "is not a size of the metric series", "M12"),
        ("M15", "has no coarse pitch", "M15 x 1.5"),
        ("M12x2", "has a pitch of 2 mm", ""),
        ("1/2", "does not say which series", ""),
        ("9/16-12", "does not say which series", ""),
        ("1/2-12 UNC", "has 12 threads an inch", "1/2 UNC"),
        ("5/16 XYZ", 'is of "xyz"', ""),
        ("11/16 UNC", "is not a size of UNC", ""),
        ("19/64 UNC", "is not a size of the inch series", ""),
        ("twelve", "is no thread", ""),
        ("", "is no thread", ""),
        ("M" + "1" * 70, "is longer than 60", ""),
    ],
)
def test_a_thread_that_is_none_is_refused_in_plain_words(
    text: str, problem: str, hint: str
) -> None:
    with pytest.raises(ThreadError) as caught:
        thread(text)
    assert problem in caught.value.problem
    assert caught.value.hint == hint


def _every_thread() -> list[str]:
    metric = [f"M{size:g}" for size, row in thread_tables.METRIC.items() if row.pitch_mm]
    fine = [f"M{s:g} x {p:g}" for s, row in thread_tables.METRIC.items() for p in row.fine_mm]
    inch = [f"{size} {series}" for series, rows in thread_tables.INCH.items() for size in rows]
    return metric + fine + inch


@pytest.mark.parametrize("name", _every_thread())
def test_every_thread_of_the_tables_hangs_together(name: str) -> None:
    one = thread(name)
    assert one.name == name
    assert (
        one.root_mm <= one.minor_mm < one.pitch_diameter_mm < one.rod_before_die_mm < one.major_mm
    )
    # a hole drilled for the tap is nearly the minor diameter, never below it by more than a hair
    assert (
        one.minor_mm - 0.02 * one.major_mm < one.tap_drill_mm < one.minor_mm + 0.45 * one.pitch_mm
    )
    if one.clearance_mm is not None:
        close, medium, coarse = one.clearance_mm
        assert one.major_mm < close < medium < coarse
    if one.nut_across_mm is not None and one.nut_height_mm is not None:
        # nuts of machine screws are wide and low
        wide, low = (2.7, 0.6) if name.startswith("#") else (2.1, 0.75)
        assert 1.3 * one.major_mm < one.nut_across_mm < wide * one.major_mm
        assert low * one.major_mm < one.nut_height_mm < one.major_mm


@pytest.mark.parametrize("size", range(1, 65))
def test_any_metric_size_can_be_had_by_its_pitch(size: int) -> None:
    pitch = min(1.0, size / 5)
    one = special_thread(float(size), pitch)
    assert one.major_mm == size
    assert one.pitch_mm == pitch
    assert one.minor_mm - 0.1 < one.tap_drill_mm < one.major_mm


def test_a_size_and_pitch_of_the_tables_is_the_thread_of_the_tables() -> None:
    assert special_thread(12.0, 1.75) == thread("M12")
    assert not special_thread(13.0, 1.25).listed


def test_a_pitch_that_would_cut_the_core_away_is_refused() -> None:
    with pytest.raises(SumError, match="too coarse"):
        special_thread(4.0, 3.0)
