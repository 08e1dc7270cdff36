"""Limits, stripping areas, engagement and per cent of thread against their sources."""

from __future__ import annotations

import pytest

from forgelog.trade.engage import (
    drill_for_percent_mm,
    engagement_mm,
    joint,
    shear_mm2_per_mm,
    thread_percent,
)
from forgelog.trade.limits import limits
from forgelog.trade.threads import thread

# ISO 965-2 and ASME B1.13M, 6g: major max, min, pitch max, min (M4 to M8 read, rest from memory)
BOLTS = {
    "M4": (3.978, 3.838, 3.523, 3.433),
    "M5": (4.976, 4.826, 4.456, 4.361),
    "M6": (5.974, 5.794, 5.324, 5.212),
    "M8": (7.972, 7.76, 7.16, 7.042),
    "M12": (11.966, 11.701, 10.829, 10.679),
    "M14": (13.962, 13.682, 12.663, 12.503),
    "M16": (15.962, 15.682, 14.663, 14.503),
    "M20": (19.958, 19.623, 18.334, 18.164),
}

# 6H: minor min, max, pitch min, max (M10 to M14 read, the rest from memory)
NUTS = {
    "M4": (3.242, 3.422, 3.545, 3.663),
    "M5": (4.134, 4.334, 4.48, 4.605),
    "M6": (4.917, 5.153, 5.35, 5.5),
    "M8": (6.647, 6.912, 7.188, 7.348),
    "M10": (8.376, 8.676, 9.026, 9.206),
    "M12": (10.106, 10.441, 10.863, 11.063),
    "M14": (11.835, 12.21, 12.701, 12.913),
    "M16": (13.835, 14.21, 14.701, 14.913),
    "M20": (17.294, 17.744, 18.376, 18.6),
}


@pytest.mark.parametrize(("name", "row"), BOLTS.items())
def test_limits_of_a_6g_bolt(name: str, row: tuple[float, ...]) -> None:
    edge = limits(thread(name))
    found = (
        edge.bolt_major_max_mm,
        edge.bolt_major_min_mm,
        edge.bolt_pitch_max_mm,
        edge.bolt_pitch_min_mm,
    )
    assert found == pytest.approx(row, abs=0.0011)


@pytest.mark.parametrize(("name", "row"), NUTS.items())
def test_limits_of_a_6h_nut(name: str, row: tuple[float, ...]) -> None:
    edge = limits(thread(name))
    found = (
        edge.nut_minor_min_mm,
        edge.nut_minor_max_mm,
        edge.nut_pitch_min_mm,
        edge.nut_pitch_max_mm,
    )
    assert found == pytest.approx(row, abs=0.0011)


def test_the_rule_of_a_fine_pitch() -> None:
    # a chart prints 8.972 for the largest M9 x 1; d - (15 + 11 P) um gives 8.974, as for M10 x 1
    assert limits(thread("M10 x 1")).bolt_major_max_mm == pytest.approx(9.974, abs=0.0005)


# ASME B1.1 2B minor diameters, in, printed to three digits
@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("1/4 UNC", (0.196, 0.207)),
        ("5/16 UNC", (0.252, 0.265)),
        ("3/8 UNC", (0.307, 0.321)),
        ("9/16 UNC", (0.472, 0.49)),
        ("5/8 UNC", (0.527, 0.546)),
        ("3/4 UNC", (0.642, 0.663)),
    ],
)
def test_limits_of_a_2b_nut(name: str, row: tuple[float, float]) -> None:
    edge = limits(thread(name))
    found = (edge.nut_minor_min_mm / 25.4, edge.nut_minor_max_mm / 25.4)
    assert found == pytest.approx(row, abs=0.0006)


# FED-STD-H28/2B with the limits above: least engagement mm, shear areas of bolt and nut mm2/mm
ENGAGED = {
    "M4": (3.208, 5.473, 7.769),
    "M5": (4.01, 7.073, 9.999),
    "M6": (4.655, 8.646, 12.191),
    "M12": (8.881, 18.976, 26.117),
    "M14": (10.296, 22.424, 31.034),
    "M20": (14.712, 33.279, 45.388),
}


@pytest.mark.parametrize(("name", "row"), ENGAGED.items())
def test_engagement_and_stripping_areas(name: str, row: tuple[float, float, float]) -> None:
    one = thread(name)
    found = (engagement_mm(one, 400, 400), *shear_mm2_per_mm(one))
    assert found == pytest.approx(row, rel=0.002)


