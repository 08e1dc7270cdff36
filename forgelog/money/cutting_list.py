"""What is to be cut, what lies there, and which piece is sawn from which bar: the records."""

from __future__ import annotations

import msgspec

NEW, BAR, OFFCUT = "new", "bar", "offcut"


class Piece(msgspec.Struct, frozen=True, kw_only=True):
    """Pieces of one length that are wanted."""

    id: str
    long_mm: float
    """As it is sawn off: the tongs' grip is in it."""
    count: int = 1


class StockBar(msgspec.Struct, frozen=True, kw_only=True):
    """Bars that lie there, all of one length."""

    id: str
    long_mm: float
    count: int = 1
    offcut: bool = False
    """A labelled rest, not a bar."""


class Saw(msgspec.Struct, frozen=True, kw_only=True):
    """How the shop saws."""

    kerf_mm: float = 2.0
    new_mm: float = 6000.0
    """Length of a bar as it is bought."""
    least_mm: float = 150.0
    """A shorter rest is not kept."""
    grain_mm: float = 0.5
    """What a length is rounded up to."""


class Cut(msgspec.Struct, frozen=True, kw_only=True):
    """Alike pieces side by side on a bar."""

    id: str
    long_mm: float
    """Rounded up."""
    count: int


class SawnBar(msgspec.Struct, frozen=True, kw_only=True):
    """One bar and what is sawn from it."""

    kind: str
    """new, bar or offcut."""
    id: str = ""
    """Of the stock; "" of a new bar."""
    long_mm: float
    cuts: tuple[Cut, ...]
    """Long pieces first."""
    saw_cuts: int
    """How often the saw goes through: not after a last piece that ends with the bar."""
    rest_mm: float
    """Rounded down; 0 where it comes out even."""


class CutPlan(msgspec.Struct, frozen=True, kw_only=True):
    """What is sawn from what."""

    bars: tuple[SawnBar, ...]
    """Offcuts, then bars of the rack, then new ones; the longest first."""
    lacking: tuple[Piece, ...] = ()
    """Pieces that no bar that could be had is long enough for."""
    fewest: bool = True
    """True where it is proved that no plan takes fewer new bars."""

    @property
    def new(self) -> int:
        """How many bars are to be bought."""
        return sum(bar.kind == NEW for bar in self.bars)
