"""Hot and cold size: a bar gauged hot is smaller when it is cold."""

from __future__ import annotations

from forgelog.trade.errors import SumError

HOTTEST_DEGC = 1350.0


def elongation(degc: float) -> float:
    """How much longer steel is than at 20 degC, as a share.

    Args:
        degc: -50 to 1350; the standard ends at 1200 and is carried on.

    Raises:
        SumError: outside that range.

    Source:
        EN 1993-1-2:2005 3.4.1.1.
    """
    if not -50 <= degc <= HOTTEST_DEGC:
        raise SumError(f"hot size is known from -50 to 1350 degC, not at {degc:g}")
    if degc < 750:
        return 1.2e-5 * degc + 0.4e-8 * degc * degc - 2.416e-4
    if degc <= 860:
        return 1.1e-2
    return 2e-5 * degc - 6.2e-3


def cold_mm(hot_mm: float, degc: float, room_degc: float = 20.0) -> float:
    """What a size gauged hot measures when it is cold, mm.

    Args:
        hot_mm: Size between hot marks, mm.
        degc: Mean temperature when it was gauged.
        room_degc: Of the cold piece.
    """
    return hot_mm * (1 + elongation(room_degc)) / (1 + elongation(degc))


def hot_mm(cold_mm: float, degc: float, room_degc: float = 20.0) -> float:
    """What a piece must measure hot to have a size when it is cold, mm."""
    return cold_mm * (1 + elongation(degc)) / (1 + elongation(room_degc))
