"""Threads against the published tables."""

from __future__ import annotations

import pytest

from forgelog.trade.threads import Thread, thread

# ISO 261 pitch; ISO 724 d2, D1; ISO 898-1 d3 and As; ISO 2306 drill; ISO 4032 across flats, height
METRIC = {
    "M4": (0.7, 3.545, 3.242, 3.141, 8.78, 3.3, 7, 3.2),
    "M5": (0.8, 4.48, 4.134, None, 14.2, 4.2, 8, 4.7),
    "M6": (1.0, 5.35, None, 4.773, 20.1, 5.0, None, 5.2),
    "M8": (1.25, 7.188, 6.647, 6.466, None, 6.8, 13, 6.8),
    "M10": (1.5, 9.026, 8.376, 8.16, 58.0, 8.5, 16, 8.4),
    "M12": (1.75, 10.863, 10.106, 9.853, 84.3, None, 18, 10.8),
    "M14": (2.0, 12.701, 11.835, 11.546, 115.0, 12.0, 21, 12.8),
    "M16": (2.0, None, 13.835, 13.546, None, 14.0, 24, 14.8),
    "M18": (2.5, 16.376, 15.294, 14.933, None, 15.5, 27, 15.8),
    "M20": (2.5, 18.376, 17.294, 16.933, 245.0, 17.5, 30, 18.0),
}


@pytest.mark.parametrize(("name", "row"), METRIC.items())
def test_the_metric_coarse_series(name: str, row: tuple[float | None, ...]) -> None:
    one = thread(name)
    found = (
        one.pitch_mm,
        one.pitch_diameter_mm,
        one.minor_mm,
        one.root_mm,
        one.stress_area_mm2,
        one.tap_drill_mm,
        one.nut_across_mm,
        one.nut_height_mm,
    )
    for place, (have, want) in enumerate(zip(found, row, strict=True)):
        if want is not None:
            tolerance = 0.005 * want if place == 4 else 0.0005
            assert have == pytest.approx(want, abs=tolerance), place


# ISO 273
@pytest.mark.parametrize(
    ("name", "holes"),
    [
        ("M6", (6.4, 6.6, 7.0)),
        ("M8", (8.4, 9.0, 10.0)),
        ("M12", (13.0, 13.5, 14.5)),
        ("M16", (17.0, 17.5, 18.5)),
    ],
)
def test_clearance_holes(name: str, holes: tuple[float, float, float]) -> None:
    assert thread(name).clearance_mm == holes


def _inches(one: Thread) -> tuple[float, float, float, float]:
    tapped = (one.threads_per_inch, one.pitch_diameter_mm / 25.4, one.minor_mm / 25.4)
    return (*tapped, one.stress_area_mm2 / 25.4**2)


# ASME B1.1: threads an inch, pitch diameter, minor diameter of the nut, tensile stress area
UNIFIED = {
    "1/4 UNC": (20, None, 0.1959, 0.0318),
    "5/16 UNC": (18, 0.2764, 0.2524, 0.0524),
    "3/8 UNC": (None, 0.3344, 0.3073, 0.0775),
    "7/16 UNC": (None, 0.3911, 0.3602, None),
    "1/2 UNC": (13, 0.45, 0.4167, 0.1419),
    "9/16 UNC": (12, None, 0.4723, 0.182),
    "5/8 UNC": (11, 0.566, 0.5266, None),
    "3/4 UNC": (10, None, None, None),
    "1/4 UNF": (28, 0.2268, 0.2113, 0.0364),
    "3/8 UNF": (24, 0.3479, 0.3299, 0.0878),
    "1/2 UNF": (20, 0.4675, 0.4459, 0.1599),
    "9/16 UNF": (18, 0.5264, 0.5024, 0.203),
    "5/8 UNF": (18, 0.5889, 0.5649, 0.256),
    # BS 84: effective and core diameter; the area is the mean of both, there is no official one
    "1/4 BSW": (20, 0.218, None, 0.032),
    "5/16 BSW": (None, 0.2769, None, 0.0527),
    "3/8 BSW": (None, 0.335, None, 0.0779),
    "7/16 BSW": (None, None, 0.3461, 0.1069),
    "1/2 BSW": (12, 0.4466, 0.3932, 0.1385),
    "9/16 BSW": (12, 0.5091, 0.4557, None),
    "5/8 BSW": (None, 0.5668, 0.5086, None),
    "3/4 BSW": (10, 0.686, None, 0.3359),
}


@pytest.mark.parametrize(("name", "row"), UNIFIED.items())
def test_the_inch_series(name: str, row: tuple[float | None, ...]) -> None:
    for place, (have, want) in enumerate(zip(_inches(thread(name)), row, strict=True)):
        if want is not None:
            tolerance = 0.004 * want if place == 3 else 0.00011
            assert have == pytest.approx(want, abs=tolerance), place


# ASME B1.1, UNR reference minor diameter of the bolt
@pytest.mark.parametrize(
    ("name", "inches"),
    [
        ("5/16 UNC", 0.2463),
        ("7/16 UNC", 0.3524),
        ("1/2 UNC", 0.4084),
        ("5/8 UNC", 0.5167),
        ("3/4 UNC", 0.6309),
    ],
)
def test_the_root_of_a_unified_bolt(name: str, inches: float) -> None:
    assert thread(name).root_mm / 25.4 == pytest.approx(inches, abs=0.0002)


# ASME B94.9 practice (inch charts) and BS 1157
@pytest.mark.parametrize(
    ("name", "mm"),
    [
        ("1/4 UNC", 5.1054),
        ("5/16 UNC", 6.5278),
        ("3/8 UNC", 7.9375),
        ("1/2 UNC", 10.71626),
        ("5/8 UNC", 13.49248),
        ("3/4 UNC", 16.66748),
        ("1/4 BSW", 5.1),
        ("7/16 BSW", 9.3),
        ("9/16 BSW", 12.1),
        ("5/8 BSW", 13.5),
    ],
)
def test_tap_drills_of_the_inch_series(name: str, mm: float) -> None:
    assert thread(name).tap_drill_mm == pytest.approx(mm, abs=0.0015)


# ASME B18.2.2 table 4, heights of hexagon nuts
@pytest.mark.parametrize(
    ("name", "inches"),
    [("1/4 UNC", 0.219), ("5/16 UNF", 0.2655), ("7/16 UNC", 0.375), ("1/2 UNC", 0.4375)],
)
def test_heights_of_inch_nuts(name: str, inches: float) -> None:
    height = thread(name).nut_height_mm
    assert height is not None
    assert height / 25.4 == pytest.approx(inches, abs=0.0005)


# workshop rule, major less a tenth of the pitch; published chart of largest and smallest rod
@pytest.mark.parametrize(
    ("name", "mm"),
    [("M4", 3.93), ("M5", 4.92), ("M6", 5.9), ("M14", 13.8), ("M18", 17.75), ("M20", 19.75)],
)
def test_the_rod_before_the_die(name: str, mm: float) -> None:
    assert thread(name).rod_before_die_mm == pytest.approx(mm, abs=0.0005)


@pytest.mark.parametrize(("name", "inches"), [("5/16 UNC", 0.3069), ("1/2 UNC", 0.4923)])
def test_the_inch_rod_before_the_die(name: str, inches: float) -> None:
    assert thread(name).rod_before_die_mm / 25.4 == pytest.approx(inches, abs=6e-5)
