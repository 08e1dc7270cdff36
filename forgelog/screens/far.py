"""The far view: the verb, the time and the keys, read from three metres."""

from __future__ import annotations

from forgelog.floor.view import View
from forgelog.screens.card import heat_bar, put_list, question_words
from forgelog.screens.lettering import LOW_ROWS, TALL_ROWS, width_of
from forgelog.screens.page import Line, Look, Page, cells, cut, wrapped
from forgelog.screens.parts import (
    fits,
    keys_height,
    large_scale,
    put_head,
    put_keys,
    put_large,
    too_small,
)
from forgelog.screens.signs import put_signs

_VERB = "M" * 10
"""Ten letters set the scale, so that every verb of an order is drawn alike."""


def far(view: View, width: int, height: int, signs: tuple[str, ...] = ()) -> tuple[Line, ...]:
    """Lay out the far view.

    Args:
        view: What the floor shows.
        width: Columns.
        height: Rows.
        signs: Further words to stand out, such as "NOT YET ON DISK".
    """
    if not fits(width, height):
        return too_small(width, height, view.keys).lines()
    page = Page(width, height)
    put_head(page, "", view.piece or view.order, view.progress)
    put_signs(page, 1, view, signs)
    bottom = height - keys_height(view.keys, width)
    put_keys(page, bottom, view.keys)
    page.put(1, bottom - 1, view.message, Look.STRONG)

    scale = large_scale(_VERB, width, (bottom - 5) // 2, face="tall")
    high = TALL_ROWS * scale[1]
    gap = max(0, bottom - 5 - 2 * high) // 4
    y = 2 + gap
    x = 0 if width < 82 else 1
    put_large(page, x, y, cut(view.verb_short, 10), face="tall", scale=scale)
    y += high + 1 + gap
    _put_middle(page, y, high, view, scale)
    y += high + min(1, gap)
    line = "" if view.question or view.list else (view.lines or ("",))[0]
    if view.done_words and view.clock:
        line = f"{view.done_words}. {line}"
    for i, row in enumerate(wrapped(line, width - 2, most=max(1, bottom - 1 - y))):
        page.put(1, y + i, row, Look.STRONG)
    return page.lines()


def _put_middle(page: Page, y: int, rows: int, view: View, scale: tuple[int, int]) -> None:
    """What stands under the verb: a question, a list, the running time, or what was done."""
    if view.question:
        for i, (row, look) in enumerate(question_words(view, page.width - 2)[:rows]):
            page.put(1, y + i, row, look)
    elif view.list is not None:
        put_list(page, 1, y, page.width - 2, rows, view.list)
    elif view.clock:
        _put_clock(page, y, view, scale)
    elif view.done_words:
        _put_done(page, y, rows, view)
    else:
        _put_beside(page, 1, y, rows, view)


def _put_clock(page: Page, y: int, view: View, scale: tuple[int, int]) -> None:
    gone = view.heat_left_share is not None and view.heat_left_share <= 0
    look = Look.HOT if gone else Look.STRONG
    x = 0 if page.width < 82 else 1
    fits_in = large_scale(view.clock, page.width, TALL_ROWS * scale[1], face="tall")
    if not fits_in[1]:
        after = page.put(x, y, view.clock, look)
    else:
        scale = min(scale, fits_in)
        put_large(page, x, y, view.clock, look, face="tall", scale=scale)
        after = x + width_of(view.clock, "tall", scale[0])
    _put_beside(page, after + 3, y, TALL_ROWS * scale[1], view)


def _put_beside(page: Page, x: int, y: int, rows: int, view: View) -> None:
    """Words beside the clock: what it counts, heats, heat left, the fire."""
    room = page.width - 1 - x
    if room < 12:
        return
    at = y
    for words in (view.clock_words, view.heats, view.heat_left):
        if words:
            page.put(x, at, words, Look.STRONG, most=room)
            at += 1
    if view.heat_left_share is not None:
        full, gone = heat_bar(view.heat_left_share, room)
        after = page.put_drawn(x, at, full, Look.HEAT)
        page.put_drawn(after, at, gone, Look.QUIET)
        at += 1
    if at > y and view.fire:
        at += 1
    listed = [(f"{f.name}, {f.clock} in the fire", f.look) for f in view.fire]
    listed += [(f"{'      ' if i else 'NEXT  '}{line}", False) for i, line in enumerate(view.next)]
    for words, look in listed[: max(0, y + rows - at)]:
        if look:
            after = page.put(x, at, "LOOK", Look.LOOK) + 1
            page.put(after, at, words, Look.STRONG, most=room - 5)
        else:
            page.put(x, at, words, most=room)
        at += 1


def _put_done(page: Page, y: int, rows: int, view: View) -> None:
    done = view.done_words
    scale = large_scale(done, page.width - 2, rows)
    if not scale[1]:
        done = done.removeprefix("THE ")
        scale = large_scale(done, page.width - 2, rows)
    if scale[1]:
        put_large(page, 1, y, done, Look.DONE, scale=scale)
        at = y + LOW_ROWS * scale[1]
    else:
        page.put(1, y, f" {done} ", Look.SIGN, most=page.width - 2)
        at = y + 1
    if view.next and at + 1 < y + rows:
        most = page.width - 2 - cells("NEXT  ")
        page.put(1, at + 1, f"NEXT  {cut(view.next[0], most)}", Look.PLAIN)
