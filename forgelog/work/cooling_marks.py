"""How hot something on the HOT list is by now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forgelog.trade.sections import Section
from forgelog.work.state import HotMark

if TYPE_CHECKING:
    from forgelog.trade.cooling import CoolingCurve

UNKNOWN_SECTION = Section(kind="square", a_mm=12.0)
"""Of a piece whose recipe names no section anywhere."""


def cooling_of(mark: HotMark, air_degc: float) -> CoolingCurve:
    """How the piece of this mark cools. The banked fire, which has no sum, counts as a bed."""
    from forgelog.trade.cooling import MEDIA, cooling_curve

    medium = mark.medium if mark.medium in MEDIA else "bed"
    return cooling_curve(mark.section or UNKNOWN_SECTION, medium, air_degc)


def degc_of(mark: HotMark, at_s: float, air_degc: float) -> float:
    """How hot the piece of this mark is by the sum, degC.

    Args:
        mark: Where it cools from.
        at_s: When, on the rest clock. s.
        air_degc: Of the shop.
    """
    return cooling_of(mark, air_degc).degc_after(mark.degc, max(0.0, at_s - mark.at_s))
