"""Threads as `forgelog sums thread` tells them, against published tables.

Tolerances: diameters to the last printed digit, limits to 1 um, areas to half a per cent or the
third figure. A row marked `memory` was not read again in a page.
"""

from __future__ import annotations

import pytest

from tests.desk.sums.asked import figures

LIMITS_6G = {
    # ISO 965-2 / ASME B1.13M: major max, major min, pitch max, pitch min
    "M4": (3.978, 3.838, 3.523, 3.433),
    "M5": (4.976, 4.826, 4.456, 4.361),
    "M6": (5.974, 5.794, 5.324, 5.212),
    "M8": (7.972, 7.76, 7.16, 7.042),
    # memory, from here on
    "M12": (11.966, 11.701, 10.829, 10.679),
    "M14": (13.962, 13.682, 12.663, 12.503),
    "M16": (15.962, 15.682, 14.663, 14.503),
    "M20": (19.958, 19.623, 18.334, 18.164),
    "M24": (23.952, 23.577, 22.003, 21.803),
    "M30": (29.947, 29.522, 27.674, 27.462),
    "M6 x 0.75": (5.978, 5.838, 5.491, 5.391),
    "M10 x 1.25": (9.972, 9.760, 9.160, 9.042),
}


@pytest.mark.parametrize(("size", "row"), LIMITS_6G.items())
def test_limits_of_a_6g_bolt(size: str, row: tuple[float, ...]) -> None:
    limits = figures(f'thread "{size}"')["limits"]["6g"]
    names = ("major_max_mm", "major_min_mm", "pitch_max_mm", "pitch_min_mm")
    assert [limits[name] for name in names] == pytest.approx(row, abs=0.0011)


LIMITS_6H = {
    # ISO 965-2 / ASME B1.13M: minor min, minor max, pitch min, pitch max; memory but M10, 12, 14
    "M4": (3.242, 3.422, 3.545, 3.663),
    "M5": (4.134, 4.334, 4.48, 4.605),
    "M6": (4.917, 5.153, 5.35, 5.5),
    "M8": (6.647, 6.912, 7.188, 7.348),
    "M10": (8.376, 8.676, 9.026, 9.206),
    "M12": (10.106, 10.441, 10.863, 11.063),
    "M14": (11.835, 12.21, 12.701, 12.913),
    "M16": (13.835, 14.21, 14.701, 14.913),
    "M20": (17.294, 17.744, 18.376, 18.6),
    "M24": (20.752, 21.252, 22.051, 22.316),
    "M30": (26.211, 26.771, 27.727, 28.007),
}


@pytest.mark.parametrize(("size", "row"), LIMITS_6H.items())
def test_limits_of_a_6h_nut(size: str, row: tuple[float, ...]) -> None:
    limits = figures(f"thread {size}")["limits"]["6H"]
    names = ("minor_min_mm", "minor_max_mm", "pitch_min_mm", "pitch_max_mm")
    assert [limits[name] for name in names] == pytest.approx(row, abs=0.0011)


STRESS_MM2 = {
    # ISO 898-1 tables 4 and 6, to three figures; those not in the earlier checks from memory
    "M3": 5.03,
    "M3.5": 6.78,
    "M4": 8.78,
    "M5": 14.2,
    "M6": 20.1,
    "M7": 28.9,
    "M8": 36.6,
    "M10": 58.0,
    "M12": 84.3,
    "M14": 115,
    "M16": 157,
    "M18": 192,
    "M20": 245,
    "M22": 303,
    "M24": 353,
    "M27": 459,
    "M30": 561,
    "M33": 694,
    "M36": 817,
    "M39": 976,
    "M8 x 1": 39.2,
    "M10 x 1.25": 61.2,
    "M12 x 1.5": 88.1,
    "M14 x 1.5": 125,
    "M16 x 1.5": 167,
    "M18 x 1.5": 216,
    "M20 x 1.5": 272,
    "M24 x 2": 384,
    "M30 x 2": 621,
    "M36 x 3": 865,
}


@pytest.mark.parametrize(("size", "area"), STRESS_MM2.items())
def test_stress_areas_of_metric_threads(size: str, area: float) -> None:
    assert figures(f'thread "{size}"')["stress_area_mm2"] == pytest.approx(area, rel=0.005)


