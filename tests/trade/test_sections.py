"""Sections of bar as smiths write them."""

from __future__ import annotations

import pytest

from forgelog.trade.sections import (
    Section,
    SectionError,
    area_mm2,
    lumped,
    mass_kg_per_m,
    parse_section,
    perimeter_mm,
    show_section,
    write_section,
)


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ("25 x 12 mm flat", Section(kind="flat", a_mm=25, b_mm=12)),
        ("25x12mm flat", Section(kind="flat", a_mm=25, b_mm=12)),
        ("25 × 12 mm flat bar", Section(kind="flat", a_mm=25, b_mm=12)),
        ("flat 25 by 12 mm", Section(kind="flat", a_mm=25, b_mm=12)),
        ("40 mm x 8 mm flat", Section(kind="flat", a_mm=40, b_mm=8)),
        ("1 1/2 x 3/8 in flat", Section(kind="flat", a_mm=38.1, b_mm=9.525)),
        ('1-1/2" x 3/8" flat', Section(kind="flat", a_mm=38.1, b_mm=9.525)),
        ("1 in x 6 mm flat", Section(kind="flat", a_mm=25.4, b_mm=6)),
        ("12 mm square", Section(kind="square", a_mm=12)),
        ("12 mm sq bar", Section(kind="square", a_mm=12)),
        ("½ in round", Section(kind="round", a_mm=12.7)),
        ("16 mm dia.", Section(kind="round", a_mm=16)),
        ("Ø16 mm", Section(kind="round", a_mm=16)),
        ("12 mm sq.", Section(kind="square", a_mm=12)),
        ("19 mm hex", Section(kind="hexagon", a_mm=19)),
        ("20 mm Octagon", Section(kind="octagon", a_mm=20)),
        ("3 mm plate", Section(kind="sheet", a_mm=3)),
        ("40 x 40 x 4 mm angle", Section(kind="angle", a_mm=40, b_mm=40, c_mm=4)),
        ("33.7 x 3.2 mm tube", Section(kind="tube", a_mm=33.7, b_mm=3.2)),
        ("33.7 x 3.2 mm round tube", Section(kind="tube", a_mm=33.7, b_mm=3.2)),
    ],
)
def test_sections_as_smiths_write_them_are_read(text: str, section: Section) -> None:
    assert parse_section(text) == section


@pytest.mark.parametrize(
    ("text", "problem", "hint"),
    [
        ("25x12 flat mm", 'goes on with "mm"', "25x12 mm flat"),
        ("25 x 12 mm", "does not say which bar", "25 x 12 mm flat"),
        ("12 mm", "does not say which bar", "12 mm square"),
        ("", "does not say which bar", ""),
        ("12 mm sqare", 'has "sqare"', "12 mm square"),
        ("12 square", "has no unit", "12 mm square"),
        ("40 mm x 8 flat", "has no unit", "40 mm x 8 mm flat"),
        ("25 mm flat", "does not give two sizes", ""),
        ("12 x 12 mm square", "does not give one size", "12 mm square"),
        ("30 x 20 mm square", "does not give one size", "30 x 20 mm flat"),
        ("40 x 4 mm angle", "does not give three sizes, which an angle", "40 x 40 x 4 mm angle"),
        ("12 mm round square", "is both", ""),
        ("30 x 30 x 3 mm square tube", "is both", ""),
        ("10 x 6 mm tube", "has a wall that fills the tube", ""),
        ("5 x 5 x 5 mm angle", "is thicker than its leg", ""),
        ("0 mm round", "has a size of nothing", ""),
        ("9999 mm round", "has a size of nothing", ""),
        ("12 x mm flat", "has no number", ""),
        ("1/0 in round", "divides by nothing", ""),
        ("x" * 90, "is longer than 80", ""),
    ],
)
def test_a_section_that_is_none_is_refused_in_plain_words(
    text: str, problem: str, hint: str
) -> None:
    with pytest.raises(SectionError) as caught:
        parse_section(text)
    assert problem in caught.value.problem
    assert caught.value.hint == hint
    assert caught.value.expected


def test_a_section_is_shown_in_the_units_of_the_shop() -> None:
    flat = parse_section("1 1/2 x 3/8 in flat")
    assert show_section(flat) == "38.1 x 9.5 mm flat"
    assert show_section(flat, "inch") == "1 1/2 x 3/8 in flat"
    assert write_section(flat) == "38.1 x 9.525 mm flat"


@pytest.mark.parametrize(
    ("text", "area", "outline", "factor"),
    [
        ("12 mm square", 144.0, 48.0, 2 / 3),
        ("12 mm round", 113.097, 37.699, 0.5),
        ("30 x 8 mm flat", 240.0, 76.0, 0.628),
        ("60 x 12 mm flat", 720.0, 144.0, 0.611),
        ("20 mm octagon", 331.371, 66.274, 0.53),
        ("40 x 40 x 4 mm angle", 304.0, 160.0, 0.5),
        ("33.7 x 3.2 mm tube", 306.62, 105.872, 0.5),
    ],
)
def test_area_outline_and_shape_factor_of_a_section(
    text: str, area: float, outline: float, factor: float
) -> None:
    section = parse_section(text)
    assert area_mm2(section) == pytest.approx(area, abs=0.01)
    assert perimeter_mm(section) == pytest.approx(outline, abs=0.01)
    heat = lumped(section)
    assert heat.shape_factor == pytest.approx(factor, abs=0.0006)
    assert heat.area_per_perimeter_mm == pytest.approx(area / outline, abs=0.001)


def test_a_flat_standing_on_edge_is_the_same_bar_to_the_heat() -> None:
    lying, standing = parse_section("30 x 8 mm flat"), parse_section("8 x 30 mm flat")
    assert lumped(lying) == lumped(standing)


def test_a_sheet_has_no_area_until_its_width_is_known() -> None:
    sheet = parse_section("3 mm sheet")
    for sum_of in (area_mm2, perimeter_mm, mass_kg_per_m):
        with pytest.raises(SectionError, match="has no width"):
            sum_of(sheet)
    assert lumped(sheet).area_per_perimeter_mm == 1.5
