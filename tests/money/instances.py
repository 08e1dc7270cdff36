"""Cutting problems of our own making, each from its seed: lengths of all sorts, and racks."""

from __future__ import annotations

import random

from forgelog.money.cutting import Piece, StockBar

FAMILIES = {
    "mixed": (40.0, 2500.0),
    "small": (40.0, 600.0),
    "thirds": (1500.0, 2600.0),
    "halves": (2000.0, 4000.0),
    "long": (500.0, 5000.0),
}
"""Shortest and longest piece, mm; thirds and halves of a bar are where sawing goes wrong."""


def made(
    family: str, seed: int, pieces: int, kinds: int, *, most_bars: int = 3, most_offcuts: int = 5
) -> tuple[list[Piece], list[StockBar]]:
    """One problem.

    Args:
        family: Of `FAMILIES`.
        seed: The same seed makes the same problem.
        pieces: How many pieces.
        kinds: How many lengths at most.
        most_bars: Lengths of bar on the rack at most.
        most_offcuts: Offcuts at most.
    """
    chance = random.Random(f"{family} {seed} {pieces} {kinds}")
    low, high = FAMILIES[family]
    kinds = min(kinds, pieces)
    counts = [1] * kinds
    for _ in range(pieces - kinds):
        counts[chance.randrange(kinds)] += 1
    wanted = [
        Piece(id=f"p{at}", long_mm=round(chance.uniform(low, high), 2), count=count)
        for at, count in enumerate(counts)
    ]
    lengths = (3000.0, 6000.0, 2400.0, 1900.3, chance.uniform(300.0, 3000.0))
    stock = [
        StockBar(id=f"b{at}", long_mm=chance.choice(lengths), count=chance.randint(1, 2))
        for at in range(chance.randint(0, most_bars))
    ]
    stock += [
        StockBar(id=f"o{at}", long_mm=chance.uniform(150.0, 1500.0), offcut=True)
        for at in range(chance.randint(0, most_offcuts))
    ]
    return wanted, stock
