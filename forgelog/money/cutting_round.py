"""From the patterns of the linear program to whole bars: the most used are taken, then again."""

from __future__ import annotations

import math
from collections.abc import Sequence

from forgelog.money.cutting_fill import Counts
from forgelog.money.cutting_lp import NEW, SLIGHT, Pattern, relaxed
from forgelog.money.cutting_pack import Filled, pack, pack_freely, useful_rooms

MOST_KINDS = 40
"""So many lengths are told apart in the linear program."""
MOST_ROOMS = 12
"""And so many lengths of bar."""
FEW = 16
"""So few pieces are left to the search."""
STEPS = 400
"""So many bars are filled at most in that."""


def least_new(widths: Sequence[int], counts: Counts, bars: Sequence[int], new: int) -> int:
    """New bars that every plan takes.

    Args:
        widths: Widths of the kinds of piece, the widest first, none above `new`.
        counts: How many there are of each.
        bars: Room of each bar that lies there.
        new: Room of a new bar.
    """
    groups = _groups(len(widths), MOST_KINDS)
    # With every piece as narrow as the narrowest of its group, no more bars are needed.
    narrow = [widths[group[-1]] for group in groups]
    many = tuple(sum(counts[kind] for kind in group) for group in groups)
    rooms = sorted(useful_rooms(narrow, many, bars).items())
    alike = [[rooms[place] for place in group] for group in _groups(len(rooms), MOST_ROOMS)]
    # Nor with every bar as long as the longest of its group.
    longest = [(group[-1][0], sum(len(places) for _, places in group)) for group in alike]
    solved = relaxed(narrow, many, longest, new)
    return math.ceil(solved.least - SLIGHT)


def _groups(kinds: int, most: int) -> list[list[int]]:
    """Kinds side by side, in groups of nearly the same number."""
    many = min(kinds, most)
    return [list(range(kinds * at // many, kinds * (at + 1) // many)) for at in range(many)]


def pack_by_patterns(
    widths: Sequence[int], counts: Counts, bars: Sequence[int], new: int
) -> Filled:
    """Put all pieces into bars and new bars as the linear program would.

    For at most `MOST_KINDS` widths: with more, it takes long, and there is little to be had by it.

    Args:
        widths: As for `least_new`.
        counts: As for `least_new`.
        bars: As for `least_new`; places of new bars follow on theirs.
        new: As for `least_new`.
    """
    rooms = {room: list(places) for room, places in useful_rooms(widths, counts, bars).items()}
    left = list(counts)
    found: Filled = []
    bought = len(bars)
    while sum(left) > FEW:
        kinds = [place for place, count in enumerate(left) if count]
        sorts = sorted(room for room, places in rooms.items() if places)
        solved = relaxed(
            [widths[kind] for kind in kinds],
            tuple(left[kind] for kind in kinds),
            [(room, len(rooms[room])) for room in sorts],
            new,
        )
        taken = 0
        for many, pattern in _whole(solved.patterns):
            way = _spread(pattern, kinds, len(left))
            places = rooms[sorts[pattern.room]] if pattern.room != NEW else None
            for _ in range(many):
                if places == [] or any(w > n for w, n in zip(way, left, strict=True)):
                    break
                found.append((bought if places is None else places.pop(0), way))
                bought += places is None
                left = [n - w for n, w in zip(left, way, strict=True)]
                taken += 1
        if not taken:
            break
    idle = [place for places in rooms.values() for place in places]
    for at, way in _packed(widths, tuple(left), [bars[place] for place in idle], new):
        found.append((idle[at] if at < len(idle) else bought, way))
        bought += at >= len(idle)
    return found


def _whole(patterns: Sequence[Pattern]) -> list[tuple[int, Pattern]]:
    """How many bars of each pattern are taken: whole ones; else those used for more than half."""
    sure = [(int(p.many + 1e-6), p) for p in patterns]
    if any(many for many, _ in sure):
        return [(many, p) for many, p in sure if many]
    return [(1, p) for place, p in enumerate(patterns) if not place or p.many > 0.5]


def _packed(widths: Sequence[int], counts: Counts, bars: Sequence[int], new: int) -> Filled:
    """The pieces that are left, with as few new bars as the search finds."""
    best = pack_freely(widths, counts, bars, new)
    while (bought := sum(at >= len(bars) for at, _ in best)) > 0:
        fewer, _ = pack(widths, counts, [*bars, *[new] * (bought - 1)], STEPS)
        if fewer is None:
            break
        best = fewer
    return best


def _spread(pattern: Pattern, kinds: Sequence[int], size: int) -> Counts:
    way = [0] * size
    for kind, count in zip(kinds, pattern.way, strict=True):
        way[kind] = count
    return tuple(way)
