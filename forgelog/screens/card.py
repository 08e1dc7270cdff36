"""The card: what to do, or an open question or list, with the running clock to the right of it."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import ListView, View
from forgelog.screens.lettering import LOW_ROWS, width_of
from forgelog.screens.page import Look, Page, Span, cells, cut, wrapped
from forgelog.screens.parts import put_large
from forgelog.screens.title import TALL_WINDOW, Title

_CLOCK = "00:00"
"""The clock keeps the scale at which this fits: it does not shrink when ten minutes are up."""


class Card(msgspec.Struct, frozen=True):
    """How the card is laid out."""

    words: tuple[Span, ...]
    left_width: int
    clock_scale: tuple[int, int]
    clock_rows: int
    right_width: int
    """0 where no clock runs."""
    least_rows: int
    need_rows: int


def card_for(view: View, title: Title, width: int, height: int) -> Card:
    """Work out the card's layout for a window."""
    scale = _clock_scale(view.clock, width, height)
    runs = bool(view.clock or view.clock_words or view.heat_left)
    right = _right_width(view, scale, width) if runs else 0
    left = width - 2 - (right + 2 if runs else 0)
    clock_rows = max(1, LOW_ROWS * scale[1]) if view.clock else 0
    below = len(_below(view, right, 3)) + (view.heat_left_share is not None) if runs else 0
    if view.list is not None:
        words: tuple[Span, ...] = ()
        need = max(clock_rows + below, len(view.list.choices) + 1)
    else:
        words = tuple(_words(view, title, left))
        need = max(clock_rows + below, len(words))
    return Card(words, left, scale, clock_rows, right, clock_rows + min(1, below), need)


def put_card(page: Page, y: int, rows: int, view: View, card: Card) -> None:
    """Draw it in so many rows from row `y` on."""
    if card.right_width:
        _put_clock(page, y, rows, view, card)
    if view.list is not None:
        put_list(page, 1, y, card.left_width, rows, view.list)
        return
    for i, (row, look) in enumerate(card.words[:rows]):
        if i == rows - 1 and len(card.words) > rows:
            row = cut(row, card.left_width - 4) + " ..."
        page.put(1, y + i, row, look)


def put_list(page: Page, x: int, y: int, width: int, rows: int, shown: ListView) -> None:
    """A list that is open, scrolled so that the choice under the key is seen."""
    count = len(shown.choices)
    room = max(1, rows - 1)
    first = max(0, min(shown.at - room // 2, count - room))
    where = f"{shown.at + 1} of {count}"
    page.put(x, y, f"{cut(shown.title, width - len(where) - 2)}  {where}", Look.STRONG)
    for i, choice in enumerate(shown.choices[first : first + room]):
        at = first + i == shown.at
        mark = ">" if at else " "
        page.put(x, y + 1 + i, f" {mark} {choice} ", Look.SIGN if at else Look.PLAIN, most=width)


def heat_bar(share: float, width: int) -> tuple[str, str]:
    """The heat left as a bar: what is left of it, and what is gone."""
    full = max(0, min(width, round(share * width)))
    return "█" * full, "░" * (width - full)


def question_words(view: View, width: int) -> list[Span]:
    """An open question, wrapped, and how long it stays open."""
    words = [(row, Look.STRONG) for row in wrapped(view.question, width)]
    if view.question_left_s is not None:
        words.append((f"lapses in {max(0.0, view.question_left_s):.0f} s", Look.PLAIN))
    return words


def _words(view: View, title: Title, width: int) -> list[Span]:
    if view.question:
        return question_words(view, width)
    words: list[Span] = []
    if view.heats and not title.heats_beside:
        heats = f"{view.heats}, {view.heats_from}" if view.heats_from else view.heats
        words.extend((row, Look.STRONG) for row in wrapped(heats, width, most=2))
    for i, line in enumerate(view.lines):
        look = Look.STRONG if i == 0 else Look.PLAIN
        words.extend((row, look) for row in wrapped(line, width))
    return words


def _clock_scale(clock: str, width: int, height: int) -> tuple[int, int]:
    """The scale of the running clock; (0, 0) where it is too long for large letters."""
    high = 2 if height >= TALL_WINDOW else 1
    wide = max(1, min(2 * high, width * 45 // 100 // width_of(_CLOCK)))
    while wide and width_of(clock, wide=wide) > width // 2:
        wide -= 1
    return (wide, min(high, wide))


def _right_width(view: View, scale: tuple[int, int], width: int) -> int:
    shown = max(width_of(_CLOCK, wide=scale[0]), width_of(view.clock, wide=scale[0]))
    words = max(cells(view.clock_words), cells(view.heat_left), cells(view.clock))
    return min(max(shown, words), width // 2)


def _below(view: View, width: int, rows: int) -> list[str]:
    """Words under the clock; with the bar they share `rows`, so they may have to share one row."""
    words = [row for row in (view.clock_words, view.heat_left) if row]
    room = rows - (view.heat_left_share is not None)
    if len(words) <= max(1, room):
        return words
    joined = " · ".join(words)
    return [joined if cells(joined) <= width else view.heat_left]


def _put_clock(page: Page, y: int, rows: int, view: View, card: Card) -> None:
    right = page.width - 1
    wide = card.right_width
    if view.clock:
        gone = view.heat_left_share is not None and view.heat_left_share <= 0
        look = Look.HOT if gone else Look.STRONG
        if card.clock_scale[1]:
            shown = width_of(view.clock, wide=card.clock_scale[0])
            put_large(page, right - shown, y, view.clock, look, scale=card.clock_scale)
        else:
            page.put_right(right, y, view.clock, look)
    y += card.clock_rows
    rows -= card.clock_rows
    below = _below(view, wide, rows)[: max(0, rows)]
    for i, row in enumerate(below):
        page.put_right(right, y + i, cut(row, wide), Look.STRONG)
    if view.heat_left_share is not None and rows > len(below):
        full, gone_part = heat_bar(view.heat_left_share, wide)
        after = page.put_drawn(right - wide, y + len(below), full, Look.HEAT)
        page.put_drawn(after, y + len(below), gone_part, Look.QUIET)
