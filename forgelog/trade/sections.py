"""Sections of bar as smiths write them: "25 x 12 mm flat", "12 mm square", "16 mm round"."""

from __future__ import annotations

import msgspec


class Section(msgspec.Struct, frozen=True, kw_only=True):
    """The cross-section of a bar, sheet or tube. Lengths in mm."""

    kind: str
    """square, round, flat, hexagon, octagon, sheet, angle or tube."""
    a_mm: float
    """Side of a square, diameter of a round, across flats, width of a flat, thickness of a sheet."""
    b_mm: float = 0.0
    """Thickness of a flat, second leg of an angle, wall of a tube; else 0."""
    c_mm: float = 0.0
    """Thickness of an angle; else 0."""
