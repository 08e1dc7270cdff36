"""How few new bars could do at the very least, and the patterns that say so.

The linear program over all ways to fill a bar, solved by the simplex method with the ways made one
by one as they are wanted. Small enough for plain Python: a row for each length of piece and of bar.

Source: Gilmore and Gomory, "A linear programming approach to the cutting-stock problem",
Operations Research 9 (1961); the bound from unfinished prices is Farley's, Operations Research 38
(1990).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.money.cutting_fill import Counts

NEW = -1
"""In place of a room's place: a new bar."""
TINY = 1e-7
SLIGHT = 1e-6
"""A bound this little above a whole number of bars is that number."""
ROUNDS = 400
"""So many ways are made at most."""
NODES = 2000
"""So many choices are looked at in the search for the best way."""
QUICK_NODES = 300
"""And in the search for any way that helps, as long as one is found so."""


class Pattern(msgspec.Struct, frozen=True, kw_only=True):
    """A way to fill a bar, and how many bars the linear program fills so."""

    room: int
    """Place of the room, or NEW."""
    way: Counts
    many: float


class Relaxed(msgspec.Struct, frozen=True, kw_only=True):
    """What the linear program says."""

    least: float
    """No plan takes fewer new bars."""
    patterns: tuple[Pattern, ...]
    """The most used first."""


def relaxed(
    widths: Sequence[int], counts: Counts, rooms: Sequence[tuple[int, int]], new: int
) -> Relaxed:
    """Solve the linear program.

    Args:
        widths: Widths of the kinds of piece, all above 0 and none above `new`.
        counts: How many there are of each, all above 0.
        rooms: Room and number of the bars that lie there.
        new: Room of a new bar.
    """
    table = _Table(widths, counts, rooms, new)
    least = 0.0
    nodes = QUICK_NODES
    for _ in range(ROUNDS):
        prices, rents = table.prices()
        if table.bring_slack(prices, rents):
            continue
        best, exact = best_fill(widths, counts, prices, new, nodes)
        value = _worth(best, prices)
        fills = [(value - 1.0, NEW, best)]
        given = sum(p * c for p, c in zip(prices, counts, strict=True))
        for place, (room, many) in enumerate(rooms):
            way, proved = best_fill(widths, counts, prices, room, nodes)
            exact = exact and proved
            given -= many * _worth(way, prices)
            fills.append((_worth(way, prices) + rents[place], place, way))
        if exact:
            least = max(least, given / max(1.0, value))
            if math.ceil(table.new_bars() - SLIGHT) <= math.ceil(least - SLIGHT):
                # No plan takes fewer, and better prices would not say so any better.
                break
        gain, place, way = max(fills, key=lambda fill: fill[0])
        if gain > TINY:
            nodes = QUICK_NODES
            table.bring(place, way)
        elif exact or nodes == NODES:
            break
        else:
            nodes = NODES
    return Relaxed(least=least, patterns=table.patterns())


