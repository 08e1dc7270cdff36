"""Bars: area, outline, mass."""

from __future__ import annotations

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import LENGTHS, section
from forgelog.trade.bars import bar_length_mm, bar_mass_kg, tolerance_mm
from forgelog.trade.sections import (
    area_mm2,
    mass_kg_per_m,
    perimeter_mm,
    sheet_kg_per_m2,
    write_section,
)

_SOURCE = "geometry with sharp corners; 7850 kg/m3 as in EN 10058, 10059, 10060 and 10061"


def _bar(asked: Asked) -> Answer:
    bar = asked.section("section")
    long = asked.maybe("length")
    if bar.kind == "sheet":
        per_m2 = sheet_kg_per_m2(bar.a_mm)
        return Answer(
            write_section(bar),
            (
                Row("mass_kg_per_m2", "a square metre weighs", per_m2, "sheet"),
                Row("thick_mm", "thickness", bar.a_mm, "fine"),
            ),
            _SOURCE,
            "a sheet has no width: give it as a flat for its area, like 200 x 3 mm flat",
        )
    rows = [
        Row("mass_kg_per_m", "a metre weighs", mass_kg_per_m(bar), "mass a metre"),
        Row("area_mm2", "area", area_mm2(bar), "area"),
        Row("perimeter_mm", "outline", perimeter_mm(bar), "length"),
    ]
    if long is not None:
        rows = [
            Row("mass_kg", "it weighs", bar_mass_kg(bar, long), "mass"),
            *rows,
            Row("length_mm", "length", long, "length"),
            Row(
                "surface_m2", "surface, without its ends", perimeter_mm(bar) * long / 1e6, "surface"
            ),
        ]
    off = tolerance_mm(bar)
    if off is not None:
        names = ("width", "thickness") if len(off) == 2 else ("side or diameter",)
        table = dict(zip(names, off, strict=True))
        rows.append(Row("tolerance_mm", "a rolled bar may be off by", table, "drill"))
    note = "rolled corners are a little round: 12 mm square is up to 1 % lighter"
    return Answer(write_section(bar), tuple(rows), _SOURCE, note if bar.kind == "square" else "")


def _weight(asked: Asked) -> Answer:
    bar = asked.section("section")
    long, kg = asked.maybe("length"), asked.maybe("mass")
    if (long is None) == (kg is None):
        raise CannotSum("weight wants --length or --mass, one of the two: --length 2 m")
    if long is not None:
        count = asked.number("count")
        one = bar_mass_kg(bar, long)
        rows = (
            Row("mass_kg", "it weighs", one * count, "mass"),
            Row("mass_each_kg", "each weighs" if count != 1 else "", one, "mass"),
            Row("value", "", one * count),
            Row("unit", "", "kg"),
        )
    else:
        assert kg is not None
        mm = bar_length_mm(bar, kg)
        rows = (
            Row("length_mm", "so long is it", mm, "length"),
            Row("value", "", mm),
            Row("unit", "", "mm"),
            Row("mass_kg", "weight", kg, "mass"),
        )
    return Answer(write_section(bar), rows, _SOURCE)


_LENGTH = Field(name="length", says="how long it is", kind="length", usual=LENGTHS)

SUMS = (
    Sum(
        "bar",
        "Area, outline and mass of a bar; with a length its mass and surface as well.",
        (section(), _LENGTH),
        ('"25 x 12 mm flat" --length "2 m"', '"1/2 in square"', '"33.7 x 3.2 mm tube"'),
        _bar,
    ),
    Sum(
        "weight",
        "What a length of bar weighs, or how long a weight of bar is.",
        (
            section(),
            _LENGTH,
            Field(
                name="mass",
                says="what it weighs",
                kind="mass",
                usual=("1 kg", "500 g", "2 kg", "900 g"),
            ),
            Field(
                name="count",
                says="how many such pieces",
                kind="number",
                default="1",
                usual=("1", "2", "4", "6", "10", "12"),
            ),
        ),
        ('"45 mm square" --mass "0.9 kg"', '"12 mm square" --length "300 mm" --count 6'),
        _weight,
        one_of=("length", "mass"),
    ),
)