DRILLS_MM = {
    # ISO 2306: coarse from the earlier checks; the others from memory
    "M1": 0.75,
    "M1.6": 1.25,
    "M2": 1.6,
    "M2.5": 2.05,
    "M3": 2.5,
    "M3.5": 2.9,
    "M4": 3.3,
    "M5": 4.2,
    "M6": 5.0,
    "M7": 6.0,
    "M8": 6.8,
    "M10": 8.5,
    "M12": 10.2,
    "M14": 12.0,
    "M16": 14.0,
    "M18": 15.5,
    "M20": 17.5,
    "M24": 21.0,
    "M30": 26.5,
    "M36": 32.0,
    "M42": 37.5,
    "M64": 58.0,
    "M8 x 1": 7.0,
    "M10 x 1.25": 8.8,
    "M10 x 1": 9.0,
    "M12 x 1.5": 10.5,
    "M12 x 1.25": 10.8,
    "M16 x 1.5": 14.5,
    "M20 x 1.5": 18.5,
    "M5 x 0.5": 4.5,
    "M24 x 2": 22.0,
    "M2 x 0.25": 1.75,
    "M3 x 0.35": 2.65,
    "M6 x 0.75": 5.2,
    "M8 x 0.75": 7.2,
    "M38 x 1.5": 36.5,
}


@pytest.mark.parametrize(("size", "mm"), DRILLS_MM.items())
def test_tap_drills_of_metric_threads(size: str, mm: float) -> None:
    assert figures(f'thread "{size}"')["tap_drill_mm"] == pytest.approx(mm, abs=1e-9)


# ISO 4032, across flats and largest height; M4 to M20 read, the others from memory
NUTS_MM = {
    "M3": (5.5, 2.4),
    "M4": (7, 3.2),
    "M5": (8, 4.7),
    "M6": (10, 5.2),
    "M8": (13, 6.8),
    "M10": (16, 8.4),
    "M12": (18, 10.8),
    "M14": (21, 12.8),
    "M16": (24, 14.8),
    "M18": (27, 15.8),
    "M20": (30, 18),
    "M24": (36, 21.5),
    "M30": (46, 25.6),
    "M36": (55, 31),
    "M42": (65, 34),
    "M48": (75, 38),
    "M56": (85, 45),
    "M64": (95, 51),
}


@pytest.mark.parametrize(("size", "nut"), NUTS_MM.items())
def test_hexagon_nuts(size: str, nut: tuple[float, float]) -> None:
    table = figures(f"thread {size}")
    assert (table["nut_across_flats_mm"], table["nut_height_mm"]) == nut


# DIN 557 and ASME B18.2.2 table 2 (inches): across flats and thickness of square nuts
SQUARE_NUTS_MM = {
    "M5": (8, 4),
    "M6": (10, 5),
    "M8": (13, 6.5),
    "M12": (19, 10),
    "M16": (24, 13),
    "1/4 UNC": (0.4375 * 25.4, 0.21875 * 25.4),
    "5/16 UNC": (0.5625 * 25.4, 0.265625 * 25.4),
    "1/2 UNC": (0.8125 * 25.4, 0.4375 * 25.4),
    "3/4 UNC": (1.125 * 25.4, 0.65625 * 25.4),
}


@pytest.mark.parametrize(("size", "nut"), SQUARE_NUTS_MM.items())
def test_square_nuts(size: str, nut: tuple[float, float]) -> None:
    table = figures(f'thread "{size}"')
    found = (table["square_nut_across_flats_mm"], table["square_nut_height_mm"])
    assert found == pytest.approx(nut)


# ISO 273; M6, M8, M12 and M16 read, the others from memory
HOLES_MM = {
    "M3": (3.2, 3.4, 3.6),
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7),
    "M8": (8.4, 9, 10),
    "M10": (10.5, 11, 12),
    "M12": (13, 13.5, 14.5),
    "M16": (17, 17.5, 18.5),
    "M20": (21, 22, 24),
    "M24": (25, 26, 28),
    "M30": (31, 33, 35),
    "M64": (66, 70, 74),
}


