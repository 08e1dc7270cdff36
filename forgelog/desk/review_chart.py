"""The timeline of a session in plain characters: a row for each piece, a mark for some minutes."""

from __future__ import annotations

import math

from forgelog.desk.review_facts import SpanTold, TimelineTold
from forgelog.desk.review_words import cut, folded
from forgelog.units import show_clock

MARKS = {"hand": "#", "bench": "b", "fire": "f", "rest": "r"}
LYING = "."
STOOD = "="
CELLS_MIN = (1, 2, 3, 4, 5, 6, 10, 15, 20, 30, 60, 120, 240, 480, 960)
"""Minutes that one mark may stand for."""
MOST_NAME = 26
MEANING = "# in hand at times, f fire, r rest, b bench, . lying, = pause"
THE_HANDS, THE_FIRE = "THE HANDS", "THE FIRE"
IDLE = "-"
WHOLE_MEANING = "- hands idle; THE FIRE counts the pieces in it"
_TOTAL = "in hand"
_LABEL = 7
"""Columns that a time of day needs with the room after it."""


def draw_chart(line: TimelineTold, width: int, *, whole: bool = False) -> list[str]:
    """The chart with the times of day above and the meaning of its marks below.

    A mark shows the hand wherever the piece was in hand at all in its minutes, else what took the
    most of them: a heat is short, and it is the heats that are looked for.

    Args:
        line: What happened.
        width: Columns that no row is to exceed, at least 80.
        whole: Begin with a row for the hands and one for the fire, all pieces together.
    """
    rows = _rows(line)
    if not rows:
        return ["Nothing was in hand, in the fire, at the bench or laid to rest."]
    names = _names(rows)
    name_wide = min(MOST_NAME, max(len(THE_HANDS) if whole else 0, *map(len, names.values())))
    totals = {
        workpiece: show_clock(60.0 * sum(s.work_min for s in spans if s.doing == "hand"))
        for workpiece, spans in rows.items()
    }
    total_wide = max(len(_TOTAL), *map(len, totals.values()))
    room = width - name_wide - total_wide - 4
    began_min = line.began_local_s / 60.0
    cell, start_min = _scale(began_min, line.length_min, room)
    count = max(1, math.ceil((began_min + line.length_min - start_min) / cell))
    early_min = began_min - start_min

    def row(name: str, marks: str, total: str = "") -> str:
        name, marks = f"{cut(name, name_wide):{name_wide}}", f"{marks:{count}}"
        return f"{name}  {marks}  {total:>{total_wide}}".rstrip()

    chart = [row("", _axis(start_min, cell, count), _TOTAL)]
    if whole:
        from_min = [i * cell - early_min for i in range(count)]
        hands = [_hands(line, at, cell) for at in from_min]
        chart.append(row(THE_HANDS, "".join(hands), show_clock(60.0 * line.hand_min)))
        chart.append(row(THE_FIRE, "".join(_fire(line, at, cell) for at in from_min)))
        chart.append("")
    for workpiece, spans in rows.items():
        marks = [_mark(spans, i * cell - early_min, cell) for i in range(count)]
        chart.append(row(names[workpiece], "".join(marks), totals[workpiece]))
    marks = [_stood(line, i * cell - early_min, cell) for i in range(count)]
    if STOOD in marks:
        chart.append(row("pause", "".join(marks)))
    meaning = f"{MEANING}; {WHOLE_MEANING}" if whole else MEANING
    return [*chart, "", *folded(f"A mark is {cell} min: {meaning}.", width)]


def _hands(line: TimelineTold, from_min: float, cell: int) -> str:
    """What the hands do for the most of these minutes."""
    until_min = min(from_min + cell, line.length_min)
    if until_min <= max(0.0, from_min):
        return " "
    busy = dict.fromkeys(("hand", "bench"), 0.0)
    for span in line.spans:
        if span.doing in busy:
            busy[span.doing] += _overlap(span.from_min, span.to_min, from_min, cell)
    if sum(busy.values()) < (until_min - max(0.0, from_min)) / 2:
        return IDLE
    return MARKS["hand" if busy["hand"] >= busy["bench"] else "bench"]