class _Table:
    """The basis of the simplex method, with its inverse."""

    def __init__(
        self, widths: Sequence[int], counts: Counts, rooms: Sequence[tuple[int, int]], new: int
    ) -> None:
        self.kinds = len(widths)
        self.size = self.kinds + len(rooms)
        self.inverse = [[0.0] * self.size for _ in range(self.size)]
        self.amount: list[float] = []
        self.column: list[tuple[int, Counts] | None] = []
        for place, (width, count) in enumerate(zip(widths, counts, strict=True)):
            many = min(count, new // width)
            self.inverse[place][place] = 1.0 / many
            self.amount.append(count / many)
            way = tuple(many if other == place else 0 for other in range(self.kinds))
            self.column.append((NEW, way))
        for place, (_, many) in enumerate(rooms, self.kinds):
            self.inverse[place][place] = 1.0
            self.amount.append(float(many))
            self.column.append(None)

    def new_bars(self) -> float:
        """How many new bars the present ways take."""
        pairs = zip(self.amount, self.column, strict=True)
        return sum(many for many, column in pairs if column is not None and column[0] == NEW)

    def prices(self) -> tuple[list[float], list[float]]:
        """What a piece of each kind is worth in new bars, and (below 0) a bar of each room."""
        sums = [0.0] * self.size
        for row, column in zip(self.inverse, self.column, strict=True):
            if column is not None and column[0] == NEW:
                sums = [a + b for a, b in zip(sums, row, strict=True)]
        return sums[: self.kinds], sums[self.kinds :]

    def bring_slack(self, prices: list[float], rents: list[float]) -> bool:
        """Let more be cut of a kind than is wanted, or a bar lie idle, where that is cheaper."""
        low = min(prices)
        if low < -TINY:
            place = prices.index(low)
            self._pivot([-row[place] for row in self.inverse], None)
            return True
        high = max(rents, default=0.0)
        if high > TINY:
            place = self.kinds + rents.index(high)
            self._pivot([row[place] for row in self.inverse], None)
            return True
        return False

    def bring(self, room: int, way: Counts) -> None:
        """Use a way."""
        taken = [(place, count) for place, count in enumerate(way) if count]
        if room != NEW:
            taken.append((self.kinds + room, 1))
        moves = [sum(row[place] * count for place, count in taken) for row in self.inverse]
        self._pivot(moves, (room, way))

    def _pivot(self, moves: list[float], column: tuple[int, Counts] | None) -> None:
        at = min(
            (i for i, move in enumerate(moves) if move > TINY),
            key=lambda i: (self.amount[i] / moves[i], -moves[i]),
        )
        by = moves[at]
        row = [value / by for value in self.inverse[at]]
        step = self.amount[at] / by
        self.inverse[at] = row
        self.amount[at] = step
        self.column[at] = column
        for i, move in enumerate(moves):
            if i != at and abs(move) > 1e-12:
                mine = self.inverse[i]
                self.inverse[i] = [a - move * b for a, b in zip(mine, row, strict=True)]
                self.amount[i] = max(0.0, self.amount[i] - move * step)

    def patterns(self) -> tuple[Pattern, ...]:
        """The ways that are used."""
        found = [
            Pattern(room=column[0], way=column[1], many=amount)
            for amount, column in zip(self.amount, self.column, strict=True)
            if column is not None and amount > TINY
        ]
        return tuple(sorted(found, key=lambda p: (-p.many, p.room, p.way)))


def best_fill(
    widths: Sequence[int], counts: Sequence[int], prices: Sequence[float], room: int, nodes: int
) -> tuple[Counts, bool]:
    """The most valuable way to fill a bar, and whether that is proved.

    Kinds are taken by what they are worth for their width; the rest of the room cannot be worth
    more than the next kind would make of all of it, nor than as many of the dearest as the
    narrowest would leave room for.
    """
    order = sorted(
        (place for place, price in enumerate(prices) if price > TINY and widths[place] <= room),
        key=lambda place: (-prices[place] / widths[place], -widths[place]),
    )
    wide = [widths[place] for place in order]
    price = [prices[place] for place in order]
    most = [counts[place] for place in order]
    depth = len(order)
    per_width = [worth / width for worth, width in zip(price, wide, strict=True)]
    narrowest = [min(wide[at:]) for at in range(depth)]
    dearest = [max(price[at:]) for at in range(depth)]
    way = [0] * depth
    best = [0] * depth
    best_value = value = 0.0
    left = room
    at = 0
    while True:
        while at < depth:
            more = best_value + TINY - value
            if left * per_width[at] <= more or left // narrowest[at] * dearest[at] <= more:
                break
            many = min(most[at], left // wide[at])
            way[at] = many
            left -= many * wide[at]
            value += many * price[at]
            at += 1
            nodes -= 1
        if value > best_value + TINY:
            best_value, best = value, way[:at] + [0] * (depth - at)
        at -= 1
        while at >= 0 and not way[at]:
            at -= 1
        if at < 0 or nodes < 0:
            break
        way[at] -= 1
        left += wide[at]
        value -= price[at]
        at += 1
    found = [0] * len(widths)
    for place, many in zip(order, best, strict=True):
        found[place] = many
    return tuple(found), nodes >= 0


def _worth(way: Counts, prices: Sequence[float]) -> float:
    return sum(count * price for count, price in zip(way, prices, strict=True) if count)
