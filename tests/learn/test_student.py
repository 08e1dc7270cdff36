"""Student's t against printed tables and against another way of computing it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.student import quantile_90, two_sided_p

# Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.10, column A = 0.8.
PRINTED = {
    1: 3.078,
    2: 1.886,
    5: 1.476,
    8: 1.397,
    9: 1.383,
    10: 1.372,
    12: 1.356,
    15: 1.341,
    20: 1.325,
    25: 1.316,
    30: 1.310,
    40: 1.303,
    60: 1.296,
    120: 1.289,
}


@pytest.mark.parametrize(("df", "printed"), PRINTED.items())
def test_the_quantile_is_that_of_the_printed_table(df: int, printed: float) -> None:
    assert quantile_90(df) == pytest.approx(printed, abs=5.1e-4)


def test_the_quantile_goes_to_that_of_the_normal_distribution() -> None:
    assert quantile_90(1e7) == pytest.approx(1.281552, abs=1e-6)


def _series_p(t: float, df: int) -> float:
    """Abramowitz and Stegun 26.7.3 and 26.7.4: finite sums for whole degrees of freedom."""
    angle = math.atan(t / math.sqrt(df))
    sine, cosine = math.sin(angle), math.cos(angle)
    if df == 1:
        return 1.0 - 2.0 * angle / math.pi
    first = 1 if df % 2 == 0 else 2
    term = 1.0 if df % 2 == 0 else cosine
    total = term
    for k in range(first, df - 2, 2):
        term *= cosine * cosine * k / (k + 1)
        total += term
    within = sine * total if df % 2 == 0 else 2.0 / math.pi * (angle + sine * total)
    return 1.0 - within


@given(t=st.floats(0.0, 8.0), df=st.integers(1, 60))
def test_the_chance_is_that_of_the_finite_sums(t: float, df: int) -> None:
    assert two_sided_p(t, df) == pytest.approx(_series_p(t, df), abs=1e-12)


@pytest.mark.parametrize(("t", "df"), [(0.3, 8.7), (1.4, 11.25), (2.6, 17.9), (3.9, 8.01)])
def test_the_chance_is_the_area_under_the_curve_for_broken_degrees_too(t: float, df: float) -> None:
    front = math.exp(math.lgamma((df + 1) / 2) - math.lgamma(df / 2)) / math.sqrt(df * math.pi)
    parts = 4000
    width = t / parts
    heights = [(1 + (i * width) ** 2 / df) ** (-(df + 1) / 2) for i in range(parts + 1)]
    simpson = heights[0] + heights[-1] + 4 * sum(heights[1::2]) + 2 * sum(heights[2:-1:2])
    within = 2 * front * simpson * width / 3
    assert two_sided_p(t, df) == pytest.approx(1 - within, abs=1e-10)


@given(df=st.floats(1.0, 1e6))
def test_one_value_in_ten_lies_above_the_quantile(df: float) -> None:
    assert two_sided_p(quantile_90(df), df) == pytest.approx(0.20, abs=1e-9)


@given(df=st.floats(8.0, 5000.0), more=st.floats(0.01, 100.0))
def test_the_quantile_falls_as_records_are_added(df: float, more: float) -> None:
    assert quantile_90(df + more) < quantile_90(df) <= quantile_90(8.0)


def test_a_value_and_its_mirror_image_are_equally_far_out() -> None:
    assert two_sided_p(-2.58, 11) == two_sided_p(2.58, 11)
    assert two_sided_p(0.0, 11) == 1.0
    assert two_sided_p(math.inf, 11) == 0.0


@pytest.mark.parametrize("df", [0.0, -3.0, 0.5, math.nan])
def test_senseless_degrees_of_freedom_are_refused(df: float) -> None:
    with pytest.raises(ValueError, match="degrees of freedom"):
        quantile_90(df)
