"""How much bar may be upset at once before it buckles."""

from __future__ import annotations

import msgspec

from forgelog.trade.errors import positive
from forgelog.trade.sections import Section, area_mm2

MACHINE_LIMIT = 3.0
"""Diameters of unsupported length in one blow. Source: forging design rules, upset rule 1."""

HAND_LIMIT = 2.5
"""The same at the anvil. Common practice: keep below the rule of machine dies."""


class Upset(msgspec.Struct, frozen=True, kw_only=True):
    """Bar that a head or a bulge takes, and whether it can be gathered at once."""

    bar_mm: float
    """Length of bar before."""
    slenderness: float
    """That length in thicknesses of the bar."""
    at_once: bool
    """False where it buckles by hand, and is gathered in several heats and lengths."""


def upset_of(volume_mm3: float, bar: Section) -> Upset:
    """What a volume takes of a bar.

    Args:
        volume_mm3: Of the head or bulge, mm3, > 0.
        bar: The bar; of a flat its smaller size buckles.

    Raises:
        SumError: the volume is not above 0.
        SectionError: the bar has no area.
    """
    long = positive("volume", volume_mm3, "mm3") / area_mm2(bar)
    thin = min(bar.a_mm, bar.b_mm) if bar.kind == "flat" else bar.a_mm
    slender = long / thin
    return Upset(bar_mm=long, slenderness=slender, at_once=slender <= HAND_LIMIT)


def upset_limit_mm(bar: Section, limit: float = HAND_LIMIT) -> float:
    """The longest length that may be upset at once, mm; `limit` in thicknesses of the bar."""
    thin = min(bar.a_mm, bar.b_mm) if bar.kind == "flat" else bar.a_mm
    return limit * thin
