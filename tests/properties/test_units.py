"""What must hold of every quantity."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.units import UnitError, parse_length, parse_quantity, show_length, write_length
from tests.properties.strategies_trade import lengths_mm


@given(lengths_mm)
def test_a_written_length_is_read_back_the_same(mm: float) -> None:
    assert parse_length(write_length(mm)) == mm


@given(st.integers(0, 400), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_mixed_number_is_its_whole_and_its_fraction(whole: int, num: int, den: int) -> None:
    num %= den
    mm = (whole * den + num) * 254 / (10 * den)
    assert parse_length(f"{whole} {num}/{den} in") == mm
    assert parse_length(f"{whole}-{num}/{den} in") == mm


@given(lengths_mm.filter(lambda mm: 1 < mm < 9e6), st.sampled_from(["mm", "inch"]), st.booleans())
def test_a_shown_length_is_read_back_close(mm: float, system: str, fine: bool) -> None:
    near = parse_length(show_length(mm, system, fine=fine))
    assert abs(near - mm) <= 25.4 / 32 + 1e-6 * mm


@given(st.text(alphabet="0123456789 ./-'\"½mincftdegCFshkozlb°+,:\x00é", max_size=70))
@settings(max_examples=400)
def test_any_text_is_a_quantity_or_refused_in_words(text: str) -> None:
    refused: UnitError | None = None
    try:
        quantity = parse_quantity(text)
    except UnitError as error:
        refused = error
    if refused is None:
        assert quantity.kind in ("length", "temperature", "time", "mass")
        assert abs(quantity.value) <= 1e8
        return
    assert refused.problem
    assert refused.expected
    assert len(str(refused)) < 400
    if refused.hint:
        parse_quantity(refused.hint)


@given(
    st.decimals(min_value=0, max_value=1000, places=3),
    st.sampled_from(["mm", "cm", "m", "in", "ft", "s", "min", "h", "kg", "g", "lb", "oz"]),
)
@settings(max_examples=60)
def test_a_general_units_library_reads_the_same(number: object, unit: str) -> None:
    pint = pytest.importorskip("pint")
    base = {"length": "mm", "time": "s", "mass": "kg"}
    ours = parse_quantity(f"{number} {unit}")
    theirs = pint.application_registry.get()(f"{number} {unit}").to(base[ours.kind]).magnitude
    assert ours.value == pytest.approx(float(theirs), rel=1e-12)
