"""Which pieces share a bar, so that what is left over is few and long."""

from __future__ import annotations

from collections.abc import Sequence

from forgelog.money.cutting_fill import Counts, highest, lowest, one_way, reaches, width_of

MOST_PAIRS = 600
"""So many pairs of bars are looked at; far more than a day's sawing has."""


def longer_rests(
    widths: Sequence[int], rooms: Sequence[int], ways: Sequence[Counts], least: int
) -> list[Counts]:
    """Share the pieces of two bars out anew, pair by pair, as long as rests get longer by it.

    What counts is the sum of the squares of the rests that are worth keeping: one rest of 900 mm
    is better than two of 450 mm, and both are better than one of 800 mm and 100 mm of scrap. For
    two bars the best is found; more are only bettered two by two.

    Args:
        widths: Widths of the kinds of piece.
        rooms: Room of each bar.
        ways: What is in each bar.
        least: Room that must be left for the rest to be worth keeping, above 0.

    Returns:
        What is in each bar then.
    """
    ways = list(ways)
    looked = 0
    bettered = True
    while bettered:
        bettered = False
        for one in range(len(rooms)):
            for other in range(one + 1, len(rooms)):
                if looked >= MOST_PAIRS:
                    return ways
                looked += 1
                found = _shared(widths, rooms[one], rooms[other], ways[one], ways[other], least)
                if found is not None:
                    ways[one], ways[other] = found
                    bettered = True
    return ways


def _shared(
    widths: Sequence[int], room: int, other: int, way: Counts, other_way: Counts, least: int
) -> tuple[Counts, Counts] | None:
    """A better sharing out of two bars, or None."""
    both = tuple(a + b for a, b in zip(way, other_way, strict=True))
    kinds = [place for place, count in enumerate(both) if count]
    wide = [widths[place] for place in kinds]
    many = [both[place] for place in kinds]
    total = width_of(wide, many)
    found = reaches(wide, many, min(room, total))
    fewest = max(0, total - other)

    def worth(taken: int) -> int:
        return _worth(room - taken, least) + _worth(other - (total - taken), least)

    # The sum of two squares is greatest at an end of its range, and each rest has a length from
    # which on it counts; nothing between these can be best.
    tries = {
        lowest(found[0], fewest),
        highest(found[0], room),
        highest(found[0], room - least),
        lowest(found[0], total - other + least),
    }
    fit = sorted(t for t in tries if fewest <= t <= min(room, total))
    best = max(fit, key=worth)
    if worth(best) <= worth(width_of(widths, way)):
        return None
    chosen = dict(zip(kinds, one_way(wide, many, found, best), strict=True))
    taken = tuple(chosen.get(place, 0) for place in range(len(both)))
    return taken, tuple(a - b for a, b in zip(both, taken, strict=True))


def _worth(rest: int, least: int) -> int:
    return rest * rest if rest >= least else 0
