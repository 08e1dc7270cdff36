"""Lengths of bar that go into rings, eyes, bends, collars, scrolls and twists.

All are measured on the neutral line at mid-thickness, which holds for hot bends of stout bar.
"""

from __future__ import annotations

import math

from forgelog.trade.errors import SumError, positive
from forgelog.trade.sections import Section


def thick_mm(section: Section) -> float:
    """Thickness across the bend, mm: of a flat its second size, so 40 x 8 bends easily.

    A flat bent on edge is written the other way round: "8 x 40 mm flat".

    Raises:
        SumError: of an angle, which does not bend by this sum.
    """
    if section.kind == "angle":
        raise SumError("a bend of angle iron has no simple length; bend a test piece")
    return section.b_mm if section.kind == "flat" else section.a_mm


def centre_line_mm(
    section: Section,
    *,
    inside_mm: float | None = None,
    outside_mm: float | None = None,
    centre_line_mm: float | None = None,
) -> float:
    """Diameter of the centre line of a ring or eye, mm, from the one size that is given.

    Raises:
        SumError: not exactly one size is given, or the bar is too thick for it.
    """
    given = {
        "inside": inside_mm,
        "outside": outside_mm,
        "centre_line": centre_line_mm,
    }
    named = [name for name, size in given.items() if size is not None]
    if len(named) != 1:
        found = " and ".join(named) if named else "none of them"
        raise SumError(f"a ring takes one of inside, outside and centre_line; it has {found}")
    thick = thick_mm(section)
    diameter = centre_line_mm
    if inside_mm is not None:
        diameter = positive("inside", inside_mm, "mm") + thick
    elif outside_mm is not None:
        diameter = positive("outside", outside_mm, "mm") - thick
    if diameter is None or not thick < diameter < math.inf:
        raise SumError(f"a bar {thick:g} mm thick is too thick for a ring of that size")
    return diameter


def ring_length_mm(
    section: Section,
    *,
    inside_mm: float | None = None,
    outside_mm: float | None = None,
    centre_line_mm: float | None = None,
) -> float:
    """Length of bar in a ring, or in an eye that closes, mm; a weld or scarf comes on top.

    Raises:
        SumError: not exactly one size is given, or the bar is too thick for it.

    Source:
        pi (inside + thickness) = pi (outside - thickness), any mensuration table.
    """
    return math.pi * _centre(section, inside_mm, outside_mm, centre_line_mm)


def _centre(
    section: Section, inside: float | None, outside: float | None, centre: float | None
) -> float:
    return centre_line_mm(section, inside_mm=inside, outside_mm=outside, centre_line_mm=centre)