@pytest.mark.parametrize(("size", "holes"), HOLES_MM.items())
def test_holes_for_bolts(size: str, holes: tuple[float, ...]) -> None:
    found = figures(f"thread {size}")["clearance_hole_mm"]
    assert (found["close"], found["medium"], found["coarse"]) == holes


# ASME B1.1 tables: threads an inch, pitch diameter, basic minor of the nut, stress area (in, in2);
# number sizes and those above 3/4 from memory
UNIFIED = {
    "#4 UNC": (40, 0.0958, 0.0849, 0.00604),
    "#8 UNC": (32, 0.1437, 0.1302, 0.0140),
    "#10 UNC": (24, 0.1629, 0.1449, 0.0175),
    "#10 UNF": (32, 0.1697, 0.1562, 0.0200),
    "#12 UNC": (24, 0.1889, 0.1709, 0.0242),
    "1/4 UNC": (20, 0.2175, 0.1959, 0.0318),
    "1/4 UNF": (28, 0.2268, 0.2113, 0.0364),
    "5/16 UNC": (18, 0.2764, 0.2524, 0.0524),
    "3/8 UNC": (16, 0.3344, 0.3073, 0.0775),
    "3/8 UNF": (24, 0.3479, 0.3299, 0.0878),
    "7/16 UNC": (14, 0.3911, 0.3602, 0.1063),
    "1/2 UNC": (13, 0.4500, 0.4167, 0.1419),
    "1/2 UNF": (20, 0.4675, 0.4459, 0.1599),
    "9/16 UNC": (12, 0.5084, 0.4723, 0.182),
    "9/16 UNF": (18, 0.5264, 0.5024, 0.203),
    "5/8 UNC": (11, 0.5660, 0.5266, 0.226),
    "5/8 UNF": (18, 0.5889, 0.5649, 0.256),
    "3/4 UNC": (10, 0.6850, 0.6418, 0.334),
    "1 UNC": (8, 0.9188, 0.8647, 0.606),
    "2 UNC": (4.5, 1.8557, 1.7594, 2.50),
}


@pytest.mark.parametrize(("size", "row"), UNIFIED.items())
def test_unified_threads(size: str, row: tuple[float, ...]) -> None:
    table = figures(f'thread "{size}"')
    per_inch, pitch, minor, area = row
    assert table["threads_per_inch"] == pytest.approx(per_inch, rel=1e-9)
    assert table["pitch_diameter_mm"] / 25.4 == pytest.approx(pitch, abs=0.00011)
    assert table["minor_internal_mm"] / 25.4 == pytest.approx(minor, abs=0.00011)
    assert table["stress_area_mm2"] / 25.4**2 == pytest.approx(area, rel=0.004)


# BS 84: threads an inch, effective and core diameter, in; above 3/4 and below 1/4 from memory
WHITWORTH = {
    "1/8 BSW": (40, 0.1090, 0.0930),
    "3/16 BSW": (24, 0.1608, 0.1341),
    "1/4 BSW": (20, 0.2180, 0.1860),
    "5/16 BSW": (18, 0.2769, 0.2413),
    "3/8 BSW": (16, 0.3350, 0.2950),
    "7/16 BSW": (14, 0.3918, 0.3461),
    "1/2 BSW": (12, 0.4466, 0.3932),
    "9/16 BSW": (12, 0.5091, 0.4557),
    "5/8 BSW": (11, 0.5668, 0.5086),
    "3/4 BSW": (10, 0.6860, 0.6219),
    "7/8 BSW": (9, 0.8039, 0.7327),
    "1 BSW": (8, 0.9200, 0.8399),
    "1-1/2 BSW": (6, 1.3933, 1.2866),
    "2 BSW": (4.5, 1.8577, 1.7154),
}


@pytest.mark.parametrize(("size", "row"), WHITWORTH.items())
def test_whitworth_threads(size: str, row: tuple[float, ...]) -> None:
    table = figures(f'thread "{size}"')
    per_inch, effective, core = row
    assert table["threads_per_inch"] == pytest.approx(per_inch, rel=1e-9)
    assert table["pitch_diameter_mm"] / 25.4 == pytest.approx(effective, abs=0.00011)
    assert table["minor_external_mm"] / 25.4 == pytest.approx(core, abs=0.00011)


