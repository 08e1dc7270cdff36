"""Steels by the names that smiths call them."""

from __future__ import annotations

import pytest

from forgelog.trade.critical import same_temper_degc, temper_parameter
from forgelog.trade.errors import SumError
from forgelog.trade.steels import (
    SteelError,
    critical_of,
    find_grade,
    grade,
    grades,
    hardenable,
    temper_hrc,
    through_degc,
)


@pytest.mark.parametrize(
    ("name", "grade_id"),
    [
        ("mild", "mild"),
        ("Mild Steel", "mild"),
        ("S275JR", "mild"),
        ("AISI 1045", "1045"),
        ("c 45", "C45"),
        ("O-1", "O1"),
        ("o1 steel", "O1"),
        ("1075/1080", "1080"),
        ("42CrMo4", "4140"),
        ("unknown", "unknown"),
    ],
)
def test_a_steel_is_found_by_any_of_its_spellings(name: str, grade_id: str) -> None:
    assert grade(name).id == grade_id


def test_a_steel_that_is_not_in_the_table_gets_the_nearest_name() -> None:
    with pytest.raises(SteelError) as caught:
        grade("1048")
    assert caught.value.hint in ("1018", "1045", "1084")
    assert find_grade("moon metal") is None
    assert find_grade("") is None


def test_unknown_steel_locks_hardening() -> None:
    assert hardenable("mild") is False
    assert hardenable("5160") is True
    assert hardenable("unknown") is None
    assert hardenable("moon metal") is None


@pytest.mark.parametrize("one", grades(), ids=lambda one: one.id)
def test_the_figures_of_a_steel_hang_together(one) -> None:  # type: ignore[no-untyped-def]
    spans = (one.start, one.stop, one.normalise, one.harden, one.temper)
    for span in spans:
        if span is not None:
            assert span.low <= span.high
            assert span.source
    if one.id != "unknown":
        assert one.start is not None
        assert one.stop is not None
        assert one.stop.high < one.start.low
    if one.hardenable:
        assert one.harden is not None
        assert one.quench
        assert one.quench_source
        assert one.temper is not None
        assert one.temper.high < one.harden.low
    both = critical_of(one)
    if both is not None and one.normalise is not None:
        assert both.ac1.low < both.ac1.high <= both.ac3.high
        # a normalising heat is above the change by most of the formulas
        assert one.normalise.high > both.ac3.high


def test_air_hardening_steel_and_stainless_are_outside_normalising() -> None:
    assert grade("H13").air_hardening
    assert through_degc("H13") is None
    assert through_degc("304") is None
    assert through_degc("unknown") is None
    assert through_degc("1045") == pytest.approx(785, abs=5)


def test_hardness_after_a_temper_is_a_span_where_tables_differ() -> None:
    # 1095 at 205 degC: 58 by one table, 62 to 63 by another
    found = temper_hrc(grade("1095"), 205)
    assert found is not None
    assert found.low == pytest.approx(58, abs=0.5)
    assert found.high == pytest.approx(62.5, abs=0.5)
    assert ";" in found.source
    assert temper_hrc(grade("1095"), 900) is None
    assert temper_hrc(grade("mild"), 205) is None


def test_a_temper_of_no_time_has_no_answer() -> None:
    with pytest.raises(SumError, match="the time is 0 s"):
        temper_parameter(200, 0)
    with pytest.raises(SumError, match="the time is 0 s"):
        same_temper_degc(200, 3600, 0)
