"""Forged bolts and tenons through a customer's post, gate or wall."""

from __future__ import annotations

import math

import msgspec

from forgelog.trade.errors import SumError, positive
from forgelog.trade.threads import Thread

STARTS_INSIDE_MM = 3.0
"""How far inside the face a thread begins, so that the nut always draws up. Common practice."""

GREEN_OAK_SHRINKS = (0.034, 0.063)
"""Share of its thickness that green oak loses on its way to 12 %, along and across the rings.
Source: Wood Handbook, table of shrinkage, white oak, scaled from oven-dry (from memory)."""


class ThroughBolt(msgspec.Struct, frozen=True, kw_only=True):
    """Lengths of a forged bolt or tenon, mm from its shoulder."""

    long_mm: float
    """Cut it so long: thickest + washers + nut + two threads + trim."""
    thread_from_mm: float
    """Where the thread begins, from the shoulder."""
    thread_mm: float
    """Length of thread, without the trim."""
    rod_mm: float
    """Diameter before the die."""
    hole_mm: float
    """Hole through the post; the medium clearance."""


def through_bolt(
    thread: Thread,
    *,
    thickest_mm: float,
    thinnest_mm: float | None = None,
    washers_mm: float = 0.0,
    nut_high_mm: float | None = None,
    shrink_mm: float = 0.0,
    trim_mm: float = 3.0,
) -> ThroughBolt:
    """Lengths of a bolt or tenon through a post, a gate or a wall.

    Args:
        thread: Size and pitch.
        thickest_mm: Of what it goes through, mm, > 0.
        thinnest_mm: Of the same, where it varies. mm.
        washers_mm: All washers together, mm.
        nut_high_mm: Height of the nut; of a bought one where it is not given. mm.
        shrink_mm: What timber will still lose of its thickness, mm.
        trim_mm: Cut off the end when it is fitted, mm.

    Raises:
        SumError: a size cannot be, or no height is known for the nut.
    """
    thickest = positive("thickness at its thickest", thickest_mm, "mm")
    thinnest = thickest if thinnest_mm is None else positive("thinnest", thinnest_mm, "mm")
    if thinnest > thickest:
        raise SumError("the thinnest place is thicker than the thickest")
    for name, size in (("washers", washers_mm), ("shrinkage", shrink_mm), ("trim", trim_mm)):
        if not 0 <= size < math.inf:
            raise SumError(f"the {name} is {size:g} mm; it must be 0 or more")
    nut = nut_high_mm if nut_high_mm is not None else thread.nut_height_mm
    if nut is None:
        raise SumError(f"no nut is in the tables for {thread.name}; give its height")
    end = thickest + washers_mm + positive("height of the nut", nut, "mm") + 2 * thread.pitch_mm
    begin = max(0.0, thinnest - shrink_mm - STARTS_INSIDE_MM)
    holes = thread.clearance_mm
    return ThroughBolt(
        long_mm=end + trim_mm,
        thread_from_mm=begin,
        thread_mm=end - begin,
        rod_mm=thread.rod_before_die_mm,
        hole_mm=holes[1] if holes else thread.major_mm + 1.0,
    )


def timber_shrink_mm(thick_mm: float) -> tuple[float, float]:
    """What a green oak post still loses of its thickness, mm: along and across the rings.

    Raises:
        SumError: the thickness is not above 0.
    """
    thick = positive("thickness", thick_mm, "mm")
    return thick * GREEN_OAK_SHRINKS[0], thick * GREEN_OAK_SHRINKS[1]
