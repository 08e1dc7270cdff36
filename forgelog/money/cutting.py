"""Which piece is sawn from which bar: fewest new bars, then the least that is cut into.

What is sought, in this order: the fewest new bars; the fewest bars of the rack that are cut into;
the fewest labelled rests (so one is used where that saves a bar, and else left whole); the shortest
of those that will do; and then rests that are few and long, by the sum of their squares.

Lengths are whole grains (0.5 mm, or 1/32 in): a piece and a saw cut are rounded up, a bar is
rounded down, so nothing is ever cut beyond the end of a bar.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from forgelog.money.cutting_bench import Bench, Filling, grains_up
from forgelog.money.cutting_list import BAR as BAR
from forgelog.money.cutting_list import NEW as NEW
from forgelog.money.cutting_list import OFFCUT as OFFCUT
from forgelog.money.cutting_list import Cut as Cut
from forgelog.money.cutting_list import CutPlan as CutPlan
from forgelog.money.cutting_list import Piece as Piece
from forgelog.money.cutting_list import Saw as Saw
from forgelog.money.cutting_list import SawnBar as SawnBar
from forgelog.money.cutting_list import StockBar as StockBar
from forgelog.trade.errors import SumError, positive

_ORDER = (OFFCUT, BAR, NEW)


def rounded_up_mm(long_mm: float, grain_mm: float) -> float:
    """A length as it is cut: up to the next grain, never down."""
    return grains_up(long_mm, grain_mm) * grain_mm


def plan_cuts(pieces: Iterable[Piece], stock: Iterable[StockBar], saw: Saw) -> CutPlan:
    """Say which piece is sawn from which bar; all of one section and steel.

    Args:
        pieces: What is wanted, each with an id of its own.
        stock: What lies there, each with an id of its own.
        saw: Kerf, new bars and the least rest worth keeping.

    Raises:
        SumError: a length is not above 0, or the kerf below 0.

    Source:
        Our own search, exact where it ends within its steps (`CutPlan.fewest`); checked against
        the bound of linear programming in the tests.
    """
    wanted = [piece for piece in pieces if piece.count > 0]
    lying = list(stock)
    _check(wanted, lying, saw)
    bench = Bench(lying, saw, sum(piece.count for piece in wanted))
    longest = max((bench.new, *(bar.room for bar in bench.lying)))
    lacking = [piece for piece in wanted if bench.width(piece) > longest]
    long = [piece for piece in wanted if bench.new < bench.width(piece) <= longest]
    lacking += bench.put_long_ones(long)
    others = [piece for piece in wanted if bench.width(piece) <= bench.new]
    fewest = bench.fewest_new(others)
    filled = bench.least_opened(others, fewest.new, fewest.filled)
    assert filled is not None
    filled = bench.with_longer_rests(others, filled)
    return CutPlan(
        bars=_sawn(bench, wanted, bench.kinds(others)[0], filled),
        lacking=tuple(lacking),
        fewest=fewest.proved,
    )


def _check(pieces: Sequence[Piece], stock: Sequence[StockBar], saw: Saw) -> None:
    for piece in pieces:
        positive("piece", piece.long_mm, "mm")
    for bar in stock:
        positive("bar", bar.long_mm, "mm")
    positive("new bar", saw.new_mm, "mm")
    positive("grain", saw.grain_mm, "mm")
    for name, mm in (("saw cut", saw.kerf_mm), ("least offcut", saw.least_mm)):
        if not 0 <= mm < math.inf:
            raise SumError(f"the {name} is {mm:g} mm; it must be 0 or more")


def _sawn(
    bench: Bench, wanted: Sequence[Piece], widths: Sequence[int], filled: Sequence[Filling]
) -> tuple[SawnBar, ...]:
    """The bars in the order in which they are taken, and whose piece each one is."""
    waiting: dict[int, list[tuple[Piece, int]]] = {}
    for piece in wanted:
        waiting.setdefault(bench.width(piece), []).append((piece, piece.count))
    ordered = sorted(filled, key=lambda f: (_ORDER.index(_kind(f)), -_long_mm(bench, f)))
    bars = []
    for filling in ordered:
        held = filling.bar.held if filling.bar is not None else ()
        taken = sorted((*held, *zip(widths, filling.way, strict=True)), reverse=True)
        cuts = [cut for width, many in taken for cut in _cuts(bench, waiting[width], many)]
        bars.append(_bar(bench, filling, tuple(cuts)))
    return tuple(bars)


def _cuts(bench: Bench, waiting: list[tuple[Piece, int]], many: int) -> Iterable[Cut]:
    """So many pieces of one width, of those that were named first."""
    while many > 0:
        piece, left = waiting[0]
        taken = min(many, left)
        yield Cut(
            id=piece.id,
            long_mm=rounded_up_mm(piece.long_mm, bench.saw.grain_mm),
            count=taken,
        )
        waiting[0] = (piece, left - taken)
        if left == taken:
            waiting.pop(0)
        many -= taken


def _bar(bench: Bench, filling: Filling, cuts: tuple[Cut, ...]) -> SawnBar:
    grain = bench.saw.grain_mm
    long_mm = _long_mm(bench, filling)
    pieces = sum(cut.count for cut in cuts)
    taken = sum(grains_up(cut.long_mm, grain) * cut.count for cut in cuts)
    kerf = bench.kerf
    rest = bench.room_of(long_mm) - kerf - taken - pieces * kerf
    even = long_mm <= (taken + (pieces - 1) * kerf) * grain * (1 + 1e-9)
    return SawnBar(
        kind=_kind(filling),
        id=filling.bar.stock.id if filling.bar is not None else "",
        long_mm=long_mm,
        cuts=cuts,
        saw_cuts=pieces - even,
        rest_mm=max(0, rest) * grain,
    )


def _kind(filling: Filling) -> str:
    if filling.bar is None:
        return NEW
    return OFFCUT if filling.bar.stock.offcut else BAR


def _long_mm(bench: Bench, filling: Filling) -> float:
    return bench.saw.new_mm if filling.bar is None else filling.bar.stock.long_mm
