"""What must hold of every section."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from forgelog.trade.sections import (
    Section,
    SectionError,
    area_mm2,
    lumped,
    parse_section,
    perimeter_mm,
    problem_of,
    show_section,
    write_section,
)
from tests.properties.strategies_trade import sections


@given(sections())
def test_a_written_section_is_read_back_the_same(section: Section) -> None:
    assert parse_section(write_section(section)) == section


@given(sections(), st.sampled_from(["mm", "inch"]))
def test_a_shown_section_is_read_back_as_the_same_kind(section: Section, system: str) -> None:
    assume(section.kind not in ("tube", "angle") and min(section.sizes_mm) > 1)
    near = parse_section(show_section(section, system))
    assert near.kind == section.kind
    for size, shown in zip(section.sizes_mm, near.sizes_mm, strict=True):
        assert abs(size - shown) <= 25.4 / 64 + 1e-6


@given(sections())
def test_area_and_outline_obey_the_isoperimetric_rule(section: Section) -> None:
    heat = lumped(section)
    assert 0.5 <= heat.shape_factor <= 2 / 3
    if section.kind != "sheet":
        # no outline holds more than the circle
        assert perimeter_mm(section) ** 2 >= 12.566 * area_mm2(section) * (1 - 1e-9)


@given(st.text(alphabet="0123456789 x×./\"'mincsqurelatdohgb-\x00", max_size=90))
def test_any_text_is_a_section_or_refused_in_words(text: str) -> None:
    refused: SectionError | None = None
    try:
        section = parse_section(text)
    except SectionError as error:
        refused = error
    if refused is None:
        assert problem_of(section) is None
        return
    assert refused.problem
    assert refused.expected
    if refused.hint:
        parse_section(refused.hint)
