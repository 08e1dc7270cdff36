"""The card's title: the verb, and what the last press finished, as large as there is room."""

from __future__ import annotations

import msgspec

from forgelog.floor.view import View
from forgelog.screens.lettering import LOW_ROWS, width_of
from forgelog.screens.page import Look, Page, cells
from forgelog.screens.parts import large_scale, put_large

TALL_WINDOW = 44
"""From so many rows on, letters of the near view are twice as high."""
ROOMY_WINDOW = 30
"""From so many rows on, what was done and what comes now both stand large."""


class Title(msgspec.Struct, frozen=True):
    """How the title is laid out. A scale of (0, 0) is one row of ordinary letters."""

    verb_scale: tuple[int, int]
    done: str
    done_scale: tuple[int, int]
    heats_beside: bool
    """True where heats stand beside the verb; else the card has them."""
    rows: int


def title_for(view: View, width: int, height: int) -> Title:
    """Work out the title's layout for a window."""
    room = width - 2
    most = LOW_ROWS * 2 if height >= TALL_WINDOW else LOW_ROWS
    if not view.done_words:
        scale = large_scale(view.verb, room, most)
        return Title(scale, "", (0, 0), _beside(view, scale, room), _rows(scale))
    done = view.done_words
    if not large_scale(done, room, LOW_ROWS)[1]:
        done = done.removeprefix("THE ")
    done_scale = large_scale(done, room, LOW_ROWS)
    scale = large_scale(view.verb, room, LOW_ROWS) if height >= ROOMY_WINDOW else (0, 0)
    gap = 1 if scale[1] else 0
    rows = _rows(done_scale) + gap + _rows(scale)
    return Title(scale, done, done_scale, _beside(view, scale, room), rows)


def put_title(page: Page, y: int, view: View, title: Title) -> None:
    """Draw it from row `y` on."""
    if title.done:
        y += _put(page, y, title.done, title.done_scale, Look.DONE)
        y += 1 if title.verb_scale[1] else 0
    right = page.width - 1
    heats = [row for row in (view.heats, view.heats_from) if row] if title.heats_beside else []
    if title.verb_scale[1]:
        for i, row in enumerate(heats):
            page.put_right(right, y + i, row, Look.STRONG)
    else:
        for row in reversed(heats):
            right = page.put_right(right, y, row, Look.STRONG) - 2
    _put(page, y, view.verb, title.verb_scale, Look.STRONG, right)


def _put(page: Page, y: int, words: str, scale: tuple[int, int], look: Look, right: int = 0) -> int:
    if scale[1]:
        return put_large(page, 1, y, words, look, scale=scale)
    sign = Look.SIGN if look is Look.STRONG else Look.DONE
    page.put(1, y, f" {words} ", sign, most=(right or page.width) - 2)
    return 1


def _rows(scale: tuple[int, int]) -> int:
    return LOW_ROWS * scale[1] if scale[1] else 1


def _beside(view: View, scale: tuple[int, int], room: int) -> bool:
    if not scale[1]:
        return True
    heats = max(cells(view.heats), cells(view.heats_from))
    return room - width_of(view.verb, wide=scale[0]) - 2 >= heats
