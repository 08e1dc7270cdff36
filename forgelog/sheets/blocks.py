"""What a printed sheet is made of: a handful of blocks, set as a page or as lines.

A sheet is told once in these; `html` and `text` set it. Texts may be a stranger's: whoever sets
them makes them harmless. Drawings are the only markup, and `drawings` writes them from numbers.
"""

from __future__ import annotations

import msgspec

SHORT_LETTERS = 14


class Block(msgspec.Struct, frozen=True, kw_only=True, tag=True):
    """Base of the blocks."""

    @property
    def kind(self) -> str:
        """Its name for the template."""
        return type(self).__name__.lower()


class Facts(Block, frozen=True, kw_only=True):
    """Labels with what is to be known of them."""

    rows: tuple[tuple[str, str], ...]


class Words(Block, frozen=True, kw_only=True):
    """A paragraph."""

    words: str
    strong: bool = False


class Points(Block, frozen=True, kw_only=True):
    """Sentences that stand one under the other, each with a sign before it."""

    items: tuple[str, ...]
    sign: str = "!"


class Check(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to tick off."""

    words: str
    note: str = ""
    done: bool = False


class Checks(Block, frozen=True, kw_only=True):
    """Things to tick off, one under the other."""

    items: tuple[Check, ...]

    @property
    def long(self) -> bool:
        """Whether it is long enough for two columns."""
        return len(self.items) > 8


class Table(Block, frozen=True, kw_only=True):
    """Rows and columns."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    """Columns of figures, set to the right."""
    total: bool = False
    """True where the last row sums up the others."""
    ticked: bool = False
    """True where each row has a box before it, but for the last one that sums up."""

    @property
    def short(self) -> frozenset[int]:
        """Columns that hold nothing but a few letters: they are not broken."""
        return frozenset(
            i
            for i in range(len(self.head))
            if all(len(row[i]) <= SHORT_LETTERS for row in (self.head, *self.rows))
        )


class Cell(msgspec.Struct, frozen=True, kw_only=True):
    """A place to tick or to write in, for one piece."""

    name: str = ""
    boxes: int = 0
    crossed: bool = False
    """True where the journal has it down as done."""
    blank: bool = False
    """Room for a figure."""
    note: bool = False
    """Room for a few words."""


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to tick or write for every piece."""

    label: str
    cells: tuple[Cell, ...]


class Drawing(msgspec.Struct, frozen=True, kw_only=True):
    """A picture with its words; the words alone where there are only letters."""

    svg: str
    """Written by `drawings` or `timeline_svg` alone."""
    words: str
    lines: tuple[str, ...] = ()
    """The same in letters, of 80 columns at most; empty where it cannot be told so."""


class Step(Block, frozen=True, kw_only=True):
    """One step: never broken over two pages."""

    number: int
    title: str
    aside: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    """Label and words; no label where the words say it all."""
    drawing: Drawing | None = None
    """Small, beside the words."""
    strip: Drawing | None = None
    """Over the whole width, under the title."""
    rows: tuple[Row, ...] = ()


class Picture(Block, frozen=True, kw_only=True):
    """A drawing over the whole width."""

    drawing: Drawing
    items: tuple[str, ...] = ()
    """What its numbers mean."""


class Room(Block, frozen=True, kw_only=True):
    """Lines for the smith's own notes."""

    title: str
    lines: int


AnyBlock = Facts | Words | Points | Checks | Table | Step | Picture | Room


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """A titled part of a sheet."""

    title: str
    blocks: tuple[AnyBlock, ...]
    new_page: bool = False


class Sheet(msgspec.Struct, frozen=True, kw_only=True):
    """A whole sheet."""

    kind: str
    """ "JOB SHEET"."""
    title: str
    head: str
    """Runs along the top of every page."""
    foot: str
    """Runs along the bottom: the day, and what must not be forgotten."""
    lead: tuple[AnyBlock, ...] = ()
    """What stands under the title, before the first part."""
    to_scale: bool = False
    """True where something is drawn true to size: a line tells whether the page was printed so."""
    parts: tuple[Part, ...]
