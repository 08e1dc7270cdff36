"""The three columns: what is in the fire, what rests, what is hot."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import View
from forgelog.screens.page import Look, Page, cells, cut, wrapped

_SIGN = " LOOK"
_SHARES = (28, 36, 36)
"""Of the width, in per cent, where nothing asks for more."""
_LEAST = 16


class Entry(msgspec.Struct, frozen=True):
    """A row of a column."""

    number: int
    name: str
    words: str
    chosen: bool = False
    strong: bool = False
    look: bool = False


class Column(msgspec.Struct, frozen=True):
    """One of the columns."""

    title: str
    look: Look
    entries: tuple[Entry, ...]

    def need(self) -> int:
        """Cells at which no entry is cut or wrapped."""
        rows = (
            cells(e.name) + cells(e.words) + 4 + (len(_SIGN) if e.look else 0) for e in self.entries
        )
        return max([cells(self.title), *rows])


def columns_of(view: View) -> tuple[Column, Column, Column]:
    """Fire, resting and hot. Empty ones other than the fire have no title."""
    fire = tuple(
        Entry(f.number, f.name, f.clock, f.chosen, f.look or f.chosen, f.look) for f in view.fire
    )
    resting = tuple(
        Entry(r.number, r.name, r.words, r.chosen, r.due or r.chosen) for r in view.resting
    )
    hot = tuple(Entry(h.number, h.name, h.words) for h in view.hot)
    return (
        Column(view.fire_title, Look.STRONG, fire),
        Column("RESTING" if resting else "", Look.STRONG, resting),
        Column("HOT" if hot else "", Look.HOT, hot),
    )


def columns_need(view: View, width: int) -> int:
    """Rows at which every entry is seen whole."""
    columns = columns_of(view)
    widths = _widths(columns, width - 2)
    return 1 + max(
        sum(len(_rows(entry, wide)) for entry in column.entries)
        for column, wide in zip(columns, widths, strict=True)
    )


def put_columns(page: Page, y: int, rows: int, view: View) -> None:
    """Draw them in so many rows from row `y` on."""
    columns = columns_of(view)
    x = 1
    for column, wide in zip(columns, _widths(columns, page.width - 2), strict=True):
        page.put(x, y, column.title, column.look, most=wide)
        _put_entries(page, x, y + 1, wide, rows - 1, column.entries)
        x += wide + 1


def _widths(columns: tuple[Column, ...], usable: int) -> list[int]:
    needs = [column.need() for column in columns]
    widths = [usable * share // 100 - 1 for share in _SHARES]
    if sum(needs) + 2 > usable:
        # No room for all in one row each: the fire keeps its rows, the others wrap their words.
        fire = min(needs[0], usable * 2 // 5)
        left = usable - 2 - fire
        resting = left * needs[1] // (needs[1] + needs[2])
        resting = min(max(resting, min(needs[1], _LEAST)), left - min(needs[2], _LEAST))
        return [fire, resting, left - resting]
    for poor in range(3):
        for rich in (1, 2, 0):
            lack = needs[poor] - widths[poor]
            spare = widths[rich] - max(needs[rich], _LEAST)
            if rich != poor and lack > 0 and spare > 0:
                widths[poor] += min(lack, spare)
                widths[rich] -= min(lack, spare)
    return widths


def _rows(entry: Entry, width: int) -> list[str]:
    """Name and words after the number, wrapped."""
    sign = len(_SIGN) if entry.look else 0
    one = f"{entry.name} {entry.words}"
    if cells(one) + sign <= width - 3:
        return [one]
    return [*wrapped(entry.name, width - 3, most=1), *wrapped(entry.words, width - 3 - sign)]


def _one_row(entry: Entry, width: int) -> str:
    room = width - 3 - (len(_SIGN) if entry.look else 0)
    name = cut(entry.name, max(room // 2, room - 1 - cells(entry.words)))
    return f"{name} {cut(entry.words, room - 1 - cells(name))}"


def _put_entries(
    page: Page, x: int, y: int, width: int, rows: int, entries: tuple[Entry, ...]
) -> None:
    shown = entries if len(entries) <= rows else entries[: max(0, rows - 1)]
    spare = rows - len(shown) - (len(shown) < len(entries))
    for entry in shown:
        wanted = _rows(entry, width)
        if len(wanted) - 1 <= spare:
            spare -= len(wanted) - 1
        else:
            wanted = [_one_row(entry, width)]
        look = Look.STRONG if entry.strong else Look.PLAIN
        number = str(entry.number) if entry.number else " "
        page.put(x, y, f"{'>' if entry.chosen else ' '}{number}", look)
        for row in wanted:
            after = page.put(x + 3, y, row, look, most=width - 3)
            y += 1
        if entry.look:
            page.put(after + 1, y - 1, _SIGN.strip(), Look.LOOK)
    if len(shown) < len(entries):
        page.put(x + 3, y, f"and {len(entries) - len(shown)} more", Look.PLAIN)
