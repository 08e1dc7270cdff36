"""Bends, scrolls, collars, upsets, gauges, bars and fuel against their sources."""

from __future__ import annotations

import pytest

from forgelog.trade.bars import bar_length_mm, bar_mass_kg, tolerance_mm
from forgelog.trade.bends import (
    bend_length_mm,
    bent_bar_mm,
    collar_length_mm,
    even_scroll_mm,
    helix_mm,
    opening_scroll_mm,
    sharp_corner_extra_mm,
    twist_edge_mm,
)
from forgelog.trade.fuel import blow_joules, drop_joules, fuel_kg, heat_kj
from forgelog.trade.gauges import gauge_mm, near_gauge, parse_gauge
from forgelog.trade.sections import parse_section as bar
from forgelog.trade.solids import solid_volume_mm3
from forgelog.trade.upset import MACHINE_LIMIT, upset_limit_mm, upset_of


# arc length of the Archimedean spiral, any mensuration table
@pytest.mark.parametrize(
    ("inner", "outer", "turns", "length"),
    [(10, 60, 2.5, 552.611), (8, 40, 1.75, 266.213), (5, 75, 3, 758.898)],
)
def test_an_even_scroll(inner: float, outer: float, turns: float, length: float) -> None:
    assert even_scroll_mm(inner, outer, turns) == pytest.approx(length, abs=0.001)


@pytest.mark.parametrize(
    ("inner", "outer", "turns", "length"), [(8, 40, 1.75, 220.951), (5, 75, 3, 492.242)]
)
def test_a_scroll_that_opens(inner: float, outer: float, turns: float, length: float) -> None:
    assert opening_scroll_mm(inner, outer, turns) == pytest.approx(length, abs=0.001)


def test_bends_on_the_centre_line() -> None:
    # U of 40 inside in 12 mm bar; right angle (pi/2)(r + t/2)
    assert bend_length_mm(20, 180, 12) == pytest.approx(81.681, abs=0.001)
    assert bend_length_mm(10, 90, 8) == pytest.approx(21.991, abs=0.001)
    # two legs of 100 outside, inside radius 10 in 8 mm: 2 (100 - 18) + 21.991
    assert bent_bar_mm((100, 100), 10, 8) == pytest.approx(185.991, abs=0.001)


def test_a_sharp_corner_takes_a_quarter_of_the_thickness() -> None:
    # FAO, Basic blacksmithing (Bulletin 88/1): 12 mm bar adds 3 a bend, 126 for 120 and two bends
    assert 120 + 2 * sharp_corner_extra_mm(12) == 126


def test_a_collar_a_helix_and_a_twist() -> None:
    assert collar_length_mm(24, 12, 5) == pytest.approx(87.708, abs=0.001)
    assert helix_mm(60, 120, 1) == pytest.approx(223.452, abs=0.001)
    assert twist_edge_mm(bar("12 mm square"), 100, 0) == 100
    assert twist_edge_mm(bar("12 mm square"), 100, 1) == pytest.approx(
        helix_mm(12 * 2**0.5, 100, 1)
    )


def test_bar_for_a_head_and_whether_it_buckles() -> None:
    # head 20 x 10 on 12 round: 27.778 mm, 2.315 d; ball 40 on 16 round: 166.667 mm, 10.417 d
    head = upset_of(solid_volume_mm3("round", {"across": 20.0, "long": 10.0}), bar("12 mm round"))
    assert (head.bar_mm, head.slenderness) == pytest.approx((27.778, 2.315), abs=0.001)
    assert head.at_once
    ball = upset_of(solid_volume_mm3("ball", {"across": 40.0}), bar("16 mm round"))
    assert (ball.bar_mm, ball.slenderness) == pytest.approx((166.667, 10.417), abs=0.001)
    assert not ball.at_once
    assert upset_limit_mm(bar("40 x 8 mm flat"), MACHINE_LIMIT) == 24