# ASME B1.1 class 2B, minor diameter of the nut, in
MINOR_2B = {
    "1/4 UNC": (0.196, 0.207),
    "5/16 UNC": (0.252, 0.265),
    "3/8 UNC": (0.307, 0.321),
    "9/16 UNC": (0.472, 0.490),
    "5/8 UNC": (0.527, 0.546),
    "3/4 UNC": (0.642, 0.663),
}


@pytest.mark.parametrize(("size", "row"), MINOR_2B.items())
def test_limits_of_a_2b_nut(size: str, row: tuple[float, float]) -> None:
    limits = figures(f'thread "{size}"')["limits"]["2B"]
    found = (limits["minor_min_mm"] / 25.4, limits["minor_max_mm"] / 25.4)
    assert found == pytest.approx(row, abs=0.0006)


# FED-STD-H28/2B table of shear areas, in2 an inch of engagement, to 1.2 per cent
SHEAR_2B = {
    "1/4 UNC": 0.539,
    "7/16 UNC": 0.981,
    "1/2 UNC": 1.12,
    "5/8 UNC": 1.42,
    "1/4 UNF": 0.521,
    "5/16 UNF": 0.663,
    "3/8 UNF": 0.8,
    "7/16 UNF": 0.947,
    "1/2 UNF": 1.08,
    "9/16 UNF": 1.23,
    "5/8 UNF": 1.37,
    "3/4 UNF": 1.66,
}


@pytest.mark.parametrize(("size", "area"), SHEAR_2B.items())
def test_stripping_areas_of_nuts(size: str, area: float) -> None:
    found = figures(f'thread "{size}"')["stripping_area_nut_mm2_per_mm"] / 25.4
    assert found == pytest.approx(area, rel=0.012)


# FED-STD-H28/2B with ISO 965 limits: engagement, areas of bolt and nut a mm, to 0.01
ENGAGED = {
    "M4": (3.208, 5.473, 7.769),
    "M5": (4.01, 7.073, 9.999),
    "M6": (4.655, 8.646, 12.191),
    "M12": (8.881, 18.976, 26.117),
    "M14": (10.296, 22.424, 31.034),
    "M20": (14.712, 33.279, 45.388),
}


@pytest.mark.parametrize(("size", "row"), ENGAGED.items())
def test_engagement(size: str, row: tuple[float, float, float]) -> None:
    table = figures(f"thread {size}")
    engaged = figures(f"engage {size}")["engagement_mm"]
    found = (
        engaged,
        table["stripping_area_bolt_mm2_per_mm"],
        table["stripping_area_nut_mm2_per_mm"],
    )
    assert found == pytest.approx(row, abs=0.011)


def test_a_thin_nut_strips_before_its_bolt_breaks() -> None:
    # FED-STD-H28/2B, worked for S235 (360 MPa): 30336 N, 36890 N at 10.8 mm; 20494 N at 6 mm
    thin = figures('engage M12 --height "6 mm"')
    assert thin["fails_first"] == "the bolt strips"
    assert thin["bolt_strips_n"] == pytest.approx(20494, abs=1)
    full = figures('engage M12 --height "10.8 mm"')
    assert full["fails_first"] == "the bolt breaks"
    assert full["bolt_breaks_n"] == pytest.approx(30336, abs=1)
    assert full["bolt_strips_n"] == pytest.approx(36890, abs=1)


@pytest.mark.parametrize(
    ("size", "mm"),
    # workshop rule, size less a tenth of the pitch
    [("M4", 3.93), ("M5", 4.92), ("M6", 5.9), ("M14", 13.8), ("M18", 17.75), ("M20", 19.75)],
)
def test_the_rod_before_the_die(size: str, mm: float) -> None:
    assert figures(f"thread {size}")["rod_before_die_mm"] == pytest.approx(mm, abs=0.0005)


def test_per_cent_of_thread_is_told_with_its_definition() -> None:
    # ISO 68-1: 100 % is 5H/8 a side, 1.0825 P; older tap makers 1.299 P
    m6 = figures("thread M6")
    assert m6["engagement_percent"] == pytest.approx(92.38, abs=0.02)
    assert "1.299" in m6["note"]
    assert "77 %" in m6["note"]
