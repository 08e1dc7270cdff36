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


def bend_length_mm(inside_radius_mm: float, degrees: float, thick: float) -> float:
    """Length of bar in a bend, mm; 180 degrees is a U.

    Args:
        inside_radius_mm: 0 or more.
        degrees: Through how much it is bent, > 0.
        thick: Thickness across the bend, mm.

    Raises:
        SumError: a size cannot be.

    Source:
        The arc at mid-thickness; of a sharp bend it is short, see `sharp_corner_extra_mm`.
    """
    if not 0 <= inside_radius_mm < math.inf:
        raise SumError(f"the inside radius is {inside_radius_mm:g} mm; it must be 0 or more")
    middle = inside_radius_mm + positive("thickness", thick, "mm") / 2
    return math.radians(positive("bend", degrees, "degrees")) * middle


def bent_bar_mm(
    outside_mm: tuple[float, ...], inside_radius_mm: float, thick: float, degrees: float = 90.0
) -> float:
    """Length of a bar with legs of given outside sizes and equal bends between them, mm.

    Args:
        outside_mm: Each leg from end or corner to corner or end, measured outside; 2 or more.
        inside_radius_mm: Of every bend.
        thick: Thickness across the bend, mm.
        degrees: Of every bend, below 180.

    Raises:
        SumError: fewer than two legs, or one too short for its bends.
    """
    if len(outside_mm) < 2 or not 0 < degrees < 180:
        raise SumError("a bent bar has two legs at least, and bends below 180 degrees")
    arc = bend_length_mm(inside_radius_mm, degrees, thick)
    back = (inside_radius_mm + thick) * math.tan(math.radians(degrees) / 2)
    bends = len(outside_mm) - 1
    for place, leg in enumerate(outside_mm):
        ends = back if place in (0, bends) else 2 * back
        if leg < ends:
            raise SumError(f"a leg of {leg:g} mm is too short for its bend; it needs {ends:.1f}")
    return sum(outside_mm) - 2 * bends * back + bends * arc


def sharp_corner_extra_mm(thick: float) -> float:
    """What each sharp, upset corner takes on top of the centre line, mm: a quarter thickness.

    Source: FAO, Basic blacksmithing: a training manual (Bulletin 88/1).
    """
    return positive("thickness", thick, "mm") / 4


def collar_length_mm(wide_mm: float, high_mm: float, thick: float) -> float:
    """Length of flat for a collar around a bundle, butted, mm; a lapped one takes more.

    Args:
        wide_mm: Width of the bundle.
        high_mm: Height of the bundle.
        thick: Thickness of the collar.

    Source:
        2 (w + h) + pi t: sharp corners, neutral line at mid-thickness.
    """
    around = positive("width", wide_mm, "mm") + positive("height", high_mm, "mm")
    return 2 * around + math.pi * positive("thickness", thick, "mm")


def even_scroll_mm(inner_radius_mm: float, outer_radius_mm: float, turns: float) -> float:
    """Length of bar in a scroll whose turns lie evenly apart, mm, on its centre line.

    Source: arc length of the Archimedean spiral.
    """
    inner, outer = _radii(inner_radius_mm, outer_radius_mm)
    growth = (outer - inner) / (2 * math.pi * positive("turns", turns, ""))

    def part(radius: float) -> float:
        away = radius / growth
        return growth / 2 * (away * math.hypot(away, 1) + math.asinh(away))

    return part(outer) - part(inner)


def opening_scroll_mm(inner_radius_mm: float, outer_radius_mm: float, turns: float) -> float:
    """Length of bar in a scroll that opens by the same share every turn, mm.

    Source: arc length of the logarithmic spiral, (r1 - r0) sqrt(1 + 1/k^2).
    """
    inner, outer = _radii(inner_radius_mm, outer_radius_mm)
    k = math.log(outer / inner) / (2 * math.pi * positive("turns", turns, ""))
    return (outer - inner) * math.hypot(1, 1 / k)


def helix_mm(across_mm: float, pitch_mm: float, turns: float) -> float:
    """Length of bar in a helix, as in a basket or a spring, mm.

    Args:
        across_mm: Diameter of its centre line.
        pitch_mm: Rise of a turn.
        turns: How many.

    Source:
        n sqrt((pi D)^2 + p^2).
    """
    around = math.pi * positive("diameter", across_mm, "mm")
    rise = positive("rise", pitch_mm, "mm")
    return positive("turns", turns, "") * math.hypot(around, rise)


def twist_edge_mm(section: Section, long_mm: float, turns: float) -> float:
    """Length of the outermost edge of a twisted square or flat, mm.

    How far it is over the length says how hard the twist pulls the corners.
    """
    long = positive("length", long_mm, "mm")
    second = section.b_mm if section.kind == "flat" else section.a_mm
    corner = section.a_mm if section.kind == "round" else math.hypot(section.a_mm, second)
    return math.hypot(long, math.pi * corner * turns)


def _radii(inner_mm: float, outer_mm: float) -> tuple[float, float]:
    inner = positive("inner radius", inner_mm, "mm")
    if not inner < outer_mm < math.inf:
        raise SumError("a scroll's outer radius is larger than its inner one")
    return inner, outer_mm
