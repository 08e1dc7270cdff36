"""Which bars are cut into: fewest new ones, then fewest of the rack, then the shortest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import msgspec

from forgelog.money.cutting_fill import Counts, width_of
from forgelog.money.cutting_list import Piece, Saw, StockBar
from forgelog.money.cutting_pack import Filled as Packed
from forgelog.money.cutting_pack import pack, pack_freely
from forgelog.money.cutting_rests import longer_rests
from forgelog.money.cutting_round import MOST_KINDS, least_new, pack_by_patterns
from forgelog.money.cutting_share import QUICK_SHARES_OF_PIECE, SHARES_OF_PIECE, shared_out

STEPS = 1500
"""So many bars are filled at most in the search for one bar fewer."""
PIECE_STEPS = 90_000
"""And so many times pieces, where there are many: each bar takes longer then."""
QUICK_STEPS = 120
"""And in the search for a shorter bar that will do."""
PIECES_SEARCHED = 1600
"""So many such searches are made, times pieces: 8 with 200 pieces, more than there are with 30."""
NOISE = 1e-6
"""Part of a grain by which a length may be off from working with floats."""


class Lying(msgspec.Struct, frozen=True, kw_only=True, eq=False):
    """One bar of the stock; two alike are two."""

    stock: StockBar
    room: int
    """In grains: what pieces and their saw cuts may take."""
    held: tuple[tuple[int, int], ...] = ()
    """Width and number of pieces that only the rack is long enough for: it is cut into anyway."""


class Filling(msgspec.Struct, frozen=True, kw_only=True):
    """A bar that is cut into, and what it gives."""

    bar: Lying | None
    """None for a new one."""
    way: Counts


class Fewest(msgspec.Struct, frozen=True, kw_only=True):
    """How few new bars will do."""

    new: int
    proved: bool
    """True where no plan takes fewer."""
    filled: list[Filling]
    """One way that does; it may cut into more of the rack than it need."""


class Bench:
    """Pieces of one section and the bars for them, in grains. The longest bars stand first."""

    def __init__(self, stock: Iterable[StockBar], saw: Saw, many: int) -> None:
        """Make it.

        Args:
            stock: What lies there.
            saw: How the shop saws.
            many: How many pieces there are: so many alike bars at most can be of use.
        """
        self.saw = saw
        self.kerf = grains_up(saw.kerf_mm, saw.grain_mm)
        self.new = self.room_of(saw.new_mm)
        self.lying = [
            Lying(stock=bar, room=self.room_of(bar.long_mm))
            for bar in sorted(stock, key=lambda bar: (-bar.long_mm, bar.id))
            for _ in range(min(bar.count, many))
        ]

    def room_of(self, long_mm: float) -> int:
        """What a bar has room for: beyond a last piece that ends with it, no saw cut is needed."""
        return math.floor(long_mm / self.saw.grain_mm + NOISE) + self.kerf

    def width(self, piece: Piece) -> int:
        """What a piece takes of a bar, with its saw cut."""
        return grains_up(piece.long_mm, self.saw.grain_mm) + self.kerf

    def kinds(self, pieces: Iterable[Piece]) -> tuple[list[int], Counts]:
        """Widths, the widest first, and how many there are of each."""
        many: dict[int, int] = {}
        for piece in pieces:
            width = self.width(piece)
            many[width] = many.get(width, 0) + piece.count
        widths = sorted(many, reverse=True)
        return widths, tuple(many[width] for width in widths)

    def put_long_ones(self, pieces: Sequence[Piece]) -> list[Piece]:
        """Give pieces that are longer than a new bar their bars; return those that get none."""
        kept: list[Piece] = []
        lacking: list[Piece] = []
        for piece in sorted(pieces, key=lambda p: (-p.long_mm, p.id)):
            many = piece.count
            while many and self.least_opened([*kept, _of(piece, many)], 0) is None:
                many -= 1
            kept.extend([_of(piece, many)] if many else [])
            lacking.extend([_of(piece, piece.count - many)] if many < piece.count else [])
        widths, _ = self.kinds(kept)
        for filling in self.least_opened(kept, 0) or ():
            bar = filling.bar
            assert bar is not None
            held = tuple(pair for pair in zip(widths, filling.way, strict=True) if pair[1])
            room = bar.room - width_of(widths, filling.way)
            self.lying[self.lying.index(bar)] = Lying(stock=bar.stock, room=room, held=held)
        self.lying.sort(key=lambda bar: -bar.room)
        return lacking

    def fewest_new(self, pieces: Sequence[Piece]) -> Fewest:
        """Fewest new bars with all that lies there."""
        widths, counts = self.kinds(pieces)
        rooms = [bar.room for bar in self.lying]
        best = pack_freely(widths, counts, rooms, self.new)
        least = max(0, -(-(width_of(widths, counts) - sum(rooms)) // self.new))
        if self._bought(best) > least:
            best = shared_out(
                widths, best, rooms, self.new, least, QUICK_SHARES_OF_PIECE * sum(counts)
            )
        if self._bought(best) > least:
            least = max(least, least_new(widths, counts, rooms, self.new))
        if self._bought(best) > least and len(widths) <= MOST_KINDS:
            other = pack_by_patterns(widths, counts, rooms, self.new)
            best = min(best, other, key=self._bought)
        if self._bought(best) > least:
            steps = SHARES_OF_PIECE * sum(counts)
            best = shared_out(widths, best, rooms, self.new, least, steps)
        while (new := self._bought(best)) > least:
            found, proved = pack(widths, counts, [*rooms, *[self.new] * (new - 1)], _steps(counts))
            if found is None:
                return Fewest(new=new, proved=proved, filled=self._filled(best))
            best = found
        return Fewest(new=self._bought(best), proved=True, filled=self._filled(best))

    def _bought(self, packed: Packed) -> int:
        return sum(place >= len(self.lying) for place, _ in packed)

    def _filled(self, packed: Packed) -> list[Filling]:
        return [
            Filling(bar=self.lying[at] if at < len(self.lying) else None, way=way)
            for at, way in packed
        ]

    def least_opened(
        self, pieces: Sequence[Piece], new: int, known: list[Filling] | None = None
    ) -> list[Filling] | None:
        """What is cut into beside so many new bars; None where that will not do, or no way is
        found and none is known.

        A longer bar does whatever a shorter one does, so whether one fewer is enough is asked of
        the longest alone. Rests of the rack are left whole before bars are: they come last.
        """
        best = known if known is not None else self._tried(pieces, self.lying, new)
        for offcut in (False, True):
            same = [b for b in self.lying if b.stock.offcut == offcut and not b.held]
            if best is None:
                return None
            others = [b for b in self.lying if b.held]
            others += _opened(best, offcut=False) if offcut else self._offcuts
            low, most = 0, len(_opened(best, offcut=offcut))
            while low < most:
                many = (low + most) // 2
                fewer = self._tried(pieces, [*same[:many], *others], new)
                if fewer is None:
                    low = many + 1
                else:
                    best = fewer
                    most = len(_opened(best, offcut=offcut))
        return self._shortest(pieces, best, new) if best is not None else None

    def with_longer_rests(
        self, pieces: Sequence[Piece], filled: Sequence[Filling]
    ) -> list[Filling]:
        """The same bars, with the pieces shared out so that what is left is few and long."""
        widths, counts = self.kinds(pieces)
        idle = [b for b in self.lying if b.held and all(b is not f.bar for f in filled)]
        none = tuple(0 for _ in counts)
        filled = [*filled, *(Filling(bar=bar, way=none) for bar in idle)]
        rooms = [f.bar.room if f.bar is not None else self.new for f in filled]
        least = grains_up(self.saw.least_mm, self.saw.grain_mm) + self.kerf
        ways = longer_rests(widths, rooms, [f.way for f in filled], least)
        return [
            Filling(bar=f.bar, way=way)
            for f, way in zip(filled, ways, strict=True)
            if any(way) or (f.bar is not None and f.bar.held)
        ]

    @property
    def _offcuts(self) -> list[Lying]:
        return [b for b in self.lying if b.stock.offcut and not b.held]

    def _tried(
        self, pieces: Sequence[Piece], chosen: Sequence[Lying], new: int, steps: int = 0
    ) -> list[Filling] | None:
        """A way to put the pieces into these bars and so many new ones; None where none is found.

        Without `steps`, the two searches for fewer bars are both made.
        """
        widths, counts = self.kinds(pieces)
        rooms = [bar.room for bar in chosen]
        every = [*rooms, *[self.new] * new]
        found, proved = pack(widths, counts, every, steps or _steps(counts))
        if found is None and not proved and not steps:
            free = pack_freely(widths, counts, rooms, self.new)
            found = shared_out(
                widths, free, rooms, self.new, new, QUICK_SHARES_OF_PIECE * sum(counts)
            )
            if sum(at >= len(rooms) for at, _ in found) > new:
                return None
        if found is None:
            return None
        return [Filling(bar=chosen[at] if at < len(chosen) else None, way=w) for at, w in found]

    def _shortest(self, pieces: Sequence[Piece], best: list[Filling], new: int) -> list[Filling]:
        """The same number of bars, each as short as will do, the longest first."""
        widths, counts = self.kinds(pieces)
        searches = PIECES_SEARCHED // max(1, sum(counts))
        held = [b for b in self.lying if b.held]
        for bar in [*_opened(best, offcut=False), *_opened(best, offcut=True)]:
            used = [f.bar for f in best if f.bar is not None and not f.bar.held]
            load = sum(width_of(widths, f.way) for f in best if f.bar is bar)
            for other in self._shorter(bar, used):
                found = None
                if other.room >= load:
                    found = [Filling(bar=other, way=f.way) if f.bar is bar else f for f in best]
                elif searches > 0:
                    searches -= 1
                    swapped = [other if b is bar else b for b in used]
                    found = self._tried(pieces, [*swapped, *held], new, QUICK_STEPS)
                if found is not None:
                    best = found
                    break
        return best

    def _shorter(self, bar: Lying, used: Sequence[Lying]) -> Iterator[Lying]:
        """Bars that lie idle and are shorter, the shortest first, one of each length."""
        seen: set[int] = set()
        for other in reversed(self.lying):
            alike = other.stock.offcut == bar.stock.offcut and not other.held
            new = other.room < bar.room and other.room not in seen
            if alike and new and all(other is not one for one in used):
                seen.add(other.room)
                yield other


def grains_up(long_mm: float, grain_mm: float) -> int:
    """A length in grains, rounded up."""
    return math.ceil(long_mm / grain_mm - NOISE)


def _steps(counts: Counts) -> int:
    return min(STEPS, PIECE_STEPS // max(1, sum(counts)))


def _of(piece: Piece, count: int) -> Piece:
    return msgspec.structs.replace(piece, count=count)


def _opened(filled: Sequence[Filling], *, offcut: bool) -> list[Lying]:
    """Offcuts, or other bars of the rack, that are cut into for this; the longest first."""
    found = [f.bar for f in filled if f.bar is not None and not f.bar.held]
    return sorted((b for b in found if b.stock.offcut == offcut), key=lambda bar: -bar.room)
