"""Threads: everything that the tables and the profile say of one."""

from __future__ import annotations

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import thread_size
from forgelog.trade.engage import shear_mm2_per_mm, thread_percent
from forgelog.trade.limits import limits
from forgelog.trade.threads import Thread, ThreadError, special_thread, thread

_SOURCES = {
    "metric": (
        "ISO 261, 724 and 898-1; drill ISO 2306, nut ISO 4032, square DIN 557, holes ISO 273, "
        "limits ISO 965-1; "
        "stripping areas FED-STD-H28/2B"
    ),
    "UNC": (
        "ASME B1.1; drill ASME B94.9 practice, nut ASME B18.2.2, holes ASME B18.2.8 (from "
        "memory); stripping areas FED-STD-H28/2B"
    ),
    "BSW": "BS 84; drill BS 1157, nut BS 1083 (from memory), holes ASME B18.2.8 (from memory)",
}


def thread_of(asked: Asked, name: str = "size") -> Thread:
    """The thread that was asked: of the tables, or any size by its pitch.

    Raises:
        CannotSum: there is no such thread.
    """
    text, pitch = asked.word(name), asked.maybe("pitch")
    try:
        if pitch is None:
            return _by_name(text)
        return special_thread(_size_mm(text), abs(pitch), inch=pitch < 0)
    except ThreadError as error:
        known = " (or any size by its --pitch)" if pitch is None and asked.has("size") else ""
        raise CannotSum(f"{error}{known}") from None


def _by_name(text: str) -> Thread:
    """A thread of the tables, or one whose name gives a size and a pitch that no table has."""
    try:
        return thread(text)
    except ThreadError:
        import re

        match = re.fullmatch(r"[mM] ?(\d{1,3}(?:\.\d+)?) ?[x×*] ?(\d?(?:\.\d+)?)", text.strip())
        if match is None or not match[2].strip("."):
            raise
        return special_thread(float(match[1]), float(match[2]))


def _size_mm(text: str) -> float:
    import re

    from forgelog.trade.thread_tables import INCH_SIZES_MM
    from forgelog.units.read import parse_length

    match = re.fullmatch(r"[mM] ?(\d{1,3}(?:\.\d+)?)", text.strip())
    if match:
        return float(match[1])
    known = INCH_SIZES_MM.get(text.strip().replace(" ", "-"))
    return parse_length(text) if known is None else known


def _thread(asked: Asked) -> Answer:
    one = thread_of(asked)
    edge = limits(one)
    bolt_area, nut_area = shear_mm2_per_mm(one)
    holes = one.clearance_mm
    clearance = None
    if holes is not None:
        clearance = dict(zip(("close", "medium", "coarse"), holes, strict=True))
    drill = _drill_words(one)
    rows = (
        Row("tap_drill_mm", "tap drill", one.tap_drill_mm, "drill"),
        Row("tap_drill_name" if drill else "", "that is" if drill else "", drill),
        Row(
            "engagement_percent", "of full thread", thread_percent(one, one.tap_drill_mm), "percent"
        ),
        Row("rod_before_die_mm", "rod before the die", one.rod_before_die_mm, "drill"),
        Row("name", "", one.name),
        Row("pitch_mm", "pitch", one.pitch_mm, "exact"),
        Row("threads_per_inch", "threads an inch", one.threads_per_inch, "text"),
        Row("major_mm", "outside", one.major_mm, "exact"),
        Row("pitch_diameter_mm", "pitch diameter", one.pitch_diameter_mm, "exact"),
        Row("minor_internal_mm", "minor of the nut", one.minor_mm, "exact"),
        Row("minor_external_mm", "root of the bolt", one.root_mm, "exact"),
        Row("stress_area_mm2", "stress area", one.stress_area_mm2, "area"),
        Row("nut_across_flats_mm", "nut across flats", one.nut_across_mm, "drill"),
        Row("nut_height_mm", "nut height", one.nut_height_mm, "drill"),
        *_square_nut(one),
        Row("clearance_hole_mm", "hole for it", clearance, "drill"),
        Row("stripping_area_bolt_mm2_per_mm", "strips, bolt", bolt_area, "area a length"),
        Row("stripping_area_nut_mm2_per_mm", "strips, nut", nut_area, "area a length"),
        Row("limits", "", _limits(one)),
        Row(
            "",
            f"bolt {edge.bolt_class} outside",
            [edge.bolt_major_min_mm, edge.bolt_major_max_mm],
            "exact",
        ),
        Row(
            "",
            f"bolt {edge.bolt_class} pitch",
            [edge.bolt_pitch_min_mm, edge.bolt_pitch_max_mm],
            "exact",
        ),
        Row(
            "",
            f"nut {edge.nut_class} minor",
            [edge.nut_minor_min_mm, edge.nut_minor_max_mm],
            "exact",
        ),
        Row(
            "",
            f"nut {edge.nut_class} pitch",
            [edge.nut_pitch_min_mm, edge.nut_pitch_max_mm],
            "exact",
        ),
    )
    source = _SOURCES.get("UNC" if one.series.startswith("UN") else one.series, "")
    old = thread_percent(one, one.tap_drill_mm, "old")
    note = f"100 % of thread is 1.0825 P (ISO); older books call 1.299 P full: {old:.0f} %"
    if not one.listed:
        note = f"no table has this size and pitch: by its profile alone; {note}"
    return Answer(one.name, rows, source, note)


def _square_nut(one: Thread) -> tuple[Row, ...]:
    """A bought square nut, as a guide for a forged one; nothing where the tables have none."""
    nut = one.square_nut_mm
    if nut is None:
        return ()
    return (
        Row("square_nut_across_flats_mm", "square nut across flats", nut[0], "drill"),
        Row("square_nut_height_mm", "square nut height", nut[1], "drill"),
    )


def _limits(one: Thread) -> dict[str, dict[str, float]]:
    edge = limits(one)
    if edge.bolt_class == "basic":
        return {}
    return {
        edge.bolt_class: {
            "major_max_mm": edge.bolt_major_max_mm,
            "major_min_mm": edge.bolt_major_min_mm,
            "pitch_max_mm": edge.bolt_pitch_max_mm,
            "pitch_min_mm": edge.bolt_pitch_min_mm,
        },
        edge.nut_class: {
            "minor_min_mm": edge.nut_minor_min_mm,
            "minor_max_mm": edge.nut_minor_max_mm,
            "pitch_min_mm": edge.nut_pitch_min_mm,
            "pitch_max_mm": edge.nut_pitch_max_mm,
        },
    }


def _drill_words(one: Thread) -> str:
    """The name of the drill of an inch thread: "#7", "letter F", "27/64 in"."""
    if one.series not in ("UNC", "UNF"):
        return ""
    from forgelog.trade.drills import near_drill

    name, mm = near_drill(one.tap_drill_mm)
    return name if abs(mm - one.tap_drill_mm) < 0.005 else ""


SUMS = (
    Sum(
        "thread",
        "A thread: sizes, drill, rod before the die, nut, holes, limits, stripping areas.",
        (
            thread_size("the thread: M12, M12 x 1.25, 1/2 UNC, 10 UNF, 3/8 BSW"),
            Field(
                name="pitch",
                says="another pitch than the tables have",
                kind="pitch",
                usual=("1 mm", "1.25 mm", "1.5 mm", "2 mm", "20 tpi", "12 tpi"),
            ),
        ),
        ("M12", '"1/2 UNC"', '"M13 x 1.25"', '"5/8 in" --pitch "20 tpi"'),
        _thread,
    ),
)
