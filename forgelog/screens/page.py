"""A page of text: words put at columns and rows, in a handful of looks. Knows no terminal."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum
from functools import lru_cache

from rich.cells import cell_len, set_cell_size

from forgelog.recipe.plain import harmless

MOST_LETTERS = 2000
"""No line of the floor is longer; a recipe may hold a word of any length."""


class Look(IntEnum):
    """How words look. None of them relies on colour alone."""

    PLAIN = 0
    STRONG = 1
    """Bold."""
    QUIET = 2
    """Less important: shown plainly where a terminal knows no dim letters."""
    SIGN = 3
    """Black on white, bold: keys, LOOK, PAUSED."""
    LOOK = 4
    """As SIGN, yellow where there is colour."""
    HOT = 5
    """Bold, red where there is colour."""
    HEAT = 6
    """The bar of heat left."""
    DONE = 7
    """Bold, green where there is colour."""


Span = tuple[str, Look]
Line = tuple[Span, ...]


class Page:
    """Rows of one width, filled by `put`; what runs over the edge is cut."""

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        self._rows: list[list[tuple[int, int, str, Look]]] = [[] for _ in range(height)]

    def put(self, x: int, y: int, text: str, look: Look = Look.PLAIN, *, most: int = 0) -> int:
        """Put words at a column and row; return the column after them.

        Args:
            x: Column from 0.
            y: Row from 0; rows outside the page are passed over.
            text: Any words; what could harm a terminal is named instead.
            look: How they look.
            most: Cells to keep within, "..." at the end when it takes cutting; 0 for the edge.
        """
        room = self.width - x
        text = cut(text, min(most, room) if most else room)
        wide = cells(text)
        if wide and 0 <= y < self.height and x >= 0:
            self._rows[y].append((x, wide, text, look))
        return x + wide

    def put_drawn(self, x: int, y: int, text: str, look: Look = Look.PLAIN) -> int:
        """Put signs of our own drawing, each one cell wide; return the column after them."""
        text = text[: max(0, self.width - x)]
        if text and 0 <= y < self.height and x >= 0:
            self._rows[y].append((x, len(text), text, look))
        return x + len(text)

    def put_right(self, right: int, y: int, text: str, look: Look = Look.PLAIN) -> int:
        """Put words so that they end before column `right`; return where they begin."""
        x = max(0, right - cells(safe(text)))
        self.put(x, y, text, look)
        return x

    def lines(self) -> tuple[Line, ...]:
        """The rows as spans that fill the whole width."""
        return tuple(self._line(row) for row in self._rows)

    def _line(self, row: list[tuple[int, int, str, Look]]) -> Line:
        spans: list[Span] = []
        at = 0
        for x, wide, text, look in sorted(row, key=lambda piece: piece[0]):
            if x < at:
                # Two texts that would lie over each other: the left one keeps its place.
                continue
            if x > at:
                spans.append((" " * (x - at), Look.PLAIN))
            spans.append((text, look))
            at = x + wide
        if at < self.width:
            spans.append((" " * (self.width - at), Look.PLAIN))
        return tuple(spans)


def safe(text: str) -> str:
    """The words without anything that a terminal would obey, and not endless."""
    if text.isascii() and text.isprintable() and len(text) <= MOST_LETTERS:
        return text
    return _safe(text[:MOST_LETTERS])


@lru_cache(maxsize=1024)
def _safe(text: str) -> str:
    return harmless(text)


def cells(text: str) -> int:
    """Columns that the words take on a terminal."""
    return len(text) if text.isascii() else cell_len(text)


def cut(text: str, width: int) -> str:
    """The words within so many cells, with "..." at the end where some are missing."""
    if width <= 0:
        return ""
    text = safe(text)
    if cells(text) <= width:
        return text
    if width <= 3:
        return set_cell_size(text, width)
    return set_cell_size(text, width - 3).rstrip() + "..."


def wrapped(text: str, width: int, most: int = 0) -> list[str]:
    """The words in rows of at most `width` cells, broken at spaces where that is possible.

    Args:
        text: Words without line feeds.
        width: Cells in a row, at least 1.
        most: Rows at most, the last ending in "..." when more would come; 0 for all.
    """
    width = max(1, width)
    rows: list[str] = []
    row = ""
    for word in safe(text).split():
        joined = f"{row} {word}" if row else word
        if cells(joined) <= width:
            row = joined
            continue
        if row:
            rows.append(row)
        while cells(word) > width:
            part = set_cell_size(word, width)
            if not part.strip() or len(part) > len(word):
                part = word[0]
            # A wide letter that does not fit any more leaves a blank behind.
            part = part if word.startswith(part) else part[:-1]
            rows.append(part)
            word = word[len(part) :]
        row = word
    if row:
        rows.append(row)
    if most and len(rows) > most:
        rows = [*rows[: most - 1], cut(f"{rows[most - 1]} {rows[most]}", width)]
        if not rows[-1].endswith("..."):
            rows[-1] = cut(rows[-1], width - 3).removesuffix("...").rstrip() + "..."
    return rows


def text_of(lines: Iterable[Line]) -> str:
    """The page as plain text, for tests and for eyes; no blanks at the ends of lines."""
    return "\n".join("".join(text for text, _ in line).rstrip() for line in lines)
