"""What must hold of every cooling and heating curve."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.trade.cooling import cooling_curve
from forgelog.trade.heating import heating_curve
from forgelog.trade.rests import WORDS, rest_verdict
from forgelog.trade.sections import Section
from forgelog.trade.steel_heat import degc_at, enthalpy, specific_heat
from tests.properties.strategies_trade import sections

temperatures = st.floats(60, 1340)
media = st.sampled_from(["still air", "draught", "bed", "hand", "power"])


@given(st.floats(-50, 1500))
def test_enthalpy_turns_round(degc: float) -> None:
    assert degc_at(enthalpy(degc)) == pytest.approx(degc, abs=0.02)


@given(st.floats(0, 1300))
def test_enthalpy_is_the_sum_of_the_specific_heat(degc: float) -> None:
    # the mean of the specific heat over a tenth of a kelvin, steps of a thousandth
    total = sum(specific_heat(degc + (i + 0.5) / 1000) for i in range(100)) / 1000
    assert enthalpy(degc + 0.1) - enthalpy(degc) == pytest.approx(total, rel=2e-3)


@given(sections(), media, temperatures, st.floats(1, 20_000))
@settings(max_examples=60)
def test_what_a_bar_cools_to_takes_the_time_that_it_cooled(
    section: Section, medium: str, start: float, seconds: float
) -> None:
    curve = cooling_curve(section, medium)
    end = curve.degc_after(start, seconds)
    assert 20 < end < start
    if end > 21:
        assert curve.seconds(start, end) == pytest.approx(seconds, rel=1e-3, abs=0.02)


@given(sections(), media, temperatures, temperatures, temperatures)
@settings(max_examples=60)
def test_two_rests_in_a_row_are_one(
    section: Section, medium: str, a: float, b: float, c: float
) -> None:
    hot, warm, cool = sorted((a, b, c), reverse=True)
    curve = cooling_curve(section, medium)
    parts = curve.seconds(hot, warm) + curve.seconds(warm, cool)
    assert parts == pytest.approx(curve.seconds(hot, cool), rel=1e-6, abs=1e-6)


@given(st.sampled_from(["gas", "coke"]), sections(), st.floats(20, 1000), st.floats(1, 200))
@settings(max_examples=60)
def test_more_heat_takes_more_time(fire: str, section: Section, start: float, rise: float) -> None:
    curve = heating_curve(section, fire)
    assert 0 < curve.seconds(start, start + rise) < curve.seconds(start, start + rise + 10)


@given(
    sections(),
    st.floats(100, 1200),
    st.floats(0, 1e5),
    st.floats(0, 1e5),
    st.floats(21, 900),
    st.sampled_from(["still air", "draught", "bed"]),
)
@settings(max_examples=60)
def test_a_longer_rest_is_never_judged_harder(
    section: Section, start: float, a: float, b: float, required: float, medium: str
) -> None:
    order = ["skipped", "short", "unsure", "ok"]
    less, more = (
        rest_verdict(section, start, rested_s=rested, required_degc=required, medium=medium)
        for rested in sorted((a, b))
    )
    assert less.word in WORDS
    assert order.index(less.word) <= order.index(more.word)