# FED-STD-H28/2B table of stripping areas of the nut, in2 an inch
@pytest.mark.parametrize(
    ("name", "area"),
    [
        ("1/4 UNC", 0.539),
        ("7/16 UNC", 0.981),
        ("1/2 UNC", 1.12),
        ("5/8 UNC", 1.42),
        ("1/4 UNF", 0.521),
        ("5/16 UNF", 0.663),
        ("3/8 UNF", 0.8),
        ("7/16 UNF", 0.947),
        ("1/2 UNF", 1.08),
        ("9/16 UNF", 1.23),
        ("5/8 UNF", 1.37),
        ("3/4 UNF", 1.66),
    ],
)
def test_stripping_areas_of_unified_nuts(name: str, area: float) -> None:
    # the table prints 0.908 for 7/16 UNF; all its neighbours follow the formula, which gives 0.947
    assert shear_mm2_per_mm(thread(name))[1] / 25.4 == pytest.approx(area, rel=0.015)


def test_a_forged_m12_tenon_with_a_nut_of_the_usual_height() -> None:
    # worked from the formulas of FED-STD-H28/2B: S235, 360 MPa, 10.8 mm engaged
    found = joint(thread("M12"), 10.8, 360, 360)
    assert found.breaks_n == pytest.approx(30336, rel=0.001)
    assert found.bolt_strips_n == pytest.approx(36890, rel=0.002)
    assert found.nut_strips_n == pytest.approx(50772, rel=0.002)
    assert found.first == "the bolt breaks"
    thin = joint(thread("M12"), 6.0, 360, 360)
    assert thin.bolt_strips_n == pytest.approx(20494, rel=0.002)
    assert thin.first == "the bolt strips"


def test_a_half_inch_thread_by_the_worked_example() -> None:
    # Esmin .4435, Knmax .4340, Dsmin .4876, Enmax .4565 in (ASME B1.1 2A/2B): Le 0.3643 in
    one = thread("1/2 UNC")
    edge = limits(one)
    assert edge.bolt_pitch_min_mm / 25.4 == pytest.approx(0.4435, abs=0.0002)
    assert edge.nut_minor_max_mm / 25.4 == pytest.approx(0.4340, abs=0.0005)
    assert edge.bolt_major_min_mm / 25.4 == pytest.approx(0.4876, abs=0.0002)
    assert edge.nut_pitch_max_mm / 25.4 == pytest.approx(0.4565, abs=0.0002)
    assert engagement_mm(one, 400, 400) / 25.4 == pytest.approx(0.3643, rel=0.01)


def test_a_weak_nut_needs_more_thread() -> None:
    one = thread("M12")
    assert engagement_mm(one, 800, 360) == pytest.approx(
        8.881 * (18.976 * 800) / (26.117 * 360), rel=0.002
    )


# ISO 898-1 table 4: least ultimate load of 4.6, 4.8 and 8.8, N (stress area times 400, 420, 800)
@pytest.mark.parametrize(
    ("name", "loads"),
    [
        ("M10", (23200, 24400, 46400)),
        ("M14", (46000, 48300, 92000)),
        ("M16", (62800, 65900, 125000)),
    ],
)
def test_ultimate_loads_of_property_classes(name: str, loads: tuple[int, int, int]) -> None:
    for strength, load in zip((400, 420, 800), loads, strict=True):
        assert joint(thread(name), 20, strength, 400).breaks_n == pytest.approx(load, rel=0.005)


def test_per_cent_of_thread_has_two_definitions() -> None:
    # 100/1.0825 and 100/1.299 of a hole of size less pitch; 1/4-20 at 0.2013 in
    for name in ("M6", "M8", "M10", "M12"):
        one = thread(name)
        hole = one.major_mm - one.pitch_mm
        assert thread_percent(one, hole, "old") == pytest.approx(76.98, abs=0.02)
        assert thread_percent(one, hole, "iso") == pytest.approx(92.38, abs=0.02)
    quarter, half = thread("1/4 UNC"), thread("1/2 UNC")
    assert drill_for_percent_mm(quarter, 75, "old") / 25.4 == pytest.approx(0.2013, abs=0.00011)
    assert drill_for_percent_mm(quarter, 75, "iso") / 25.4 == pytest.approx(0.2094, abs=0.00011)
    assert drill_for_percent_mm(half, 75, "old") / 25.4 == pytest.approx(0.4251, abs=0.00011)
    assert drill_for_percent_mm(half, 75, "iso") / 25.4 == pytest.approx(0.4375, abs=0.00011)
