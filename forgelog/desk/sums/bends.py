"""Rings, eyes, bends, scrolls, twists and collars: the bar that goes into them."""

from __future__ import annotations

import math

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import LENGTHS, SHORT, section
from forgelog.trade.bars import bar_mass_kg
from forgelog.trade.bends import (
    bend_length_mm,
    bent_bar_mm,
    centre_line_mm,
    collar_length_mm,
    even_scroll_mm,
    helix_mm,
    opening_scroll_mm,
    ring_length_mm,
    sharp_corner_extra_mm,
    thick_mm,
    twist_edge_mm,
)
from forgelog.trade.sections import Section, write_section

_MIDDLE = "mid-thickness"
_SOURCE = "length on the neutral line at mid-thickness, which holds for hot bends of stout bar"
_SCARF = 1.0
"""Thicknesses that a scarf weld takes: rules reach from a third of the thickness to the whole."""


def _developed(long: float) -> tuple[Row, Row]:
    return (
        Row("developed_length_mm", "bar in it", long, "length"),
        Row("neutral_line", "measured at", _MIDDLE),
    )


def _mass(bar: Section, long: float) -> tuple[Row, ...]:
    if bar.kind == "sheet":
        return ()
    return (Row("mass_kg", "it weighs", bar_mass_kg(bar, long), "mass"),)


def _ring(asked: Asked) -> Answer:
    bar = asked.section("section")
    sizes = {
        "inside_mm": asked.maybe("inside"),
        "outside_mm": asked.maybe("outside"),
        "centre_line_mm": asked.maybe("centre-line"),
    }
    if sum(size is not None for size in sizes.values()) != 1:
        raise CannotSum("give one of --inside, --outside and --centre-line, and only one")
    long = ring_length_mm(bar, **sizes)
    centre = centre_line_mm(bar, **sizes)
    thick = thick_mm(bar)
    rows = [
        *_developed(long),
        Row("inside_mm", "inside", centre - thick, "fine"),
        Row("centre_line_mm", "centre line", centre, "fine"),
        Row("outside_mm", "outside", centre + thick, "fine"),
        *_mass(bar, long),
    ]
    note = "an eye or ring that is welded takes more: a scarf about one thickness"
    if asked.flag("welded"):
        rows.insert(2, Row("cut_mm", "cut it, with a scarf", long + _SCARF * thick, "length"))
        note = (
            "a scarf takes a third of the thickness to the whole by different rules; one is taken"
        )
    return Answer(write_section(bar), tuple(rows), _SOURCE, note)


def _bend(asked: Asked) -> Answer:
    bar = asked.section("section")
    thick = thick_mm(bar)
    angle, inside = asked.number("angle"), asked.number("inside-radius")
    arc = bend_length_mm(inside, angle, thick)
    rows = [
        Row("neutral_line", "measured at", _MIDDLE),
        Row("arc_mm", "in the bend itself", arc, "fine"),
        Row("inside_radius_mm", "inside radius", inside, "fine"),
        Row("angle_deg", "angle", f"{angle:g} degrees"),
    ]
    note = ""
    if asked.has("legs"):
        sizes = asked.lengths("legs")
        long = bent_bar_mm(sizes, inside, thick, angle)
        if asked.flag("sharp"):
            extra = sharp_corner_extra_mm(thick) * (len(sizes) - 1)
            long += extra
            rows.append(Row("sharp_extra_mm", "for sharp corners, within it", extra, "fine"))
            note = "a sharp, upset corner takes a quarter of the thickness more (FAO Bulletin 88/1)"
        numbers = {str(place): size for place, size in enumerate(sizes, 1)}
        rows.append(Row("legs_mm", "legs, outside", numbers, "length"))
    else:
        long = arc
        if asked.flag("sharp"):
            raise CannotSum("--sharp goes with --legs")
    first = Row("developed_length_mm", "bar in it", long, "length")
    return Answer(write_section(bar), (first, *rows, *_mass(bar, long)), _SOURCE, note)


def _scroll(asked: Asked) -> Answer:
    bar = asked.section("section")
    inner, outer, turns = asked.number("inner"), asked.number("outer"), asked.number("turns")
    even = asked.word("kind") == "even"
    long = (even_scroll_mm if even else opening_scroll_mm)(inner, outer, turns)
    rows = (
        Row("developed_length_mm", "bar in it", long, "length"),
        Row("neutral_line", "measured at", "centre line of the bar"),
        Row("kind", "turns lie", "evenly apart" if even else "ever wider apart"),
        Row("turns", "turns", turns, "text"),
        *_mass(bar, long),
    )
    source = "arc length of the Archimedean spiral" if even else "arc length of the log spiral"
    note = "radii are to the centre line of the bar; a scroll drawn by eye differs: try one in wire"
    return Answer(write_section(bar), rows, source, note)


