"""What one bar can be filled with: sums of lengths that can be reached, as bits of one number.

Bit s of a reach is set where some choice of the pieces takes exactly s. One shift and one "or" of
whole numbers add a piece to every choice at once, so thousands of sums cost a microsecond.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

Counts = tuple[int, ...]
"""How many of each width, the widest first."""


def reaches(widths: Sequence[int], counts: Sequence[int], most: int) -> list[int]:
    """For each place, the sums up to `most` that the widths from there on can reach.

    Args:
        widths: Widths of the kinds of piece, whole numbers above 0.
        counts: How many there are of each.
        most: Greatest sum of interest, >= 0.

    Returns:
        One number more than there are widths; the last one reaches nothing but 0.
    """
    mask = (1 << (most + 1)) - 1
    found = [1] * (len(widths) + 1)
    reach = 1
    for place in range(len(widths) - 1, -1, -1):
        left, step = min(counts[place], most // widths[place]), 1
        while left > 0:
            # Groups of 1, 2, 4 and so on, and what is left, make every number from none to all.
            step = min(step, left)
            reach |= (reach << (step * widths[place])) & mask
            left -= step
            step *= 2
        found[place] = reach
    return found


def highest(reach: int, most: int) -> int:
    """The greatest sum that is reached and is not above `most`; -1 where there is none."""
    return (reach & ((1 << (most + 1)) - 1)).bit_length() - 1 if most >= 0 else -1


def lowest(reach: int, least: int) -> int:
    """The smallest sum that is reached and is not below `least`; -1 where there is none."""
    rest = reach >> max(0, least)
    return max(0, least) + (rest & -rest).bit_length() - 1 if rest else -1


def width_of(widths: Sequence[int], counts: Sequence[int]) -> int:
    """Width of so many pieces together."""
    return sum(width * count for width, count in zip(widths, counts, strict=True))


def fills(
    widths: Sequence[int], counts: Sequence[int], room: int, waste: int, *, with_first: int = -1
) -> Iterator[Counts]:
    """Ways to fill a bar, the fullest first; of equally full ones, those of wide pieces first.

    Args:
        widths: Widths of the kinds of piece, the widest first.
        counts: How many there are of each.
        room: What the bar holds.
        waste: No way leaves more than this empty.
        with_first: A place of which at least one piece is taken; -1 for any.
    """
    left = list(counts)
    if with_first >= 0:
        room -= widths[with_first]
        left[with_first] -= 1
    if room < 0:
        return
    found = reaches(widths, left, room)
    total = highest(found[0], room)
    while total >= max(0, room - waste):
        for way in _ways(widths, left, found, total):
            if with_first >= 0:
                way[with_first] += 1
            yield tuple(way)
        total = highest(found[0], total - 1)


def one_way(widths: Sequence[int], counts: Sequence[int], found: list[int], total: int) -> Counts:
    """One choice of pieces that takes exactly `total`, which must be reached, wide ones first."""
    return tuple(next(_ways(widths, counts, found, total)))


def _ways(
    widths: Sequence[int], counts: Sequence[int], found: list[int], total: int
) -> Iterator[list[int]]:
    """Every choice that takes exactly `total`; never looks where none lies."""
    kinds = len(widths)
    way = [0] * kinds
    # (place, sum still wanted, how many of this width to try next)
    stack = [(0, total, -1)]
    while stack:
        place, wanted, many = stack.pop()
        if place == kinds:
            yield list(way)
            continue
        if many < 0:
            many = min(counts[place], wanted // widths[place])
        while many >= 0 and not found[place + 1] >> (wanted - many * widths[place]) & 1:
            many -= 1
        if many < 0:
            way[place] = 0
            continue
        way[place] = many
        if many:
            stack.append((place, wanted, many - 1))
        stack.append((place + 1, wanted - many * widths[place], -1))
