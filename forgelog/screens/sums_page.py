"""How a sum stands on the page: the answer large, what it asks left, further figures right."""

from __future__ import annotations

from collections.abc import Sequence

from forgelog.desk.sums.answer import Answer
from forgelog.desk.sums.form import Slot
from forgelog.screens.lettering import LOW, LOW_ROWS
from forgelog.screens.page import Look, Page, cells, cut, wrapped
from forgelog.screens.parts import large_scale, put_large
from forgelog.trade.words import in_dialect

LEFT_SHARE = 0.5
"""Of the width, for what the sum asks."""


def put_answer(page: Page, top: int, answer: Answer | str, units: str, dialect: str) -> int:
    """The first figure large, or why there is none; return the rows that it takes."""
    room = page.width - 2
    if isinstance(answer, str):
        rows = wrapped(in_dialect(answer, dialect), room, most=LOW_ROWS + 1)
        for y, row in enumerate(rows):
            page.put(1, top + y, row, Look.STRONG)
        return LOW_ROWS + 2
    words, value = answer.lines(units)[0]
    page.put(1, top, in_dialect(f"{answer.title}: {words}", dialect), Look.STRONG)
    value = in_dialect(value, dialect)
    large = value.replace("%", "per cent")
    scale = large_scale(large, room, LOW_ROWS) if _can_be_drawn(large) else (0, 0)
    if scale[1]:
        put_large(page, 1, top + 1, large, scale=(1, 1))
    else:
        for y, row in enumerate(wrapped(value, room, most=LOW_ROWS)):
            page.put(1, top + 1 + y, row, Look.STRONG)
    return LOW_ROWS + 2


def figure_rows(answer: Answer, units: str, width: int) -> list[str]:
    """Every further figure, and source, note and caution, in rows for the right half."""
    room = width - _right(width) - 1
    rows: list[str] = []
    for words, value in answer.lines(units)[1:]:
        line = f"{words}  {value}"
        if cells(line) <= room:
            gap = room - cells(words) - cells(value)
            rows.append(f"{words}{' ' * gap}{value}")
        else:
            rows.append(cut(words, room))
            rows.extend(f"  {row}" for row in wrapped(value, room - 2))
    for name, text in (
        ("caution", answer.caution),
        ("note", answer.note),
        ("source", answer.source),
    ):
        if text:
            rows.extend(wrapped(f"{name}: {text}", room))
    return rows


def figures_height(rows: int) -> int:
    """Rows that the figures have, of so many that the body has."""
    return max(1, rows - LOW_ROWS - 2)


def put_slots(
    page: Page, top: int, rows: int, slots: Sequence[Slot], at: int, dialect: str
) -> None:
    """What the sum asks and what is said, scrolled so that the chosen line is seen."""
    room = _right(page.width) - 3
    lines: list[tuple[str, Look]] = []
    at_row = 0
    for place, slot in enumerate(slots):
        chosen = place == at
        if chosen:
            at_row = len(lines)
        value = slot.text or ("no" if slot.field.kind == "flag" else "-")
        words = in_dialect(slot.words, dialect)
        mark, look = (">", Look.SIGN) if chosen else (" ", Look.PLAIN)
        if cells(words) + cells(value) + 4 <= room:
            gap = room - 2 - cells(words) - cells(value)
            lines.append((f"{mark} {words}{' ' * gap}{value}", look))
        else:
            lines.append((f"{mark} {cut(words, room - 2)}", look))
            value = cut(value, room - 4)
            lines.append((f"{' ' * (room - cells(value))}{value}", look))
    first = max(0, min(at_row - rows // 2, len(lines) - rows))
    for y, (line, look) in enumerate(lines[first : first + rows]):
        page.put(1, top + y, line, look, most=room)


def put_figures(
    page: Page, top: int, rows: int, told: Sequence[str], first: int, *, chosen: bool
) -> None:
    """The further figures, from one of them on."""
    x = _right(page.width)
    shown = told[first : first + rows]
    more = len(told) > first + rows
    if more:
        shown = shown[: rows - 1]
    for y, row in enumerate(shown):
        page.put(x, top + y, row)
    if more or first:
        words = " more figures: TAB to here, SPACE " if not chosen else " more figures: SPACE "
        page.put(x, top + rows - 1, words, Look.SIGN if chosen else Look.STRONG)


def _right(width: int) -> int:
    return int(width * LEFT_SHARE) + 1


def _can_be_drawn(text: str) -> bool:
    return all(sign in LOW or sign.isalpha() for sign in text.upper())
