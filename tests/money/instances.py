"""Cutting problems of our own making, each from its seed: lengths of all sorts, and racks."""

from __future__ import annotations

import random

from forgelog.money.cutting import Piece, Saw, StockBar

FAMILIES = {
    "mixed": (40.0, 2500.0),
    "small": (40.0, 600.0),
    "thirds": (1500.0, 2600.0),
    "halves": (2000.0, 4000.0),
    "long": (500.0, 5000.0),
    "quarters": (1350.0, 1650.0),
    "triplets": (1000.0, 4000.0),
    "few long": (40.0, 5500.0),
    "kerfs": (740.0, 3000.0),
    "racks": (700.0, 2900.0),
    "offcuts": (200.0, 2200.0),
}
"""Shortest and longest piece, mm. Thirds and halves of a bar are where sawing goes wrong.

Triplets: every three fill a bar with not a grain to spare. Few long: one in seven is long, the
others are short. Kerfs: so near a whole part of a bar that the saw cuts decide. Racks: bars of six
lengths lie there; offcuts: sixty rests do.
"""
PLAIN = ("halves", "long", "mixed", "small", "thirds")
"""Those whose lengths are spread evenly, over a small rack."""


def saw_of(family: str) -> Saw:
    """How the shop of such problems saws."""
    return Saw(kerf_mm=4.0) if family == "kerfs" else Saw()


def made(
    family: str, seed: int, pieces: int, kinds: int, *, most_bars: int = 3, most_offcuts: int = 5
) -> tuple[list[Piece], list[StockBar]]:
    """One problem.

    Args:
        family: Of `FAMILIES`.
        seed: The same seed makes the same problem.
        pieces: How many pieces.
        kinds: How many lengths at most.
        most_bars: Lengths of bar on the rack at most, where the family does not say it.
        most_offcuts: Offcuts at most, as well.
    """
    chance = random.Random(f"{family} {seed} {pieces} {kinds}")
    kinds = min(kinds, pieces)
    counts = [1] * kinds
    for _ in range(pieces - kinds):
        counts[chance.randrange(kinds)] += 1
    wanted = [
        Piece(id=f"p{at}", long_mm=long_mm, count=count)
        for at, (long_mm, count) in enumerate(
            zip(_lengths(family, chance, kinds), counts, strict=True)
        )
    ]
    if family == "racks":
        rack = (7000.0, 6000.0, 5000.0, 4000.0, 3000.0, 2000.0)
        return wanted, [
            StockBar(id=f"b{at}", long_mm=long_mm, count=chance.randint(2, 12))
            for at, long_mm in enumerate(rack)
        ]
    if family == "offcuts":
        return wanted, [
            StockBar(id=f"o{at}", long_mm=chance.uniform(150.0, 2500.0), offcut=True)
            for at in range(60)
        ]
    if family not in PLAIN:
        return wanted, []
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


def _lengths(family: str, chance: random.Random, kinds: int) -> list[float]:
    """So many lengths, mm."""
    low, high = FAMILIES[family]
    if family == "triplets":
        # Three pieces and two saw cuts of 2 mm make a bar of 6 m, in grains of 0.5 mm.
        found: list[float] = []
        while len(found) < kinds:
            one = chance.randint(3000, 5000)
            two = chance.randint(3000, min(5000, 11_992 - one - 2000))
            found += [one / 2, two / 2, (11_992 - one - two) / 2]
        return found[:kinds]
    if family == "few long":
        return [
            round(
                chance.uniform(2500.0, high)
                if not chance.randrange(7)
                else chance.uniform(low, 300.0),
                2,
            )
            for _ in range(kinds)
        ]
    if family == "kerfs":
        parts = [chance.randint(2, 8) for _ in range(kinds)]
        return [round(6000.0 / part - chance.uniform(0.0, 8.0), 2) for part in parts]
    return [round(chance.uniform(low, high), 2) for _ in range(kinds)]
