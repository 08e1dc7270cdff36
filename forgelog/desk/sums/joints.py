"""Bolts and nuts: engagement, forged blanks, and bolts through a post."""

from __future__ import annotations

import math

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.threads import thread_of
from forgelog.desk.sums.usual import SHORT, STRENGTHS, section, thread_size
from forgelog.trade.engage import engagement_mm, joint
from forgelog.trade.nuts import (
    MILD_UTS_MPA,
    blank_cut_for_mm,
    check_nut,
    galvanised_oversize_mm,
)
from forgelog.trade.sections import write_section
from forgelog.trade.through import GREEN_OAK_SHRINKS, through_bolt

_NO_PROOF = "a sum for comparing sizes: it does not say that a part carries a load"
_H28 = "FED-STD-H28/2B at the limits of the usual classes; shear is half the tensile strength"


def _engage(asked: Asked) -> Answer:
    one = thread_of(asked)
    bolt, nut = asked.number("bolt-uts"), asked.number("nut-uts")
    needed = engagement_mm(one, bolt, nut)
    rows = [
        Row("engagement_mm", "full thread must engage", needed, "fine"),
        Row("threads", "that is, turns", needed / one.pitch_mm, "text"),
        Row("bolt_uts_mpa", "bolt", bolt, "stress"),
        Row("nut_uts_mpa", "nut", nut, "stress"),
    ]
    high = asked.maybe("height")
    if high is not None:
        held = joint(one, high, bolt, nut)
        rows = [
            Row("fails_first", "fails first", held.first),
            *rows,
            Row("height_mm", "at", high, "fine"),
            Row("bolt_breaks_n", "the bolt breaks at", held.breaks_n, "force"),
            Row("bolt_strips_n", "its thread strips at", held.bolt_strips_n, "force"),
            Row("nut_strips_n", "the nut strips at", held.nut_strips_n, "force"),
        ]
    if one.nut_height_mm is not None:
        rows.append(Row("nut_height_mm", "a bought nut is", one.nut_height_mm, "drill"))
    return Answer(one.name, tuple(rows), _H28, "without the chamfered first thread", _NO_PROOF)


def _nut(asked: Asked) -> Answer:
    one = thread_of(asked)
    flats, high = asked.number("flats"), asked.number("height")
    if asked.flag("punched") and asked.flag("drilled"):
        raise CannotSum("a hole is --punched by hand or --drilled on the centre, not both")
    made = "drilled" if asked.flag("drilled") else "punched"
    galvanised = asked.flag("galvanised")
    found = check_nut(
        one,
        flats,
        high,
        made=made,
        bolt_uts_mpa=asked.number("bolt-uts"),
        nut_uts_mpa=asked.number("nut-uts"),
        galvanised=galvanised,
    )
    rows = [
        Row("enough", "enough", found.enough),
        Row("why", "", found.why),
        Row("", "because", found.why),
        Row("wall_mm", "wall at its thinnest", found.wall_mm, "fine"),
        Row("wall_needed_mm", f"wall needed, {made}", found.wall_needed_mm, "fine"),
        Row("threads_caught", "turns of thread caught", found.threads_caught, "text"),
        Row("height_needed_mm", "height needed", found.high_needed_mm, "fine"),
        Row("flats_needed_mm", "across flats needed", math.ceil(found.across_needed_mm), "length"),
        Row("made", "", made),
    ]
    if asked.has("from"):
        bar = asked.section("from")
        cut = blank_cut_for_mm(one, flats, high, bar, made=made)
        rows += [
            Row("blank_length_mm", "cut it", cut, "length"),
            Row("from", "from", write_section(bar)),
        ]
    if galvanised:
        over = galvanised_oversize_mm(one)
        rows.append(Row("tap_oversize_mm", "tap it larger by, after coating", over, "exact"))
    source = f"wall: common practice; height: {_H28}; zinc: ISO 10684, 40 um"
    note = "the height is what is left after flattening and chamfers"
    return Answer(one.name, tuple(rows), source, note, _NO_PROOF)


