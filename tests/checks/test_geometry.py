"""Volumes and lengths against mensuration and against published worked examples."""

from __future__ import annotations

import math

import pytest

from forgelog.trade.bends import ring_length_mm
from forgelog.trade.sections import Section, area_mm2, mass_kg_per_m, parse_section
from forgelog.trade.solids import Dim, solid_volume_mm3
from forgelog.trade.stock import becomes_mm

# Elementary geometry, any mensuration table.
AREAS = {
    12: (144, 113.097, 124.708, 119.294),
    16: (256, 201.062, 221.703, 212.077),
    20: (400, 314.159, 346.41, 331.371),
}


@pytest.mark.parametrize(("size", "areas"), AREAS.items())
def test_areas_of_square_round_hexagon_and_octagon(
    size: int, areas: tuple[float, float, float, float]
) -> None:
    for kind, area in zip(("square", "round", "hexagon", "octagon"), areas, strict=True):
        assert area_mm2(Section(kind=kind, a_mm=size)) == pytest.approx(area, abs=0.001)


# EN 10060, 10059, 10058 tables of nominal mass, kg/m, and 10061 by its formula.
MASSES = {
    "6 mm round": 0.222,
    "8 mm round": 0.395,
    "10 mm round": 0.617,
    "12 mm round": 0.888,
    "20 mm round": 2.466,
    "30 mm round": 5.549,
    "36 mm round": 7.99,
    "1 in square": 3.4 * 1.488164,  # handbook factor 3.4 lb/ft, lb/ft from the definition
    "1 1/2 in round": 6.008 * 1.488164,  # handbook factor 2.67
    "2 x 1/2 in flat": 3.4 * 1.488164,
}


@pytest.mark.parametrize(("text", "kg_per_m"), MASSES.items())
def test_mass_of_a_metre_of_bar(text: str, kg_per_m: float) -> None:
    tolerance = 0.001 if text.endswith("mm round") else 0.002 * kg_per_m
    assert mass_kg_per_m(parse_section(text)) == pytest.approx(kg_per_m, abs=tolerance)


@pytest.mark.parametrize(
    ("kind", "dims", "volume", "bar", "length"),
    [
        # square taper 20 to 8 over 150 and the 20 mm square that it takes
        (
            "taper",
            {"start": "20 mm square", "end": "8 mm square", "long": 150.0},
            31200,
            "20 mm square",
            78.0,
        ),
        (
            "taper",
            {"start": "16 mm round", "end": "6 mm round", "long": 120.0},
            12189.38,
            "16 mm round",
            60.625,
        ),
        (
            "taper",
            {"start": "20 mm octagon", "end": "10 mm octagon", "long": 100.0},
            19329.97,
            "20 mm octagon",
            58.333,
        ),
        # a flat chisel 20 x 20 to 20 x 2
        (
            "taper",
            {"start": "20 mm square", "end": "20 x 2 mm flat", "long": 80.0},
            17600,
            "20 mm square",
            44.0,
        ),
        ("point", {"section": "12 mm square", "long": 60.0}, 2880, "12 mm square", 20.0),
        ("cone", {"across": 12.0, "long": 60.0}, 2261.947, "12 mm round", 20.0),
        ("ball", {"across": 25.0}, 8181.231, "12 mm round", 72.338),
        ("ball", {"across": 40.0}, 33510.32, "16 mm round", 166.667),
        ("round", {"across": 60.0, "long": 6.0}, 16964.6, "25 mm round", 34.56),
        ("flat", {"wide": 18.0, "thick": 18.0, "long": 12.0}, 3888, "12 mm square", 27.0),
        ("round", {"across": 20.0, "long": 10.0}, 3141.59, "12 mm round", 27.778),
    ],
)
def test_volume_of_a_form_and_the_bar_that_it_takes(
    kind: str, dims: dict[str, float | str], volume: float, bar: str, length: float
) -> None:
    known: dict[str, Dim] = {
        key: parse_section(value) if isinstance(value, str) else value
        for key, value in dims.items()
    }
    found = solid_volume_mm3(kind, known)
    assert found == pytest.approx(volume, rel=1e-5)
    assert found / area_mm2(parse_section(bar)) == pytest.approx(length, abs=0.002)


@pytest.mark.parametrize(
    ("before", "after", "ratio"),
    [
        ("20 mm square", "10 mm square", 4.0),
        ("16 mm square", "30 x 4 mm flat", 2.1333),
        ("12 mm square", "13.5406 mm round", 1.0),
    ],
)
def test_how_much_longer_a_bar_becomes(before: str, after: str, ratio: float) -> None:
    longer = becomes_mm(100.0, parse_section(before), parse_section(after))
    assert longer == pytest.approx(100 * ratio, rel=1e-4)


@pytest.mark.parametrize(
    ("bar", "inside", "length"),
    [
        ("10 mm round", 60.0, 219.911),
        ("6 mm square", 25.0, 97.389),
        ("10 mm round", 20.0, 94.248),
        ("1/4 in round", 12.7, 2.356 * 25.4),  # Shop Practice vol. 2, gate hook: 2 3/8 in
    ],
)
def test_length_of_bar_in_a_ring_or_an_eye(bar: str, inside: float, length: float) -> None:
    assert ring_length_mm(parse_section(bar), inside_mm=inside) == pytest.approx(length, abs=0.01)


def test_a_ring_of_one_inch_bar_and_ten_inches_inside() -> None:
    # Googerty, Hand-Forging, p. 69 works (10 + 1) x 3 1/7 and prints 34-1/7; the product is 34 4/7.
    inches = ring_length_mm(parse_section("1 in round"), inside_mm=254.0) / 25.4
    assert inches == pytest.approx(34.5575, abs=0.001)
    assert inches == pytest.approx(11 * 22 / 7, abs=0.02)


def test_a_leaf_is_the_space_between_two_parabolas() -> None:
    # an even sum over slices of the two curves, not the closed formula
    slices = 20_000
    area = sum(60 * (1 - (2 * (i + 0.5) / slices - 1) ** 2) * 120 / slices for i in range(slices))
    volume = solid_volume_mm3("leaf", {"long": 120.0, "wide": 60.0, "thick": 3.0})
    assert volume == pytest.approx(3 * area, rel=1e-6)


def test_a_prismoid_of_the_same_shape_is_the_frustum() -> None:
    # V = h/3 (A1 + A2 + sqrt(A1 A2)), any mensuration table
    a1, a2 = math.pi * 100, math.pi * 25
    frustum = 90 / 3 * (a1 + a2 + math.sqrt(a1 * a2))
    ends: dict[str, Dim] = {
        "start": parse_section("20 mm round"),
        "end": parse_section("10 mm round"),
        "long": 90.0,
    }
    assert solid_volume_mm3("taper", ends) == pytest.approx(frustum)
