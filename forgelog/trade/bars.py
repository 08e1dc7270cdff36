"""Bars as they are bought: mass, length, tolerance and what is usually on the rack."""

from __future__ import annotations

from forgelog.trade.errors import positive
from forgelog.trade.sections import Section, mass_kg_per_m

BAR_M = {"uk": 6.0, "us": 6.096}
"""Usual length of a new bar: 6 m, or 20 ft. Stockholders' texts say 6.0, 6.1 and 6.4 m."""

USUAL_MM = {
    "round": (
        *(8, 10, 12, 13, 14, 15, 16, 18, 19, 20, 22, 24, 25, 26, 27, 28, 30, 32, 35, 36, 38, 40),
        *(42, 45, 48, 50),
    ),
    "square": (
        *(8, 10, 12, 13, 14, 15, 16, 18, 20, 22, 24, 25, 26, 28, 30, 32, 35, 40, 45, 50, 55, 60),
        *(65, 70, 75, 80),
    ),
}
"""Preferred sizes. Source: EN 10060 and EN 10059 table 1 (from memory)."""

_SQUARE = ((14, 0.4), (25, 0.5), (35, 0.6), (50, 0.8), (90, 1.0), (100, 1.3), (120, 1.5))
_ROUND = (
    *((15, 0.4), (25, 0.5), (35, 0.6), (50, 0.8), (80, 1.0), (100, 1.3), (120, 1.5)),
    *((160, 2.0), (200, 2.5)),
)
_WIDE = ((40, 0.75), (80, 1.0), (100, 1.5), (120, 2.0), (150, 2.5))
_THICK = ((40, 1.0), (80, 1.5))


def bar_mass_kg(section: Section, long_mm: float) -> float:
    """Mass of a length of bar, kg.

    Raises:
        SumError: the length is not above 0.
        SectionError: the section has no area.
    """
    return mass_kg_per_m(section) * positive("length", long_mm, "mm") / 1000


def bar_length_mm(section: Section, kg: float) -> float:
    """Length of a bar that weighs so much, mm.

    Raises:
        SumError: the mass is not above 0.
        SectionError: the section has no area.
    """
    return positive("mass", kg, "kg") / mass_kg_per_m(section) * 1000


def tolerance_mm(section: Section) -> tuple[float, ...] | None:
    """How far each size of a hot rolled bar may be off, mm, or None where no table reaches.

    Source: EN 10059 (square; 36 to 50 mm from memory), EN 10058 (flat) tables 2, EN 10060
    table 1 (round, from memory).
    """
    found: tuple[float | None, ...]
    match section.kind:
        case "square":
            found = (_off(_SQUARE, section.a_mm),)
        case "round":
            found = (_off(_ROUND, section.a_mm),)
        case "flat":
            wide, thick = max(section.a_mm, section.b_mm), min(section.a_mm, section.b_mm)
            found = (_off(_WIDE, wide), _off(_THICK, thick))
        case _:
            return None
    known = tuple(one for one in found if one is not None)
    return known if len(known) == len(found) else None


def _off(table: tuple[tuple[float, float], ...], size: float) -> float | None:
    for largest, off in table:
        if size <= largest:
            return off
    return None
