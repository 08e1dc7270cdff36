"""Twist drills by number, letter and fraction.

Source: ASME B94.11M, twist drills (from memory); fractions and mm are what they say.
"""

from __future__ import annotations

import math
import re

from forgelog.trade.errors import SumError

_NUMBERS_TEN_THOU = (
    *(2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800),
    *(1770, 1730, 1695, 1660, 1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285),
    *(1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015, 995, 980, 960, 935, 890, 860, 820, 810, 785),
    *(760, 730, 700, 670, 635, 595, 550, 520, 465, 430, 420, 410, 400, 390, 380, 370, 360, 350),
    *(330, 320, 310, 292.5, 280, 260, 250, 240, 225, 210, 200, 180, 160, 145, 135),
)
_LETTERS_THOU = (
    *(234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295, 302, 316, 323, 332, 339),
    *(348, 358, 368, 377, 386, 397, 404, 413),
)

NUMBERS_MM = {number: ten * 0.00254 for number, ten in enumerate(_NUMBERS_TEN_THOU, 1)}
"""mm by number, 1 to 80."""

LETTERS_MM = {chr(65 + place): thou * 0.0254 for place, thou in enumerate(_LETTERS_THOU)}
"""mm by letter, A to Z."""

_TEXT = re.compile(
    r"(?:drill )?(?:(?:\#|no\.? ?|number )(\d{1,2})|(?:letter )?([a-z]))(?: drill)?",
    re.ASCII,
)


def read_drill(text: str) -> tuple[str, float] | None:
    """The name and size in mm of "#7", "no. 7", "F" or "letter F drill"; None for other words.

    Raises:
        SumError: a number that no drill has.
    """
    match = _TEXT.fullmatch(" ".join(text[:40].lower().split()))
    if match is None:
        return None
    if match[2]:
        letter = match[2].upper()
        return f"letter {letter}", LETTERS_MM[letter]
    number = int(match[1])
    if number not in NUMBERS_MM:
        raise SumError(f"number drills go from 1 to 80, not to {number}")
    return f"#{number}", NUMBERS_MM[number]


def near_drill(mm: float) -> tuple[str, float]:
    """The drill by number, letter or 64th of an inch that is nearest to a size, and its mm."""
    choices = [(f"#{number}", size) for number, size in NUMBERS_MM.items()]
    choices += [(f"letter {letter}", size) for letter, size in LETTERS_MM.items()]
    parts = max(1, round(mm / 25.4 * 64))
    choices.append((f"{fraction(parts, 64)} in", parts / 64 * 25.4))
    return min(choices, key=lambda one: (round(abs(one[1] - mm), 9), not one[0].endswith("in")))


def fraction(count: int, parts: int) -> str:
    """So many parts as a mixed number: 9 of 8 is "1 1/8"."""
    whole, over = divmod(count, parts)
    shared = math.gcd(over, parts)
    if not over:
        return str(whole)
    part = f"{over // shared}/{parts // shared}"
    return f"{whole} {part}" if whole else part
