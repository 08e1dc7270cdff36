"""A session as a drawing for paper: a row for each piece, a bar for hand, fire, rest and bench.

Black on white: what a bar means is told by its filling and its height, never by colour alone.
Names are a stranger's: they are made harmless and escaped here.
"""

from __future__ import annotations

from html import escape

from forgelog.desk.review_chart import draw_chart, rows_of
from forgelog.desk.review_facts import SpanTold, TimelineTold
from forgelog.recipe.plain import harmless, shortened
from forgelog.sheets.blocks import Drawing
from forgelog.units import show_clock

WIDE_MM = 176.0
NAME_MM, TOTAL_MM, ROW_MM, TOP_MM = 44.0, 15.0, 6.4, 7.0
THINNEST_MM = 0.35
"""A bar is at least so wide: a heat of some seconds is seen beside a rest of hours."""
LETTERS_WIDE = 80
LETTERS = 24
"""Of a name; what is longer is cut."""
HEIGHTS_MM = {"rest": 1.6, "fire": 3.4, "bench": 3.4, "hand": 4.8}
"""From the bottom of the heap to its top: what is drawn later lies above."""
_ROUND_MIN = (5, 10, 15, 30, 60, 120, 240, 720, 1440)
_LABEL_MM = 14.0
_MEANING = (("hand", "in hand"), ("fire", "in the fire"), ("rest", "resting"), ("bench", "bench"))
_FILLS = (
    '<defs><pattern id="in-fire" width="1.4" height="1.4" patternUnits="userSpaceOnUse">'
    '<path d="M0 1.4L1.4 0" stroke="#000" stroke-width="0.3"/></pattern>'
    '<pattern id="at-bench" width="1.2" height="1.2" patternUnits="userSpaceOnUse">'
    '<circle cx="0.6" cy="0.6" r="0.28" fill="#000"/></pattern></defs>'
)
_FILL = {"hand": "#000", "fire": "url(#in-fire)", "rest": "#fff", "bench": "url(#at-bench)"}


def draw_timeline(line: TimelineTold) -> Drawing | None:
    """The session, piece by piece, along the time of day.

    Args:
        line: What happened.

    Returns:
        None where nothing was in hand, in the fire, at the bench or laid to rest.
    """
    rows = rows_of(line)
    if not rows:
        return None
    room_mm = WIDE_MM - NAME_MM - TOTAL_MM
    scale = room_mm / max(line.length_min, 1.0)
    bottom = TOP_MM + ROW_MM * len(rows)
    parts = [_FILLS, _axis(line, scale, bottom), *_stood(line, scale, bottom)]
    for number, (name, spans) in enumerate(rows):
        parts.append(_row(name, spans, TOP_MM + ROW_MM * number, scale))
    high = bottom + 7.0
    parts.append(_meaning(bottom + 5.0, stood=bool(line.stood)))
    svg = (
        f'<svg class="timeline" xmlns="http://www.w3.org/2000/svg" width="{WIDE_MM:.0f}mm" '
        f'height="{high:.0f}mm" viewBox="0 0 {WIDE_MM:.2f} {high:.2f}" role="img" '
        f'font-family="sans-serif" font-size="3.8">{"".join(parts)}</svg>'
    )
    return Drawing(
        svg=svg,
        words="Hand, fire, rest and bench of each piece:",
        lines=tuple(draw_chart(line, LETTERS_WIDE)),
    )


def _row(name: str, spans: list[SpanTold], top: float, scale: float) -> str:
    middle = top + ROW_MM / 2
    order = list(HEIGHTS_MM)
    bars = [
        _bar(
            span.doing, NAME_MM + span.from_min * scale, span.to_min - span.from_min, middle, scale
        )
        for span in sorted(spans, key=lambda span: order.index(span.doing))
    ]
    held_s = 60.0 * sum(span.work_min for span in spans if span.doing == "hand")
    words = escape(shortened(harmless(name), LETTERS))
    return (
        f'<text x="0" y="{middle + 1:.2f}">{words}</text>'
        f'<path d="M{NAME_MM:.2f} {top + ROW_MM:.2f}H{WIDE_MM - TOTAL_MM:.2f}" stroke="#999" '
        f'stroke-width="0.1"/>{"".join(bars)}'
        f'<text x="{WIDE_MM:.2f}" y="{middle + 1:.2f}" text-anchor="end">'
        f"{show_clock(held_s)}</text>"
    )


def _bar(doing: str, x: float, length_min: float, middle: float, scale: float) -> str:
    high = HEIGHTS_MM[doing]
    return (
        f'<rect x="{x:.2f}" y="{middle - high / 2:.2f}" '
        f'width="{max(THINNEST_MM, length_min * scale):.2f}" height="{high:.2f}" '
        f'fill="{_FILL[doing]}" stroke="#000" stroke-width="0.15"/>'
    )


def _axis(line: TimelineTold, scale: float, bottom: float) -> str:
    """Times of day at round minutes, with a thin line down through the rows."""
    every = next((m for m in _ROUND_MIN if m * scale >= _LABEL_MM), _ROUND_MIN[-1])
    began_min = line.began_local_s / 60.0
    minute = every * -(-began_min // every)
    marks = [
        f'<text x="{WIDE_MM:.2f}" y="4" text-anchor="end">in hand</text>',
    ]
    while minute <= began_min + line.length_min:
        x = NAME_MM + (minute - began_min) * scale
        clock = f"{int(minute) // 60 % 24:02}:{int(minute) % 60:02}"
        marks.append(
            f'<path d="M{x:.2f} {TOP_MM - 1.5:.2f}V{bottom:.2f}" stroke="#999" stroke-width="0.1"/>'
        )
        # The last label would run into the head of the figures.
        if x + _LABEL_MM / 2 <= WIDE_MM - TOTAL_MM:
            marks.append(f'<text x="{x:.2f}" y="4" text-anchor="middle">{clock}</text>')
        minute += every
    return "".join(marks)


def _stood(line: TimelineTold, scale: float, bottom: float) -> list[str]:
    """Where no work was counted: a bar with its ends marked, under the rows."""
    return [
        f'<path d="M{NAME_MM + one.from_min * scale:.2f} {bottom + 0.4:.2f}v1.6'
        f"m0 -0.8H{NAME_MM + one.to_min * scale:.2f}m0 -0.8v1.6"
        f'" fill="none" stroke="#000" stroke-width="0.3"/>'
        for one in line.stood
    ]


def _meaning(y: float, *, stood: bool) -> str:
    """What the fillings mean."""
    parts = []
    x = NAME_MM
    for doing, words in _MEANING:
        high = HEIGHTS_MM[doing]
        parts.append(
            f'<rect x="{x:.2f}" y="{y - 1 - high / 2:.2f}" width="6" height="{high:.2f}" '
            f'fill="{_FILL[doing]}" stroke="#000" stroke-width="0.15"/>'
            f'<text x="{x + 7.5:.2f}" y="{y:.2f}">{words}</text>'
        )
        x += 28.0
    if stood:
        parts.append(
            f'<path d="M{x:.2f} {y - 1.8:.2f}v1.6m0 -0.8h6m0 -0.8v1.6" fill="none" '
            f'stroke="#000" stroke-width="0.3"/><text x="{x + 7.5:.2f}" y="{y:.2f}">pause</text>'
        )
    return "".join(parts)
