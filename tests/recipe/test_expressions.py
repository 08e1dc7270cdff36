"""Dimensions as sums over sizes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.expressions import GREATEST_MM, is_unit, temperature_of, worked_out
from forgelog.recipe.problems import Fault

SIZES = {"post": 100.0, "washer": 3.0, "leaf_wide": 24.0}


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12.0),
        ("1 1/8 in", 28.575),
        ("1-1/8 in", 28.575),
        ('3/8"', 9.525),
        ("2 ft 3 in", 685.8),
        ("post", 100.0),
        ("post + washer + 10 mm + 3.5 mm + 3 mm", 119.5),
        ("post - washer - 2 mm", 95.0),
        ("2 * post", 200.0),
        ("post * 0.3", 30.0),
        ("post / 2 + 3/8 in", 59.525),
        ("1/2 * post", 50.0),
        ("(post - 4 mm) / 2", 48.0),
        ("2 * (post + (washer - 1 mm))", 204.0),
        ("post - 1-1/8 in", 71.425),
        ("2 ft 3 in - 1 mm", 684.8),
        ("post × 2 − 1 mm", 199.0),
        ("½ in + leaf_wide", 36.7),
    ],
)
def test_a_sum_comes_to_its_length(text: str, mm: float) -> None:
    assert worked_out(text, SIZES) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "found", "hint"),
    [
        ("", "is empty", ""),
        ("pots + 1 mm", 'has "pots", which is no size of this recipe', 'did you mean "post"?'),
        ("post-10 mm", "has a minus without a space", 'did you mean "post - 10 mm"?'),
        ("post +10 mm", "has a plus without a space", 'did you mean "post + 10 mm"?'),
        ("2 post", 'is "2 post"', 'did you mean "2 * post"?'),
        ("12", 'is "12", which has no unit', 'did you mean "12 mm"?'),
        ("12,5 mm", 'is "12,5 mm", which has a comma', 'did you mean "12.5 mm"?'),
        ("12 mmm", 'is "12 mmm", which has "mmm"', 'did you mean "12 mm"?'),
        ("post + 3", "adds a length and a plain number", ""),
        ("post * washer", "multiplies a length by a length", ""),
        ("post / washer", "divides by a length", ""),
        ("post / 0", "divides by nothing", ""),
        ("1/0 in", "divides by nothing", ""),
        ("(post", 'where a ")" is missing', ""),
        ("post)", 'where a ")" has no "("', ""),
        ("post +", "ends too soon", ""),
        ("post washer", 'goes on with "washer"', ""),
        ("washer - post", "comes to -97 mm", ""),
        ("post - 100 mm", "comes to 0 mm", ""),
        ("21 m", "more than 20 m", ""),
        ("9999 * post", "more than 20 m", ""),
        ("post + 12 degC", "has a temperature in it", ""),
        ("(" * 13 + "post" + ")" * 13, "parentheses 13 deep", ""),
        ("1 mm + " * 40 + "1 mm", "has 284 letters", ""),
        ("post; 1 mm", 'goes on with "; 1 mm"', ""),
        ("__import__", "no size of this recipe", ""),
    ],
)
def test_what_is_wrong_with_a_sum_is_said_with_the_nearest_right_spelling(
    text: str, found: str, hint: str
) -> None:
    fault = worked_out(text, SIZES)
    assert isinstance(fault, Fault)
    assert found in fault.found
    assert fault.hint == hint


def test_nothing_is_a_fair_answer_only_where_it_is_asked_for() -> None:
    assert worked_out("0 mm", {}, zero=True) == 0.0
    assert isinstance(worked_out("0 mm", {}), Fault)
    assert isinstance(worked_out("washer - post", SIZES, zero=True), Fault)
    assert worked_out("washer - post", SIZES, signed=True) == pytest.approx(-97.0)


def test_a_size_that_is_no_number_is_passed_on_and_not_reported_twice() -> None:
    value = worked_out("post + 1 mm", {"post": math.nan})
    assert isinstance(value, float)
    assert math.isnan(value)


@given(st.text(max_size=220))
def test_any_text_is_a_length_or_a_fault(text: str) -> None:
    value = worked_out(text, SIZES)
    if isinstance(value, Fault):
        assert value.found
    else:
        assert 0 < value <= GREATEST_MM


@given(st.text("()+-*/ 0123456789.poswahermin\"'½", max_size=40))
def test_any_heap_of_signs_is_a_length_or_a_fault(text: str) -> None:
    value = worked_out(text, SIZES)
    assert isinstance(value, Fault) or 0 < value <= GREATEST_MM


@given(st.integers(1, 500), st.integers(1, 500), st.integers(1, 9), st.integers(1, 9))
def test_sums_follow_the_rules_of_reckoning(a: int, b: int, times: int, by: int) -> None:
    value = worked_out(f"a + {times} * b / {by}", {"a": float(a), "b": float(b)})
    assert value == pytest.approx(a + times * b / by)
    twice = worked_out(f"(a + b) * {times} - a", {"a": float(a), "b": float(b)}, signed=True)
    assert twice == pytest.approx((a + b) * times - a)


@pytest.mark.parametrize("name", ["mm", "in", "m", "ft", "degC", "h", "min", "kg", "inch"])
def test_a_unit_is_known_for_a_unit(name: str) -> None:
    assert is_unit(name)


@pytest.mark.parametrize("name", ["post", "leaf_wide", "wall", "inn"])
def test_the_name_of_a_size_is_no_unit(name: str) -> None:
    assert not is_unit(name)


def test_a_temperature_in_braces_is_told_from_a_length() -> None:
    assert temperature_of("900 degC") == 900.0
    assert temperature_of("1652 °F") == pytest.approx(900.0)
    assert temperature_of("900 mm") is None
    assert temperature_of("leg + 1 mm") is None