def _fire(line: TimelineTold, from_min: float, cell: int) -> str:
    """How many pieces lie in the fire, on the mean of these minutes and at least one."""
    spans = (s for s in line.spans if s.doing == "fire")
    inside = sum(_overlap(s.from_min, s.to_min, from_min, cell) for s in spans)
    return str(min(9, max(1, round(inside / cell)))) if inside > 0.0 else " "


def rows_of(line: TimelineTold) -> list[tuple[str, list[SpanTold]]]:
    """Each piece that was worked, by what it is called, with its spans, in order of time."""
    rows = _rows(line)
    names = _names(rows) if rows else {}
    return [(names[workpiece], spans) for workpiece, spans in rows.items()]


def _rows(line: TimelineTold) -> dict[str, list[SpanTold]]:
    """Spans by workpiece; what only rested on from an earlier session has no row."""
    rows: dict[str, list[SpanTold]] = {}
    for span in line.spans:
        rows.setdefault(span.workpiece, []).append(span)
    return {
        workpiece: spans
        for workpiece, spans in rows.items()
        if any(span.doing != "rest" or span.from_min > 0.0 for span in spans)
    }


def _names(rows: dict[str, list[SpanTold]]) -> dict[str, str]:
    """What each row is called: with its order only where there are several."""
    slots = {workpiece: spans[0].slot for workpiece, spans in rows.items()}
    orders = {w: s[0].piece.removesuffix(s[0].slot).rstrip(": ") for w, s in rows.items()}
    if len(set(orders.values())) == 1:
        return slots
    return {workpiece: f"{slot}, {orders[workpiece]}" for workpiece, slot in slots.items()}


def _scale(began_min: float, length_min: float, room: int) -> tuple[int, float]:
    """Minutes of a mark, the least with which the session fits, and the time the chart begins."""
    for cell in CELLS_MIN:
        start_min = math.floor(began_min / cell) * cell
        if (began_min + length_min - start_min) / cell <= room:
            return cell, start_min
    cell = math.ceil(length_min / max(1, room - 1))
    return cell, math.floor(began_min / cell) * cell


def _axis(start_min: float, cell: int, count: int) -> str:
    """Times of day over the marks at which they begin, round ones where they have room."""
    round_min = [m for m in (5, 10, 15, 30, 60, 120, 240, 720, 1440) if m % cell == 0]
    every = next((m for m in round_min if m / cell >= _LABEL), _LABEL * cell)
    axis = [" "] * count
    free = 0
    for i in range(count):
        minute = int(start_min) + i * cell
        next_round = (-minute) % every
        fits = i >= free and i + 5 <= count
        if fits and (next_round == 0 or (i == 0 and next_round / cell >= _LABEL)):
            axis[i : i + 5] = f"{minute // 60 % 24:02}:{minute % 60:02}"
            free = i + _LABEL
    return "".join(axis)


def _mark(spans: list[SpanTold], from_min: float, cell: int) -> str:
    shares = dict.fromkeys(MARKS, 0.0)
    for span in spans:
        shares[span.doing] += _overlap(span.from_min, span.to_min, from_min, cell)
    if shares["hand"] > 0.0:
        return MARKS["hand"]
    longest = max(shares, key=lambda doing: shares[doing])
    if shares[longest] > 0.0:
        return MARKS[longest]
    first, last = min(s.from_min for s in spans), max(s.to_min for s in spans)
    return LYING if first < from_min and from_min + cell < last else " "


def _stood(line: TimelineTold, from_min: float, cell: int) -> str:
    covered = sum(_overlap(s.from_min, s.to_min, from_min, cell) for s in line.stood)
    return STOOD if covered >= cell / 2 else " "


def _overlap(from_min: float, to_min: float, cell_from: float, cell: int) -> float:
    return max(0.0, min(to_min, cell_from + cell) - max(from_min, cell_from))