# BS 3737 as printed; ASTM B258
@pytest.mark.parametrize(
    ("table", "number", "mm", "tolerance"),
    [
        ("SWG", 5, 5.39, 0.012),
        ("SWG", 6, 4.877, 0.001),
        ("SWG", 7, 4.47, 0.012),
        ("SWG", 8, 4.06, 0.012),
        ("SWG", 10, 3.25, 0.012),
        ("SWG", 12, 2.64, 0.012),
        ("SWG", 13, 2.34, 0.012),
        ("SWG", 14, 2.03, 0.012),
        ("SWG", 15, 1.83, 0.012),
        ("SWG", 18, 1.219, 0.012),
        ("AWG", 4, 5.189, 0.001),
        ("AWG", 6, 4.115, 0.001),
        ("AWG", 8, 3.264, 0.001),
        ("AWG", 12, 2.053, 0.001),
        ("AWG", 14, 1.628, 0.001),
        # US Manufacturers' Standard Gauge (from memory)
        ("US", 16, 0.0598 * 25.4, 0.001),
        ("US", 14, 0.0747 * 25.4, 0.001),
        ("US", 11, 0.1196 * 25.4, 0.001),
        ("US", 10, 0.1345 * 25.4, 0.001),
        ("US", 7, 0.1793 * 25.4, 0.001),
    ],
)
def test_wire_and_sheet_gauges(table: str, number: int, mm: float, tolerance: float) -> None:
    assert gauge_mm(number, table) == pytest.approx(mm, abs=tolerance)
    assert near_gauge(mm, table) == number
    assert parse_gauge(f"{number} {table}") == gauge_mm(number, table)


# EN 10059 table 2, EN 10058 table 2; EN 10060 table 1 (from memory)
@pytest.mark.parametrize(
    ("text", "off"),
    [
        ("12 mm square", (0.4,)),
        ("20 mm square", (0.5,)),
        ("30 mm square", (0.6,)),
        ("60 mm square", (1.0,)),
        ("100 mm square", (1.3,)),
        ("40 x 8 mm flat", (0.75, 1.0)),
        ("75 x 10 mm flat", (1.0, 1.0)),
        ("100 x 20 mm flat", (1.5, 1.0)),
        ("140 x 20 mm flat", (2.5, 1.0)),
        ("16 mm round", (0.5,)),
        ("100 mm round", (1.3,)),
        ("10 mm hexagon", None),
        ("250 mm round", None),
    ],
)
def test_how_far_a_rolled_bar_may_be_off(text: str, off: tuple[float, ...] | None) -> None:
    assert tolerance_mm(bar(text)) == off


def test_published_examples_of_bar_mass() -> None:
    # handbook examples, lb: 1 in square 12 ft 40.8; 1 in round 12 ft 32.04; 1/2 x 2 in 10 ft 33.99;
    # 1 in hexagon 12 ft 35.33. They take 0.2833 lb/in3, which is 7842 kg/m3.
    examples = {
        ("1 in square", 12): 40.8,
        ("1 in round", 12): 32.04,
        ("2 x 1/2 in flat", 10): 33.99,
        ("1 in hexagon", 12): 35.33,
    }
    for (text, feet), pounds in examples.items():
        kg = bar_mass_kg(bar(text), feet * 304.8)
        assert kg / 0.45359237 == pytest.approx(pounds, rel=0.002)
        assert bar_length_mm(bar(text), kg) == pytest.approx(feet * 304.8)


def test_heat_fuel_and_blows() -> None:
    # integral of EN 1993-1-2 specific heat: 827.064 kJ/kg from 20 to 1200
    assert heat_kj(2.0, 20, 1200) == pytest.approx(2 * 827.064, abs=0.02)
    session = fuel_kg("gas", 3 * 3600, burners=2)
    assert (session.low, session.high) == pytest.approx((2.4, 9.0))
    assert blow_joules(1.2, 7.0) == pytest.approx(29.4)
    assert drop_joules(25, 1000) == pytest.approx(245.166, abs=0.001)
