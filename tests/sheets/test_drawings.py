"""Drawings are true to their scale, and nothing in them comes from anybody's words."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.job_told import FormPart
from forgelog.sheets.drawings import WIDEST_MM, draw_bar, draw_form, draw_section, line_of_mm
from forgelog.trade.sections import SHAPES, Section, parse_section, problem_of
from forgelog.trade.solids import SOLIDS


def drawn(svg: str) -> ElementTree.Element:
    """The drawing, read strictly; its size on paper is that of its view."""
    root = ElementTree.fromstring(svg)
    wide, high = (float(root.attrib[key].removesuffix("mm")) for key in ("width", "height"))
    assert [float(x) for x in root.attrib["viewBox"].split()] == [0, 0, wide, high]
    return root


def section(text: str) -> tuple[ElementTree.Element, str]:
    drawing = draw_section(parse_section(text), text)
    assert drawing is not None
    return drawn(drawing.svg), drawing.words


def test_a_flat_is_drawn_as_wide_and_as_thick_as_it_is() -> None:
    root, words = section("25 x 12 mm flat")
    (rect,) = root
    assert (rect.attrib["width"], rect.attrib["height"]) == ("25.00", "12.00")
    assert words == "25 x 12 mm flat (full size)"


def test_a_round_has_its_diameter_and_a_tube_its_wall() -> None:
    (circle,) = section("16 mm round")[0]
    assert circle.attrib["r"] == "8.00"
    outer, inner = section("33 x 3 mm tube")[0]
    assert (outer.attrib["r"], inner.attrib["r"]) == ("16.50", "13.50")


@pytest.mark.parametrize(("text", "corners"), [("30 mm octagon", 8), ("30 mm hexagon", 6)])
def test_bars_of_many_sides_are_as_far_across_their_flats(text: str, corners: int) -> None:
    (polygon,) = section(text)[0]
    points = [tuple(map(float, point.split(","))) for point in polygon.attrib["points"].split()]
    assert len(points) == corners
    heights = [y for _, y in points]
    assert max(heights) - min(heights) == pytest.approx(30.0, abs=0.02)
    sides = [math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    assert max(sides) == pytest.approx(min(sides), abs=0.03)


def test_what_is_too_large_is_drawn_smaller_and_says_so() -> None:
    root, words = section("60 mm square")
    assert root[0].attrib["width"] == "30.00"
    assert words == "60 mm square (1 to 2)"
    assert draw_section(parse_section("3 mm sheet"), "3 mm sheet") is None


sizes = st.floats(0.5, 2000.0)


@given(st.sampled_from(sorted(SHAPES)), sizes, sizes, sizes)
def test_any_section_fits_its_frame(kind: str, a: float, b: float, c: float) -> None:
    count = SHAPES[kind]
    one = Section(kind=kind, a_mm=a, b_mm=b if count > 1 else 0.0, c_mm=c if count > 2 else 0.0)
    if problem_of(one) is not None:
        return
    drawing = draw_section(one, "words")
    if drawing is None:
        assert kind == "sheet"
        return
    root = drawn(drawing.svg)
    assert float(root.attrib["width"].removesuffix("mm")) <= WIDEST_MM + 3.01
    assert "nan" not in drawing.svg


@given(st.lists(st.tuples(st.sampled_from(sorted(SOLIDS)), sizes, sizes), max_size=6))
def test_any_row_of_forms_fits_the_paper_with_a_number_for_each(
    rows: list[tuple[str, float, float]],
) -> None:
    square = Section(kind="square", a_mm=20.0)
    parts = [
        FormPart(
            solid=solid,
            dims={
                "long": long,
                "across": wide,
                "wide": wide,
                "section": square,
                "start": square,
                "end": square,
                "inside": wide,
                "thread": "M12",
            },
            words="",
        )
        for solid, long, wide in rows
    ]
    drawing = draw_form(parts)
    if drawing is None:
        return
    root = drawn(drawing.svg)
    assert float(root.attrib["width"].removesuffix("mm")) <= 170
    assert float(root.attrib["height"].removesuffix("mm")) <= 32
    numbers = [int(text.text or "") for text in root if text.tag == "text"]
    assert numbers == [i for i, (solid, _, _) in enumerate(rows, 1) if solid != "hole"]
    assert not re.search(r"nan|inf", drawing.svg)


def test_a_bar_has_a_line_at_the_end_of_each_piece() -> None:
    drawing = draw_bar(1000.0, [200.0, 402.0], "bar of 1000 mm")
    assert drawing is not None
    root = drawn(drawing.svg)
    at = [float(path.attrib["d"][1:].split()[0]) for path in root if path.tag == "path"]
    assert at == pytest.approx([0.5 + 165 * 0.2, 0.5 + 165 * 0.402], abs=0.01)
    assert draw_bar(0.0, [], "nothing") is None


def test_the_line_that_tests_the_printer_is_as_long_as_it_says() -> None:
    (path,) = drawn(line_of_mm(50.0))
    assert path.attrib["d"] == "M0.5 0.5V3.5M0.5 2H50.50M50.50 0.5V3.5"
