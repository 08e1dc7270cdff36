"""From a plan to one that takes fewer new bars: two bars at a time share their pieces out anew.

Of two bars, one is filled as full as the pieces of both can fill it; so the other grows emptier,
until a bar is empty. Where no two bars can be bettered, some are emptied together and filled in
another order, and what comes of it stays where the plan is no worse by it. What is bettered is the
sum of the squares of what new bars have left over: pieces that waste room, such as pairs that leave
no third of a bar, so gather on the same bars.

Source: our own search; that sums of squares lead to full bars is Falkenauer's, Journal of
Heuristics 2 (1996), from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from forgelog.money.cutting_fill import highest, lowest
from forgelog.money.cutting_pack import Filled

SHARES_OF_PIECE = 1500
"""So often each piece is looked at, as a mean."""
QUICK_SHARES_OF_PIECE = 200
"""And before anything slower is tried."""
FEW_BARS, MORE_BARS = 3, 9
"""So many bars, and up to so many more, are emptied together beside the emptiest."""
SLIGHT_PARTS = 400
"""A bar that lacks less than this part of it is full."""


def shared_out(
    widths: Sequence[int], packed: Filled, bars: Sequence[int], new: int, least: int, steps: int
) -> Filled:
    """Better a plan until it takes `least` new bars, or the steps are used up.

    Args:
        widths: Widths of the kinds of piece, none above `new`.
        packed: The plan; places of new bars follow on those of the others.
        bars: Room of each bar that lies there.
        new: Room of a new bar.
        least: New bars that every plan takes.
        steps: So many pieces are looked at, at most.

    Returns:
        A plan that takes as many new bars or fewer.
    """
    sharing = _Sharing(widths, packed, bars, new)
    best, bought = packed, sharing.bought()
    sharing.settle(range(len(sharing.rooms)), steps)
    while True:
        if sharing.bought() < bought:
            best, bought = sharing.packed(), sharing.bought()
        if bought <= least or sharing.looked >= steps:
            return best
        sharing.shake(steps)


class _Sharing:
    """Bars, those that lie there first, and what is in each, piece by piece."""

    def __init__(
        self, widths: Sequence[int], packed: Filled, bars: Sequence[int], new: int
    ) -> None:
        self.widths = widths
        self.bars = len(bars)
        self.slight = new // SLIGHT_PARTS
        ways = dict(packed)
        narrowest = min(widths)
        self.places = [at for at, room in enumerate(bars) if room >= narrowest]
        self.lying = len(self.places)
        """So many bars lie there and can be of use; the others are new."""
        self.places += sorted(place for place in ways if place >= self.bars)
        self.rooms = [bars[at] if at < self.bars else new for at in self.places]
        self.pieces = [
            [kind for kind, many in enumerate(ways.get(place, ())) for _ in range(many)]
            for place in self.places
        ]
        self.loads = [self._width(pieces) for pieces in self.pieces]
        self.looked = 0
        self._die = 1

    def bought(self) -> int:
        """New bars that anything is in."""
        return sum(bool(pieces) for pieces in self.pieces[self.lying :])

    def packed(self) -> Filled:
        """The plan as it is now; new bars without a gap."""
        used = [at for at, pieces in enumerate(self.pieces) if pieces]
        new = (self.bars + number for number in range(len(used)))
        return [
            (self.places[at] if at < self.lying else next(new), self._way(self.pieces[at]))
            for at in used
        ]

    def settle(self, changed: Iterable[int], steps: int) -> None:
        """Let bars that changed share with every other until nothing gets better by it."""
        waiting = list(changed)
        while waiting and self.looked < steps:
            one = waiting.pop()
            for other in range(len(self.rooms)):
                if other != one and self._share(min(one, other), max(one, other)):
                    waiting.extend(at for at in (other, one) if at not in waiting)

    def shake(self, steps: int) -> None:
        """Empty some bars, fill them in another order, and keep that if it is no worse."""
        used = [at for at, pieces in enumerate(self.pieces) if pieces or at < self.lying]
        new = [at for at in used if at >= self.lying]
        last = min(new, key=lambda at: self.loads[at])
        if not self._thrown(3):
            last = new[self._thrown(len(new))]
        used.remove(last)
        many = min(len(used), FEW_BARS + self._thrown(MORE_BARS))
        chosen = [used.pop(self._thrown(len(used))) for _ in range(many)]
        before, worth = (list(self.pieces), list(self.loads)), self._worth()
        self._refill([*chosen, last])
        if self.loads[last] <= self.rooms[last]:
            self.settle([*chosen, last], steps)
            if self._worth() >= worth:
                return
        self.pieces, self.loads = before

    def _refill(self, chosen: Sequence[int]) -> None:
        """Fill bars one after the other as full as they will go; the last takes what is left."""
        pool = [kind for at in chosen for kind in self.pieces[at]]
        for at in range(len(pool) - 1, 0, -1):
            other = self._thrown(at + 1)
            pool[at], pool[other] = pool[other], pool[at]
        for at in chosen[:-1]:
            sums = self._sums(pool, self.rooms[at])
            self.loads[at] = highest(sums[-1], self.rooms[at])
            self.pieces[at], pool = self._picked(pool, sums, self.loads[at])
        self.pieces[chosen[-1]], self.loads[chosen[-1]] = pool, self._width(pool)

    def _share(self, one: int, other: int) -> bool:
        """Whether two bars are bettered by sharing anew; `one` lies there if only one does."""
        load, other_load = self.loads[one], self.loads[other]
        room, other_room = self.rooms[one], self.rooms[other]
        mixed = one < self.lying <= other
        if not other_load or room - load <= self.slight:
            return False
        if not mixed and (not load or other_room - other_load <= self.slight):
            return False
        pool = self.pieces[one] + self.pieces[other]
        total = load + other_load
        sums = self._sums(pool, min(total, room))
        taken = highest(sums[-1], min(total, room))
        if mixed:
            better = taken > load
        else:
            # The sum of two squares is greatest where one of the two is as full as can be.
            fewest = max(0, total - other_room)
            tries = [t for t in (taken, lowest(sums[-1], fewest)) if fewest <= t <= room]
            worth = {t: (room - t) ** 2 + (other_room - total + t) ** 2 for t in (load, *tries)}
            taken = max(tries, key=worth.__getitem__)
            better = worth[taken] > worth[load]
        if better:
            self.pieces[one], self.pieces[other] = self._picked(pool, sums, taken)
            self.loads[one], self.loads[other] = taken, total - taken
        return better

    def _sums(self, pool: Sequence[int], most: int) -> list[int]:
        """What the first pieces reach, one more each time; see `cutting_fill`."""
        self.looked += len(pool)
        mask = (1 << (most + 1)) - 1
        reach = 1
        sums = [reach]
        for kind in pool:
            reach |= reach << self.widths[kind] & mask
            sums.append(reach)
        return sums

    def _picked(
        self, pool: Sequence[int], sums: Sequence[int], taken: int
    ) -> tuple[list[int], list[int]]:
        """Pieces that together take so much, those named first, and the others."""
        mine, others = [], []
        for at in range(len(pool) - 1, -1, -1):
            if sums[at] >> taken & 1:
                others.append(pool[at])
            else:
                mine.append(pool[at])
                taken -= self.widths[pool[at]]
        return mine, others

    def _worth(self) -> tuple[int, int]:
        """Sums of squares of what is left over: of new bars, and then of those that lie there."""
        rests = [(r - load) ** 2 for r, load in zip(self.rooms, self.loads, strict=True)]
        return sum(rests[self.lying :]), sum(rests[: self.lying])

    def _width(self, pieces: Iterable[int]) -> int:
        return sum(self.widths[kind] for kind in pieces)

    def _way(self, pieces: Sequence[int]) -> tuple[int, ...]:
        way = [0] * len(self.widths)
        for kind in pieces:
            way[kind] += 1
        return tuple(way)

    def _thrown(self, sides: int) -> int:
        """From a row of numbers without order, the same in every run (Park and Miller 1988)."""
        self._die = self._die * 48_271 % 2_147_483_647
        return self._die % sides
