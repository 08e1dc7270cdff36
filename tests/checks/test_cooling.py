"""Cooling, heating, windows and rests against the tables of the model.

The tables were worked out apart from this code, by bisection for the surface temperature and
fine steps of integration; the model is held to 1 % by them. They are predictions, not
measurements. The specific heat is checked against EN 1993-1-2 itself.
"""

from __future__ import annotations

import pytest

from forgelog.trade.air import still_air_h
from forgelog.trade.cooling import cooling_curve, window_s
from forgelog.trade.heating import burning_s, reheat_s
from forgelog.trade.rests import rest_verdict
from forgelog.trade.sections import parse_section
from forgelog.trade.steel_heat import conductivity, specific_heat

# EN 1993-1-2:2005, 3.4.1.2 (J/kg K) and 3.4.1.3 (W/m K), worked by hand from the clauses
SPECIFIC_HEAT = {20: 439.8, 400: 605.9, 600: 760.2, 700: 1008.2, 735: 5000, 800: 803.3, 900: 650}
CONDUCTIVITY = {20: 53.3, 400: 40.7, 700: 30.7, 800: 27.3, 1200: 27.3}


@pytest.mark.parametrize(("degc", "joules"), SPECIFIC_HEAT.items())
def test_specific_heat_of_the_standard(degc: int, joules: float) -> None:
    assert specific_heat(degc) == pytest.approx(joules, rel=1e-3)


@pytest.mark.parametrize(("degc", "watts"), CONDUCTIVITY.items())
def test_conductivity_of_the_standard(degc: int, watts: float) -> None:
    assert conductivity(degc) == pytest.approx(watts, abs=0.05)


# Churchill and Chu through the ht library 1.2.0, with the air of the 1976 atmosphere
@pytest.mark.parametrize(
    ("degc", "across_mm", "watts"),
    [
        (200, 12, 11.707),
        (200, 25, 9.724),
        (500, 12, 13.734),
        (800, 12, 14.541),
        (800, 25, 11.776),
        (1000, 12, 14.858),
    ],
)
def test_what_still_air_carries_off(degc: float, across_mm: float, watts: float) -> None:
    assert still_air_h(degc, 20, across_mm / 1000) == pytest.approx(watts, abs=0.01)


# reference solutions of dT/dt = -4 q/(rho c D), surface as hot as the middle, by another program:
# round bar, seconds 1000 to 800, 900 to 500, 800 to 500, 900 to 480, 500 to 100
LUMPED = {
    6: (16.0, 87.3, 77.7, 93.9, 418.5),
    8: (21.8, 119.5, 106.5, 128.7, 589.6),
    10: (27.6, 152.1, 135.6, 163.9, 765.3),
    12: (33.4, 184.8, 164.9, 199.3, 944.4),
    16: (45.0, 250.9, 223.9, 270.6, 1309.6),
    20: (56.7, 317.4, 283.4, 342.4, 1681.5),
}


@pytest.mark.parametrize(("across", "row"), LUMPED.items())
def test_a_thin_bar_cools_as_one_without_a_cooler_surface(
    across: int, row: tuple[float, ...]
) -> None:
    # ours has the surface cooler than the middle, so it is slower, by 1 to 5 % at these sizes
    curve = cooling_curve(parse_section(f"{across} mm round"))
    spans = ((1000, 800), (900, 500), (800, 500), (900, 480), (500, 100))
    for (high, low), want in zip(spans, row, strict=True):
        assert 0.995 * want < curve.seconds(high, low) < (1 + 0.0025 * across) * want + 0.3


# seconds in still air of 20 from a mean of 1200 to 850, 735, 727 and 480
FROM_1200 = {
    "12 mm round": (40.5, 85.1, 94.6, 232.5),
    "50 mm round": (185.8, 388.8, 431.6, 1061.9),
    "12 mm square": (41.1, 86.5, 96.0, 236.7),
    "20 mm square": (70.7, 148.7, 165.2, 407.7),
    "30 x 8 mm flat": (43.8, 92.5, 102.8, 254.8),
    "60 x 12 mm flat": (71.3, 150.4, 167.2, 415.5),
    "20 mm octagon": (69.7, 146.8, 163.1, 402.7),
}


@pytest.mark.parametrize(("bar", "seconds"), FROM_1200.items())
def test_cooling_in_still_air(bar: str, seconds: tuple[float, ...]) -> None:
    curve = cooling_curve(parse_section(bar))
    for to_degc, want in zip((850, 735, 727, 480), seconds, strict=True):
        assert curve.seconds(1200, to_degc) == pytest.approx(want, rel=0.01), to_degc


# windows in s still, by hand, power; 850 to 480 s; 850 to 45 min; 20 to 1150 s in gas and in coke
SQUARES = {
    6: (13.9, 11.7, 8.7, 92.4, 15.5, 61.8, 38.7),
    12: (33.4, 28.0, 20.9, 195.6, 34.7, 124.4, 78.1),
    20: (60.3, 50.6, 37.9, 337.0, 61.7, 209.1, 131.5),
}


