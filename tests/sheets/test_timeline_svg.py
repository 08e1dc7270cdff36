"""The session drawn for paper: true to the minute, without colour, and harmless."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.review_facts import SpanTold, StoodTold, TimelineTold
from forgelog.sheets.timeline_svg import NAME_MM, THINNEST_MM, TOTAL_MM, WIDE_MM, draw_timeline
from tests.sheets.test_hostile import HOSTILE

SVG = "{http://www.w3.org/2000/svg}"


def span(doing: str, from_min: float, to_min: float, piece: str = "strap left 1") -> SpanTold:
    return SpanTold(
        workpiece=piece,
        piece=piece,
        slot=piece,
        doing=doing,
        step="eye",
        from_min=from_min,
        to_min=to_min,
        work_min=to_min - from_min,
    )


def line(
    *spans: SpanTold, stood: tuple[StoodTold, ...] = (), length_min: float = 100.0
) -> TimelineTold:
    return TimelineTold(
        session="s",
        began="2026-01-30T08:15:00+00:00",
        began_local_s=8.25 * 3600.0,
        length_min=length_min,
        worked_min=length_min,
        hand_min=1.0,
        bench_min=0.0,
        fire_min=1.0,
        lit_min=length_min,
        idle_share=0.5,
        spans=spans,
        stood=stood,
    )


def drawn(told: TimelineTold) -> ElementTree.Element:
    made = draw_timeline(told)
    assert made is not None
    return ElementTree.fromstring(made.svg)


def bars(svg: ElementTree.Element) -> list[dict[str, str]]:
    """The bars of the pieces, without those that say what a filling means."""
    return [r.attrib for r in svg.findall(f"{SVG}rect")][:-4]


def test_a_bar_begins_and_ends_where_its_minutes_do() -> None:
    (bar,) = bars(drawn(line(span("rest", 25.0, 75.0))))
    scale = (WIDE_MM - NAME_MM - TOTAL_MM) / 100.0
    assert float(bar["x"]) == round(NAME_MM + 25.0 * scale, 2)
    assert float(bar["width"]) == round(50.0 * scale, 2)


def test_a_heat_of_seconds_is_seen_beside_a_rest_of_hours_and_lies_above_it() -> None:
    told = line(span("hand", 10.0, 10.05), span("rest", 0.0, 900.0), length_min=900.0)
    rest, hand = bars(drawn(told))
    assert float(hand["width"]) == THINNEST_MM
    assert float(hand["height"]) > float(rest["height"])


def test_the_four_doings_differ_in_filling_without_any_colour() -> None:
    spans = [
        span(d, 10.0 * i, 10.0 * i + 9.0) for i, d in enumerate(("hand", "fire", "rest", "bench"))
    ]
    svg = draw_timeline(line(*spans))
    assert svg is not None
    found = bars(ElementTree.fromstring(svg.svg))
    assert len({bar["fill"] for bar in found}) == 4
    for colour in re.findall(r"#[0-9a-f]{3,6}", svg.svg):
        assert len(set(colour[1:])) == 1, "black, grey and white alone"


def test_times_of_day_stand_over_the_marks_and_a_pause_is_drawn() -> None:
    svg = drawn(
        line(span("hand", 0.0, 1.0), stood=(StoodTold(why="paused", from_min=10.0, to_min=40.0),))
    )
    words = [t.text for t in svg.findall(f"{SVG}text")]
    assert "08:30" in words
    assert "08:15" in words or "09:00" in words
    assert "pause" in words
    assert words.count("1:00") == 1


def test_nothing_worked_is_not_drawn() -> None:
    assert draw_timeline(line()) is None


def test_hostile_names_are_words_of_the_drawing_and_nothing_else() -> None:
    for words in HOSTILE:
        svg = draw_timeline(line(span("hand", 0.0, 5.0, piece=words)))
        assert svg is not None
        root = ElementTree.fromstring(svg.svg.encode("utf-8", "surrogatepass"))
        tags = {element.tag.removeprefix(SVG) for element in root.iter()}
        assert tags <= {"svg", "defs", "pattern", "path", "circle", "rect", "text"}
        names = {name for element in root.iter() for name in element.attrib}
        assert not any(name.startswith("on") or "href" in name for name in names)


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["hand", "fire", "rest", "bench"]),
            st.floats(0.0, 900.0),
            st.floats(0.0, 900.0),
            st.integers(0, 5),
        ),
        min_size=1,
        max_size=12,
    )
)
def test_every_span_is_drawn_and_within_the_page(
    spans: list[tuple[str, float, float, int]],
) -> None:
    told = line(
        *(span(d, min(a, b), max(a, b), f"strap {n}") for d, a, b, n in spans), length_min=900.0
    )
    made = draw_timeline(told)
    if made is None:
        assert all(d == "rest" and min(a, b) == 0.0 for d, a, b, _ in spans)
        return
    for bar in bars(ElementTree.fromstring(made.svg)):
        assert float(bar["x"]) >= NAME_MM - 0.01
        assert float(bar["x"]) + float(bar["width"]) <= WIDE_MM - TOTAL_MM + THINNEST_MM + 0.01
    assert max(map(len, made.lines)) <= 80


def test_the_same_session_gives_the_same_drawing() -> None:
    told = line(span("hand", 0.0, 5.0))
    assert draw_timeline(told) == draw_timeline(msgspec.structs.replace(told))