def _through(asked: Asked) -> Answer:
    one = thread_of(asked)
    thick = asked.number("thickest")
    thin = asked.maybe("thinnest")
    drying = asked.number("drying")
    bolt = through_bolt(
        one,
        thickest_mm=thick,
        thinnest_mm=thin,
        washers_mm=asked.maybe("washers") or 0.0,
        nut_high_mm=asked.maybe("nut"),
        shrink_mm=thick * drying / 100,
        trim_mm=asked.number("trim"),
    )
    rows = (
        Row("bolt_length_mm", "from shoulder to end", bolt.long_mm, "length"),
        Row("thread_length_mm", "thread", bolt.thread_mm, "length"),
        Row(
            "thread_starts_inside_mm",
            "begins inside the face by",
            thick - bolt.thread_from_mm,
            "fine",
        ),
        Row("thread_from_shoulder_mm", "that is, from the shoulder", bolt.thread_from_mm, "length"),
        Row("rod_before_die_mm", "rod before the die", bolt.rod_mm, "drill"),
        Row("hole_mm", "hole through it", bolt.hole_mm, "drill"),
    )
    oak = " to ".join(f"{100 * share:.1f}" for share in GREEN_OAK_SHRINKS)
    note = f"green oak loses {oak} % across on its way to 12 % (Wood Handbook, from memory)"
    source = "thickest + washers + nut + two threads + trim; common practice"
    return Answer(one.name, rows, source, note, _NO_PROOF)


_BOLT = Field(
    name="bolt-uts",
    says="tensile strength of the bolt",
    kind="strength",
    default=f"{MILD_UTS_MPA:g} MPa",
    usual=STRENGTHS,
)
_NUT = Field(
    name="nut-uts",
    says="tensile strength of the nut",
    kind="strength",
    default=f"{MILD_UTS_MPA:g} MPa",
    usual=STRENGTHS,
)
_PITCH = Field(name="pitch", says="another pitch than the tables have", kind="pitch")

SUMS = (
    Sum(
        "engage",
        "How much thread must engage for the bolt to break before a thread strips.",
        (
            thread_size(),
            _BOLT,
            _NUT,
            Field(name="height", says="full thread of the nut", kind="length", usual=SHORT),
            _PITCH,
        ),
        ('M12 --bolt-uts "360 MPa" --nut-uts "360 MPa"', 'M12 --height "6 mm"'),
        _engage,
    ),
    Sum(
        "nut",
        "Whether a forged blank has wall and height enough for a nut.",
        (
            thread_size(),
            Field(
                name="flats",
                says="across flats at its narrowest",
                kind="length",
                needed=True,
                usual=("25 mm", "22 mm", "24 mm", "20 mm", "30 mm", "32 mm", "18 mm", "16 mm"),
            ),
            Field(
                name="height",
                says="height that is left",
                kind="length",
                needed=True,
                usual=("12 mm", "11 mm", "10 mm", "14 mm", "16 mm", "8 mm", "6 mm", "20 mm"),
            ),
            Field(name="punched", says="the hole is punched by hand (the usual)", kind="flag"),
            Field(name="drilled", says="the hole is drilled on the centre", kind="flag"),
            Field(name="galvanised", says="the bolt is galvanised", kind="flag"),
            section("from", "the flat that the blank is cut from", bare=False)._replace(
                needed=False,
                usual=("25 x 12 mm flat", "30 x 12 mm flat", "20 x 10 mm flat", "40 x 20 mm flat"),
            ),
            _BOLT,
            _NUT,
            _PITCH,
        ),
        ('M12 --flats "25 mm" --height "11 mm" --from "25 x 12 mm flat"',),
        _nut,
        one_of=("punched", "drilled"),
    ),
    Sum(
        "through",
        "Length of a forged bolt or tenon through a post, and where its thread begins.",
        (
            thread_size(),
            Field(
                name="thickest",
                says="thickness at its thickest",
                kind="length",
                needed=True,
                usual=("100 mm", "120 mm", "75 mm", "150 mm", "45 mm", "200 mm", "90 mm", "4 in"),
            ),
            Field(
                name="thinnest",
                says="thickness at its thinnest",
                kind="length",
                usual=("98 mm", "96 mm", "118 mm", "73 mm", "148 mm", "43 mm"),
            ),
            Field(
                name="washers", says="all washers together", kind="length", usual=("2.5 mm", "5 mm")
            ),
            Field(
                name="nut",
                says="height of the nut; a bought one's else",
                kind="length",
                usual=SHORT,
            ),
            Field(
                name="drying",
                says="per cent that timber still shrinks",
                kind="percent",
                default="0",
                usual=("0", "3", "6", "8"),
            ),
            Field(
                name="trim",
                says="cut off the end at fitting",
                kind="length",
                default="3 mm",
                usual=("3 mm", "0 mm", "5 mm"),
            ),
            _PITCH,
        ),
        ('M12 --thickest "100 mm" --thinnest "97 mm" --washers "2.5 mm" --drying 6',),
        _through,
    ),
)
