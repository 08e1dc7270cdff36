"""The first guess at heats where it has no answer, and what it promises."""

from __future__ import annotations

import pytest

from forgelog.trade.errors import SumError
from forgelog.trade.flow import flow_stress_mpa
from forgelog.trade.heats import (
    draw_heats,
    flatten_heats,
    punch_heats,
    spread_ratio,
    struck_mm,
    upset_heats,
)
from forgelog.trade.sections import parse_section as bar


def test_more_work_is_more_heats_and_a_striker_saves_some() -> None:
    short = draw_heats(bar("16 mm square"), bar("10 mm square"), 50)
    long = draw_heats(bar("16 mm square"), bar("10 mm square"), 200)
    helped = draw_heats(bar("16 mm square"), bar("10 mm square"), 200, "striker")
    assert short.expected < helped.expected < long.expected
    assert not long.at_least


def test_there_is_always_one_heat_at_least() -> None:
    assert punch_heats(bar("20 mm square"), 2).heats == 1


def test_a_press_is_taken_like_the_power_hammer() -> None:
    work = (bar("16 mm square"), bar("10 mm square"), 100.0)
    assert draw_heats(*work, "press").blows == draw_heats(*work, "power").blows


def test_a_flat_is_struck_on_its_broad_side() -> None:
    assert struck_mm(bar("40 x 8 mm flat")) == struck_mm(bar("8 x 40 mm flat")) == 8


def test_work_that_cannot_be_is_refused_in_plain_words() -> None:
    thick, thin = bar("16 mm square"), bar("10 mm square")
    with pytest.raises(SumError, match="smaller, not larger"):
        draw_heats(thin, thick, 100)
    with pytest.raises(SumError, match="shorter, not longer"):
        upset_heats(thin, 40, 60)
    with pytest.raises(SumError, match="thinner, not thicker"):
        flatten_heats(thin, bar("20 x 12 mm flat"), 60)
    with pytest.raises(SumError, match="the length is 0 mm"):
        draw_heats(thick, thin, 0)
    with pytest.raises(SumError, match='the method "mule"'):
        draw_heats(thick, thin, 100, "mule")


def test_the_flow_stress_ends_where_its_fit_ends() -> None:
    with pytest.raises(SumError, match="from 700 to 1300"):
        flow_stress_mpa(20, 0.2, 0.5, 10)
    with pytest.raises(SumError, match=r"1\.2 % carbon"):
        flow_stress_mpa(1000, 2.0, 0.5, 10)
    with pytest.raises(SumError, match="below the range"):
        flow_stress_mpa(720, 0.05, 0.5, 10)
    assert flow_stress_mpa(1000, 0.2, 5.0, 10) == flow_stress_mpa(1000, 0.2, 0.7, 10)


def test_a_long_bite_spreads_more_than_a_short_one() -> None:
    assert spread_ratio(20, 10, 20, 15) < spread_ratio(20, 20, 20, 15)
    assert spread_ratio(20, 20, 20, 20) == 1.0
    # at b/w 0.58 a third of the thickness goes into width: 1/(1-S) = 1.5
    assert spread_ratio(100, 58, 2.718281828, 1.0) == pytest.approx(
        2.718281828 ** (1 / 3), rel=0.01
    )
    with pytest.raises(SumError, match="outside the rule"):
        spread_ratio(10, 40, 20, 15)
