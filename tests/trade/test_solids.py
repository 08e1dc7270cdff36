"""The simple forms of a finished piece and their volumes."""

from __future__ import annotations

import math

import pytest

from forgelog.trade.errors import SumError
from forgelog.trade.sections import SectionError, parse_section
from forgelog.trade.solids import SOLIDS, Dim, check_keys, solid_volume_mm3
from forgelog.trade.threads import ThreadError


def test_every_form_of_the_table_has_a_volume() -> None:
    sample: dict[str, Dim] = {
        "across": 20.0,
        "wide": 30.0,
        "thick": 4.0,
        "long": 50.0,
        "section": parse_section("10 mm round"),
        "start": parse_section("20 mm square"),
        "end": parse_section("8 mm square"),
        "inside": 40.0,
        "thread": "M12",
    }
    for kind, solid in SOLIDS.items():
        one = [key for key in solid.one_of if key in sample][:1]
        dims = {key: sample[key] for key in [*solid.needs, *one]}
        volume = solid_volume_mm3(kind, dims)
        assert (volume < 0) is solid.takes_away, kind
        assert 10 < abs(volume) < 1e5, kind


def test_a_hole_takes_material_away() -> None:
    round_hole = solid_volume_mm3("hole", {"across": 10.0, "long": 20.0})
    square_hole = solid_volume_mm3("hole", {"section": parse_section("10 mm square"), "long": 20.0})
    assert round_hole == pytest.approx(-math.pi / 4 * 2000)
    assert square_hole == pytest.approx(-2000)


def test_the_rod_for_a_thread_has_the_size_before_the_die() -> None:
    assert solid_volume_mm3("rod for thread", {"thread": "M12", "long": 100.0}) == pytest.approx(
        math.pi / 4 * 11.825**2 * 100
    )


def test_the_three_sizes_of_one_ring_give_one_volume() -> None:
    bar = parse_section("10 mm round")
    inside = solid_volume_mm3("ring", {"section": bar, "inside": 60.0})
    outside = solid_volume_mm3("ring", {"section": bar, "outside": 80.0})
    middle = solid_volume_mm3("eye", {"section": bar, "centre_line": 70.0})
    assert inside == pytest.approx(outside) == pytest.approx(middle)
    assert inside == pytest.approx(math.pi**2 * 70 * 100 / 4)


def test_a_flat_bends_across_its_second_size() -> None:
    easy = solid_volume_mm3("eye", {"section": parse_section("40 x 8 mm flat"), "inside": 16.0})
    edge = solid_volume_mm3("eye", {"section": parse_section("8 x 40 mm flat"), "inside": 16.0})
    assert easy == pytest.approx(320 * math.pi * 24)
    assert edge == pytest.approx(320 * math.pi * 56)


def test_a_taper_between_two_shapes_lies_between_the_taper_of_each() -> None:
    def taper(start: str, end: str) -> float:
        ends = {"start": parse_section(start), "end": parse_section(end)}
        return solid_volume_mm3("taper", {**ends, "long": 100.0})

    square = taper("20 mm square", "10 mm square")
    round_ = taper("20 mm round", "10 mm round")
    assert round_ < taper("20 mm square", "10 mm round") < square


@pytest.mark.parametrize(
    ("kind", "dims", "words"),
    [
        ("cube", {}, 'there is no form "cube"'),
        ("round", {"across": 10.0}, 'a round needs "long": its length'),
        ("ring", {"inside": 10.0}, 'a ring needs "section"'),
        ("octagon", {"wide": 1.0, "across": 10.0, "long": 1.0}, 'an octagon has no "wide"'),
        ("ball", {"across": 0.0}, "the across is 0 mm; it must be above 0"),
        ("ball", {"across": math.nan}, "must be above 0"),
        ("ball", {"across": "M12"}, '"across" of a ball is a length'),
        ("bar", {"section": 12.0, "long": 5.0}, '"section" of a bar is a section'),
        ("rod for thread", {"thread": 12.0, "long": 5.0}, '"thread" of a rod for thread is a name'),
        ("hole", {"long": 5.0}, "a hole takes exactly one of across, section; it has none"),
    ],
)
def test_a_form_that_cannot_be_is_refused_in_plain_words(
    kind: str, dims: dict[str, Dim], words: str
) -> None:
    with pytest.raises(SumError) as caught:
        solid_volume_mm3(kind, dims)
    assert words in str(caught.value)


def test_a_ring_of_two_sizes_is_refused() -> None:
    bar = parse_section("10 mm round")
    with pytest.raises(SumError, match="it has inside and outside"):
        check_keys("ring", {"section": bar, "inside": 60.0, "outside": 80.0})
    with pytest.raises(SumError, match="too thick"):
        solid_volume_mm3("ring", {"section": bar, "outside": 19.0})


def test_a_form_of_a_thing_without_area_or_thread_is_refused() -> None:
    with pytest.raises(SectionError, match="has no width"):
        solid_volume_mm3("bar", {"section": parse_section("3 mm sheet"), "long": 10.0})
    with pytest.raises(ThreadError, match="not a size"):
        solid_volume_mm3("rod for thread", {"thread": "M13", "long": 10.0})
    with pytest.raises(SumError, match="taper of angle"):
        solid_volume_mm3(
            "taper",
            {
                "start": parse_section("40 x 40 x 4 mm angle"),
                "end": parse_section("10 mm square"),
                "long": 10.0,
            },
        )
