"""Heat in steel: specific heat, enthalpy and conductivity, in degC and per kg.

Source: EN 1993-1-2:2005, 3.4.1.2 and 3.4.1.3. The standard describes heating, with its peak at
735; on cooling in air the heat of the change comes out lower, near 640 to 700 (from memory).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from functools import lru_cache

DENSITY_KG_M3 = 7850.0
SLOPE = 3.33e-2
"""W/(m K2), by which conductivity falls below 800 degC."""
COLD_CONDUCTIVITY = 54.0
HOT_CONDUCTIVITY = 27.3
"""W/(m K), at 0 degC by the rising line, and from 800 degC up."""


def specific_heat(degc: float) -> float:
    """Specific heat, J/(kg K); 650 is carried on above 1200 degC."""
    if degc < 600:
        return 425 + degc * (0.773 + degc * (-1.69e-3 + degc * 2.22e-6))
    if degc < 735:
        return 666 + 13002 / (738 - degc)
    if degc < 900:
        return 545 + 17820 / (degc - 731)
    return 650.0


def _cold(degc: float) -> float:
    return degc * (425 + degc * (0.773 / 2 + degc * (-1.69e-3 / 3 + degc * 2.22e-6 / 4)))


_AT_600 = _cold(600)
_AT_735 = _AT_600 + 666 * 135 + 13002 * math.log(138 / 3)
_AT_900 = _AT_735 + 545 * 165 + 17820 * math.log(169 / 4)


def enthalpy(degc: float) -> float:
    """Heat of a kg above 0 degC, J/kg: the closed integral of `specific_heat`."""
    if degc < 600:
        return _cold(degc)
    if degc < 735:
        return _AT_600 + 666 * (degc - 600) + 13002 * math.log(138 / (738 - degc))
    if degc < 900:
        return _AT_735 + 545 * (degc - 735) + 17820 * math.log((degc - 731) / 4)
    return _AT_900 + 650 * (degc - 900)


def degc_at(joules: float) -> float:
    """The temperature at which a kg has so much heat, degC: `enthalpy` turned round."""
    if joules >= _AT_900:
        return 900 + (joules - _AT_900) / 650
    grid = _grid()
    place = min(max(bisect_left(grid, joules), 1), len(grid) - 1)
    below, above = grid[place - 1], grid[place]
    degc = place - 1 + (joules - below) / (above - below) + _GRID_FROM
    # one Newton step: the line between two whole degrees bends most at the peak
    return degc - (enthalpy(degc) - joules) / specific_heat(degc)


_GRID_FROM = -100


@lru_cache(maxsize=1)
def _grid() -> list[float]:
    return [enthalpy(degc) for degc in range(_GRID_FROM, 901)]


def conductivity(degc: float) -> float:
    """Conductivity, W/(m K)."""
    return COLD_CONDUCTIVITY - SLOPE * degc if degc < 800 else HOT_CONDUCTIVITY


def mean_from_surface(surface_degc: float, loss_w_m: float) -> float:
    """Mean temperature of a section whose surface is known, degC.

    Solves Tm = Ts + q l / k(Tm) in closed form, since k is two straight lines.

    Args:
        surface_degc: Ts.
        loss_w_m: q l, the heat leaving the surface times the depth, W/m; below 0 when heating.
    """
    hot = surface_degc + loss_w_m / HOT_CONDUCTIVITY
    if hot >= 800:
        return hot
    a, b = SLOPE, COLD_CONDUCTIVITY + SLOPE * surface_degc
    c = COLD_CONDUCTIVITY * surface_degc + loss_w_m
    return 2 * c / (b + math.sqrt(b * b - 4 * a * c))