def _twist(asked: Asked) -> Answer:
    bar = asked.section("section")
    turns = asked.number("turns")
    if asked.has("across"):
        if not asked.has("rise"):
            raise CannotSum("a helix wants --rise, how far a turn climbs, beside --across")
        long = helix_mm(asked.number("across"), asked.number("rise"), turns)
        rows: tuple[Row, ...] = (
            Row("developed_length_mm", "bar in it", long, "length"),
            Row("neutral_line", "measured at", "centre line of the bar"),
            Row("height_mm", "it stands", asked.number("rise") * turns, "length"),
            *_mass(bar, long),
        )
        return Answer(write_section(bar), rows, "n sqrt((pi D)^2 + p^2)")
    if not asked.has("length"):
        raise CannotSum('a twist wants --length; a helix --across and --rise: --length "200 mm"')
    long = asked.number("length")
    edge = twist_edge_mm(bar, long, turns)
    rows = (
        Row("developed_length_mm", "bar in it", long, "length"),
        Row("neutral_line", "measured along", "the axis, which keeps its length"),
        Row("edge_mm", "its corners grow to", edge, "length"),
        Row("edge_stretch_percent", "that is, longer by", 100 * (edge / long - 1), "percent"),
        Row("turns", "turns", turns, "text"),
        Row("mm_per_turn", "a turn in", long / turns if turns else math.inf, "length"),
    )
    note = "a tight twist draws the bar a little shorter: measure the first"
    return Answer(write_section(bar), rows, "geometry of the helix on the corners", note)


def _collar(asked: Asked) -> Answer:
    bar = asked.section("section")
    thick = min(bar.a_mm, bar.b_mm) if bar.kind == "flat" else bar.a_mm
    long = collar_length_mm(asked.number("wide"), asked.number("high"), thick)
    rows = (*_developed(long), *_mass(bar, long))
    note = "butted; smiths' rules add two to four thicknesses to the inside, lapped ones more"
    return Answer(write_section(bar), rows, "2 (w + h) + pi t", note)


def _round(name: str, says: str, first: str, example: str) -> Sum:
    return Sum(
        name,
        says,
        (
            section("section", "the bar; of a flat its second size lies across the bend"),
            Field(name="inside", says=first, kind="length", usual=(*SHORT, "13 mm", "100 mm")),
            Field(name="outside", says="diameter over all", kind="length", usual=SHORT),
            Field(name="centre-line", says="diameter of the middle", kind="length", usual=SHORT),
            Field(name="welded", says="add a scarf", kind="flag"),
        ),
        (example,),
        _ring,
        one_of=("inside", "outside", "centre-line"),
    )


SUMS = (
    _round(
        "ring", "Bar in a closed ring.", "diameter of the hole", '"10 mm round" --inside "60 mm"'
    ),
    _round(
        "eye",
        "Bar in an eye rolled full circle.",
        "hole for the pin",
        '"40 x 8 mm flat" --inside "16 mm"',
    ),
    Sum(
        "bend",
        "Bar in a bend, or in a bar with several legs.",
        (
            section("section", "the bar; of a flat its second size lies across the bend"),
            Field(
                name="angle",
                says="through how much it is bent, degrees",
                kind="angle",
                default="90",
                usual=("90", "45", "60", "120", "180", "30"),
            ),
            Field(
                name="inside-radius",
                says="radius inside the bend",
                kind="length",
                default="0 mm",
                usual=("0 mm", "5 mm", "10 mm", "20 mm", "30 mm"),
            ),
            Field(
                name="legs",
                says="legs measured outside, with commas",
                kind="lengths",
                usual=("100, 100 mm", "150, 100 mm", "100, 200, 100 mm"),
            ),
            Field(name="sharp", says="the corners are upset sharp", kind="flag"),
        ),
        (
            '"12 mm square" --legs "120, 80 mm" --sharp',
            '"12 mm round" --angle 180 --inside-radius "20 mm"',
        ),
        _bend,
    ),
    Sum(
        "scroll",
        "Bar in a scroll.",
        (
            section(),
            Field(
                name="inner", says="radius where it begins", kind="length", needed=True, usual=SHORT
            ),
            Field(
                name="outer",
                says="radius where it ends",
                kind="length",
                needed=True,
                usual=("60 mm", "40 mm", "50 mm", "75 mm", "100 mm"),
            ),
            Field(
                name="turns",
                says="how many turns",
                kind="number",
                needed=True,
                usual=("2", "1.5", "2.5", "1.75", "3", "1"),
            ),
            Field(
                name="kind",
                says="turns evenly apart, or opening",
                kind="word",
                choices=("opening", "even"),
                default="opening",
                usual=("opening", "even"),
            ),
        ),
        ('"12 x 6 mm flat" --inner "8 mm" --outer "40 mm" --turns 1.75',),
        _scroll,
    ),
    Sum(
        "twist",
        "Bar in a twist; with --across and --rise in a basket or spring.",
        (
            section(),
            Field(name="length", says="length that is twisted", kind="length", usual=LENGTHS),
            Field(
                name="turns",
                says="how many turns",
                kind="number",
                needed=True,
                usual=("1", "2", "3", "0.5", "4"),
            ),
            Field(
                name="across", says="diameter of a helix, centre line", kind="length", usual=SHORT
            ),
            Field(
                name="rise", says="how far a turn of a helix climbs", kind="length", usual=LENGTHS
            ),
        ),
        (
            '"12 mm square" --length "150 mm" --turns 2',
            '"8 mm round" --across "60 mm" --rise "120 mm" --turns 1',
        ),
        _twist,
    ),
    Sum(
        "collar",
        "Bar in a collar round a bundle.",
        (
            section("section", "the bar of the collar"),
            Field(name="wide", says="width of the bundle", kind="length", needed=True, usual=SHORT),
            Field(
                name="high", says="height of the bundle", kind="length", needed=True, usual=SHORT
            ),
        ),
        ('"20 x 5 mm flat" --wide "24 mm" --high "12 mm"',),
        _collar,
    ),
)
