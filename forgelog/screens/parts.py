"""Parts that several pages share: large words, the bottom keys, the sign of a screen too small."""

from __future__ import annotations

from collections.abc import Sequence

from forgelog.floor.view import KeyLine
from forgelog.screens.lettering import LOW_ROWS, TALL_ROWS, drawn, width_of
from forgelog.screens.page import Look, Page, cells, cut, wrapped

LEAST_WIDTH = 80
LEAST_HEIGHT = 24
_MOST_WIDE = (42, 42, 40, 46)
"""Columns of SPACE, ENTER, TAB and BACKSPACE with 34 letters each."""
ONE_ROW_FROM = sum(_MOST_WIDE) + 2
"""From this width on the four keys always have room in one row.

A narrower window could take some meanings in one row and others not; then a key would not be
found where it was.
"""

Slots = list[tuple[int, int, KeyLine]]
"""Column, row from the block's top, key."""


def key_width(key: KeyLine) -> int:
    """Columns of a key with its meaning: " SPACE  put it in the fire"."""
    return len(key.key) + 3 + cells(key.words)


def key_slots(keys: Sequence[KeyLine], width: int) -> Slots:
    """Where each key stands: two rows, one in a wide window, a row more where words ask for it.

    The places hang on the width alone, so that a key is always found where it was. Only below 90
    columns a meaning of nearly 34 letters pushes its neighbour aside or down.
    """
    if width >= ONE_ROW_FROM and len(keys) == 4:
        gap = (width - sum(_MOST_WIDE)) // 4
        places = [sum(_MOST_WIDE[:i]) + i * gap for i in range(4)]
        ends = [*places[1:], width]
        if all(x + key_width(k) <= e for x, e, k in zip(places, ends, keys, strict=True)):
            return [(x, 0, k) for x, k in zip(places, keys, strict=True)]
    slots: Slots = []
    row = 0
    for i in range(0, len(keys), 2):
        pair = keys[i : i + 2]
        slots.append((0, row, pair[0]))
        if len(pair) == 2:
            right = width // 2
            if key_width(pair[0]) > right or right + key_width(pair[1]) > width:
                right = max(key_width(pair[0]), width - key_width(pair[1]))
            if right + key_width(pair[1]) > width:
                row += 1
                right = 0
            slots.append((right, row, pair[1]))
        row += 1
    return slots


def keys_height(keys: Sequence[KeyLine], width: int) -> int:
    """Rows of the keys with the rule above them."""
    return 1 + max((row for _, row, _ in key_slots(keys, width)), default=0) + 1


def put_keys(page: Page, top: int, keys: Sequence[KeyLine]) -> None:
    """The rule and the keys. A key that only says why not stands without its cap."""
    page.put_drawn(0, top, "─" * page.width, Look.QUIET)
    for x, row, key in key_slots(keys, page.width):
        cap = Look.SIGN if key.live else Look.QUIET
        after = page.put(x, top + 1 + row, f" {key.key} ", cap)
        page.put(after + 1, top + 1 + row, key.words, Look.STRONG if key.live else Look.PLAIN)


def put_large(
    page: Page,
    x: int,
    y: int,
    text: str,
    look: Look = Look.STRONG,
    *,
    face: str = "low",
    scale: tuple[int, int] = (1, 1),
) -> int:
    """Draw large words with their top left corner at a place; return the rows they take."""
    rows = drawn(text, face, scale)
    for i, row in enumerate(rows):
        page.put_drawn(x, y + i, row.rstrip(), look)
    return len(rows)


def large_scale(text: str, width: int, height: int, *, face: str = "low") -> tuple[int, int]:
    """Largest scale at which words fit so many cells; (0, 0) where they do not fit at all.

    Letters are never made narrower than they are high: those read badly from afar.
    """
    rows = TALL_ROWS if face == "tall" else LOW_ROWS
    one = width_of(text, face)
    wide = width // one if one else 0
    high = height // rows
    if wide < 1 or high < 1:
        return (0, 0)
    high = min(high, wide, 3)
    return (min(wide, 2 * high), high)


def too_small(width: int, height: int, keys: Sequence[KeyLine]) -> Page:
    """What a window below 80 x 24 shows: what it needs, and the keys as far as they fit."""
    page = Page(width, height)
    words = [
        *wrapped("make the window larger:", width),
        *wrapped(f"{LEAST_WIDTH} x {LEAST_HEIGHT} needed, {width} x {height} found", width),
    ]
    for y, row in enumerate(words):
        page.put(0, y, row, Look.STRONG)
    for i, key in enumerate(keys):
        y = len(words) + 1 + i
        after = page.put(0, y, key.key, Look.SIGN if key.live else Look.PLAIN)
        page.put(after + 1, y, key.words)
    return page


def fits(width: int, height: int) -> bool:
    """True where the pages have room."""
    return width >= LEAST_WIDTH and height >= LEAST_HEIGHT


def put_head(page: Page, left: str, middle: str, right: str) -> None:
    """The top row: left and right give way to the middle."""
    right = cut(right, page.width // 3)
    x_right = page.put_right(page.width - 1, 0, right)
    middle = cut(middle, x_right - 4)
    x = max(1, (page.width - cells(middle)) // 2)
    x = min(x, x_right - 2 - cells(middle)) if middle else x
    # A long left text pushes the middle to the right as far as there is room.
    x = max(x, min(cells(left) + 3, x_right - 2 - cells(middle)))
    page.put(x, 0, middle, Look.STRONG)
    room = (x if middle else x_right) - 3
    if room > 0:
        page.put(1, 0, left, most=room)
