"""Whether pieces go into given bars, and how: a search that takes the widest piece first.

The widest piece that is left must lie in some bar. So for every length of bar that could take it,
and every way to fill that bar with it, fullest first, the same is asked of what is left. What may
be wasted in all is known from the start, which leaves few ways where it is tight; where it is not,
the first way mostly succeeds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from forgelog.money.cutting_fill import Counts, fills, highest, reaches, width_of

Rooms = tuple[tuple[int, int], ...]
"""Room and number of the bars of each length, the shortest first."""
Filled = list[tuple[int, Counts]]
"""Which bar, by its place in what was asked, and what is in it."""
BREADTHS = (1, 2, 4)
"""So many ways are tried for each bar in the quick searches before the whole one."""

_Left = tuple[Counts, Rooms, int]
"""Pieces and bars that are left, and how much may still be wasted."""
_Step = tuple[int, Counts, _Left]
"""Room of a bar that is filled, with what, and what is left then."""


def pack(
    widths: Sequence[int], counts: Counts, bars: Sequence[int], steps: int
) -> tuple[Filled | None, bool]:
    """Put all pieces into bars; a bar may stay empty.

    Args:
        widths: Widths of the kinds of piece, the widest first.
        counts: How many there are of each.
        bars: Room of each bar.
        steps: So many bars are filled at most, over all tries: it ends soon everywhere.

    Returns:
        The packing, or None; and whether None proves that there is none.
    """
    rooms = useful_rooms(widths, counts, bars)
    grouped = tuple((room, len(rooms[room])) for room in sorted(rooms))
    spare = sum(room * many for room, many in grouped) - width_of(widths, counts)
    if spare < 0:
        return None, True
    start = (counts, grouped, spare)
    for breadth in (*BREADTHS, 0):
        share = steps if not breadth else steps // (2 * len(BREADTHS))
        found, whole = _searched(widths, start, share, breadth)
        if found is not None or whole:
            return (None if found is None else placed(found, rooms)), True
    return None, False


def pack_freely(widths: Sequence[int], counts: Counts, bars: Sequence[int], new: int) -> Filled:
    """Put all pieces into bars, and into as many new ones as it takes.

    The places of new bars follow on those of the others.

    Args:
        widths: Widths of the kinds of piece, the widest first, none above `new`.
        counts: How many there are of each.
        bars: Room of each bar that lies there.
        new: Room of a new bar.
    """
    plenty = (*bars, *([new] * sum(counts)))
    rooms = useful_rooms(widths, counts, plenty)
    grouped = tuple((room, len(rooms[room])) for room in sorted(rooms))
    start = (counts, grouped, sum(plenty))
    found, _ = _searched(widths, start, sum(counts), 1)
    assert found is not None
    return placed(found, rooms)


def _searched(
    widths: Sequence[int], start: _Left, steps: int, breadth: int
) -> tuple[list[tuple[int, Counts]] | None, bool]:
    """Rooms that are filled and with what, or None; and whether every way was tried."""
    whole = True
    dead: set[tuple[Counts, Rooms]] = set()
    done: list[tuple[int, Counts]] = []
    if not any(start[0]):
        return done, True
    open_: list[tuple[_Left, Iterator[_Step], int]] = [(start, _steps(widths, start), 0)]
    while open_:
        left, ways, tried = open_.pop()
        step = next(ways, None)
        if step is not None and (steps <= 0 or (breadth and tried >= breadth)):
            whole, step = False, None
        if step is None:
            if whole:
                dead.add(left[:2])
            if done:
                done.pop()
            if steps <= 0:
                return None, False
            continue
        steps -= 1
        room, way, then = step
        open_.append((left, ways, tried + 1))
        if not any(then[0]):
            return [*done, (room, way)], whole
        if then[:2] not in dead:
            done.append((room, way))
            open_.append((then, _steps(widths, then), 0))
    return None, whole


def _steps(widths: Sequence[int], left: _Left) -> Iterator[_Step]:
    """Every way to fill a bar with the widest piece that is left."""
    counts, rooms, spare = left
    widest = next(place for place, count in enumerate(counts) if count)
    for at, (room, many) in enumerate(rooms):
        if room < widths[widest]:
            continue
        others = (*rooms[:at], *(((room, many - 1),) if many > 1 else ()), *rooms[at + 1 :])
        for way in fills(widths, counts, room, spare, with_first=widest):
            rest = tuple(a - b for a, b in zip(counts, way, strict=True))
            yield room, way, (rest, others, spare - room + width_of(widths, way))


def useful_rooms(
    widths: Sequence[int], counts: Counts, bars: Sequence[int]
) -> dict[int, list[int]]:
    """Places of the bars by what the pieces can fill of them at most; useless ones left out."""
    reach = reaches(widths, counts, max(bars, default=0))[0]
    rooms: dict[int, list[int]] = {}
    for place, bar in enumerate(bars):
        room = highest(reach, bar)
        if room > 0:
            rooms.setdefault(room, []).append(place)
    return rooms


def placed(found: list[tuple[int, Counts]], rooms: dict[int, list[int]]) -> Filled:
    """Which bar each room is: of those that hold as much, the ones named first."""
    free = {room: iter(places) for room, places in rooms.items()}
    return [(next(free[room]), way) for room, way in found]