@pytest.mark.parametrize(("size", "row"), SQUARES.items())
def test_windows_rests_and_reheats_of_square_bar(size: int, row: tuple[float, ...]) -> None:
    bar = parse_section(f"{size} mm square")
    curve = cooling_curve(bar)
    found = (
        window_s(bar, method="still air"),
        window_s(bar, method="hand"),
        window_s(bar, method="power"),
        curve.seconds(850, 480),
        curve.seconds(850, 45) / 60,
        reheat_s(bar, 20, 1150, "gas"),
        reheat_s(bar, 20, 1150, "coke"),
    )
    for place, (have, want) in enumerate(zip(found, row, strict=True)):
        assert have == pytest.approx(want, rel=0.01), place


@pytest.mark.parametrize(
    ("bar", "medium", "to_degc", "minutes", "tolerance"),
    [
        ("12 mm square", "draught", 480, 2.2, 0.05),
        ("12 mm square", "draught", 45, 12.4, 0.05),
        ("12 mm square", "bed", 480, 23.4, 0.05),
        ("12 mm square", "bed", 45, 89, 0.5),
        ("20 mm square", "bed", 480, 52, 0.5),
        ("20 mm square", "bed", 45, 196.8, 0.5),
    ],
)
def test_cooling_in_a_draught_and_in_a_bed(
    bar: str, medium: str, to_degc: float, minutes: float, tolerance: float
) -> None:
    curve = cooling_curve(parse_section(bar), medium)
    assert curve.seconds(850, to_degc) / 60 == pytest.approx(minutes, abs=tolerance)


@pytest.mark.parametrize(("bar", "kelvin"), [("12 mm square", 10), ("50 mm square", 40)])
def test_the_surface_is_cooler_than_the_mean(bar: str, kelvin: float) -> None:
    assert 1050 - cooling_curve(parse_section(bar)).surface_degc(1050) == pytest.approx(
        kelvin, abs=1.0
    )


@pytest.mark.parametrize(("size", "seconds"), [(6, 7), (12, 15)])
def test_a_thin_end_burns_within_seconds(size: int, seconds: float) -> None:
    assert burning_s(parse_section(f"{size} mm square")) == pytest.approx(seconds, abs=0.6)


# section, start, medium, required, minutes rested, model degC, minutes needed, verdict
RESTS = [
    ("12 mm square", 850, "still air", 480, 0.3, 779, 3.3, "skipped"),
    ("12 mm square", 850, "still air", 480, 2, 598, 3.3, "short"),
    ("12 mm square", 850, "still air", 480, 3.3, 477, 3.3, "unsure"),
    ("12 mm square", 850, "still air", 480, 5, 371, 3.3, "ok"),
    ("12 mm square", 850, "still air", 45, 0.5, 751, 34.7, "skipped"),
    ("12 mm square", 850, "still air", 45, 15, 137, 34.7, "short"),
    ("12 mm square", 850, "still air", 45, 35, 45, 34.7, "unsure"),
    ("12 mm square", 850, "still air", 45, 60, 25, 34.7, "ok"),
    ("20 mm square", 900, "still air", 540, 0.5, 812, 4.7, "short"),
    ("20 mm square", 900, "still air", 540, 3, 646, 4.7, "short"),
    ("20 mm square", 900, "still air", 540, 5, 522, 4.7, "unsure"),
    ("20 mm square", 900, "still air", 540, 8, 398, 4.7, "ok"),
    ("12 mm round", 950, "draught", 480, 4.5, 245, 2.2, "ok"),
    ("12 mm square", 850, "draught", 45, 10, 70, 12.4, "unsure"),
    ("12 mm square", 850, "bed", 480, 20, 537, 23.4, "unsure"),
    ("20 mm square", 850, "bed", 45, 480, 21, 196.8, "ok"),
    ("12 mm square", 400, "still air", 480, 0, 400, 0.0, "ok"),
]


@pytest.mark.parametrize(
    ("bar", "start", "medium", "required", "rested", "degc", "needed", "word"), RESTS
)
def test_the_verdict_on_a_rest(
    bar: str,
    start: float,
    medium: str,
    required: float,
    rested: float,
    degc: float,
    needed: float,
    word: str,
) -> None:
    verdict = rest_verdict(
        parse_section(bar),
        start,
        rested_s=rested * 60,
        required_degc=required,
        medium=medium,
    )
    assert verdict.word == word
    assert verdict.degc_at_end == pytest.approx(degc, abs=1.0)
    assert verdict.needed_s / 60 == pytest.approx(needed, rel=0.01, abs=0.051)


@pytest.mark.parametrize(("rested", "word"), [(9.6, "ok"), (5, "short"), (0.9, "skipped")])
def test_the_verdict_on_a_rest_of_ten_minutes(rested: float, word: str) -> None:
    bar = parse_section("12 mm square")
    verdict = rest_verdict(bar, 850, rested_s=rested * 60, required_s=600)
    assert verdict.word == word
    assert verdict.degc_at_end is None
