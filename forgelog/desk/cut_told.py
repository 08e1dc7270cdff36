"""What a cut list tells, as records: keys of `forgelog cut --json`, and what sheet and screen show.

Every text is final and harmless. A length that is cut is rounded up (to 0.5 mm or 1/32 in), never
down; lengths in mm are of the same rounded figure that the text shows.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.desk.review_words import counted


class Told(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records."""


class RunTold(Told, frozen=True, kw_only=True):
    """Pieces of one component and one length that come from a bar side by side."""

    order: str
    """Id of the order."""
    label: str
    """The order's own label."""
    component: str
    """Id of the component."""
    name: str
    """ "strap"."""
    count: int
    long_mm: float
    """Of each, grip and all."""
    long: str
    marks_mm: tuple[float, ...]
    """The far end of each piece, from the zero end of the bar before anything was sawn off it: all
    can be marked at once. The saw goes beyond the mark."""
    marks: tuple[str, ...]
    workpieces: tuple[str, ...] = ()
    """Ids, where the order's workpieces have been made; of a handful the same one again."""
    grip_mm: float = 0.0
    """Of each length, what the tongs hold and is cut off afterwards; 0 where nothing is."""
    proved: bool = True
    """The recipe has a length that proved itself; False where the sum gives it."""
    words: str
    """ "2 of 480 mm: strap (gate 14)"."""
    note: str = ""
    """ "by the sum; 40 mm of each are grip, cut off afterwards"; "" where there is nothing."""


class BarTold(Told, frozen=True, kw_only=True):
    """One bar or rest that is sawn."""

    number: int
    """From 1 on, through all sections of the list."""
    kind: str
    """offcut, bar (on the rack) or new (to be bought)."""
    words: str
    """ "offcut B2, 340 mm", "bar of 3000 mm (rack, left)", "new bar of 6000 mm"."""
    label: str = ""
    """What is written on it."""
    where: str = ""
    long_mm: float
    long: str
    runs: tuple[RunTold, ...]
    """In the order in which they are sawn, from the zero end."""
    cuts: int
    """How often the saw goes through."""
    kerf_mm: float
    """All cuts together."""
    kerf: str
    rest_mm: float
    """What is left of the bar; 0 where it comes out even."""
    rest: str
    """ "" where it comes out even."""
    rest_label: str = ""
    """To be written on the rest; "" where it is too short to be kept."""
    rest_words: str
    """ "left over: 118 mm, too short to keep", "left over: 1034 mm; write R3 on it"."""

    @property
    def pieces(self) -> int:
        """How many pieces it gives."""
        return sum(run.count for run in self.runs)


class SectionTold(Told, frozen=True, kw_only=True):
    """All that is cut of one section and steel."""

    section: str
    """ "12 mm square", in the shop's units."""
    section_written: str
    """As stock.toml has it."""
    steel: str
    bars: tuple[BarTold, ...]
    """Those that are sawn: offcuts, bars of the rack, new bars."""
    pieces: int
    """How many are cut of it."""
    needed_mm: float
    """Lengths of all pieces, kerfs left out."""
    needed: str
    mass_kg: float
    """Of all pieces as they are cut."""
    mass: str
    buy: int = 0
    """New bars."""
    buy_mm: float = 0.0
    """Length of each."""
    buy_kg: float = 0.0
    """All of them."""
    buy_words: str = ""
    """ "2 bars of 6 m, 13.6 kg"; "" where the rack is enough."""
    lacking: tuple[str, ...] = ()
    """Pieces that no bar is long enough for; a sentence each."""
    notes: tuple[str, ...] = ()
    """What to know: bars that would do in its place, and so on."""


class OrderTold(Told, frozen=True, kw_only=True):
    """An order whose pieces are cut."""

    id: str
    label: str
    title: str


class CutTold(Told, frozen=True, kw_only=True):
    """The cut list."""

    orders: tuple[OrderTold, ...]
    """Orders with something to cut."""
    sections: tuple[SectionTold, ...]
    """What comes from one bar side by side; sections without a piece are left out."""
    pieces: int
    mass_kg: float
    """Of all pieces as they are cut."""
    mass: str
    kerf_mm: float
    """Of one saw cut."""
    kerf: str
    least_mm: float
    """Shorter rests are not kept."""
    least: str
    bar_mm: float
    """Length of a new bar."""
    bar: str
    buy: tuple[str, ...] = ()
    """What to buy, a line each: "12 mm square, mild: 2 bars of 6000 mm, 13.6 kg"."""
    unsized: tuple[str, ...] = ()
    """Components for which the recipe gives no length; a sentence each."""
    left_out: tuple[str, ...] = ()
    """Orders that are not in the list, with the reason: held, or the recipe is gone."""
    notes: tuple[str, ...] = ()
    """What else is worth knowing: pieces that were begun, lengths that changed after sawing."""
    first: str
    """The one thing worth knowing, a sentence: "14 pieces from 3 bars and 1 offcut; buy 1 bar"."""

    @property
    def bars(self) -> tuple[BarTold, ...]:
        """Of all sections, by their numbers."""
        return tuple(bar for section in self.sections for bar in section.bars)


def taken_words(bars: Iterable[BarTold]) -> str:
    """What is cut into: "3 bars and 1 offcut", "2 offcuts"; "" for nothing."""
    kinds = [bar.kind == "offcut" for bar in bars]
    offcuts, whole = sum(kinds), len(kinds) - sum(kinds)
    words = [counted(whole, "bar")] if whole else []
    return " and ".join([*words, counted(offcuts, "offcut")] if offcuts else words)
