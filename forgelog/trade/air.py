"""How much heat air, wind and a bed of ash carry off a bar, W/(m2 K).

Sources: S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1049 (still air,
horizontal cylinder); S. W. Churchill, M. Bernstein, J. Heat Transfer 99 (1977) 300 (across a
wind, from memory); U.S. Standard Atmosphere 1976 (air, from memory).
"""

from __future__ import annotations

import math

ZERO_K = 273.15

DRAUGHT_M_S = 3.0
"""A draught, where nothing else is known."""

BED_CONDUCTIVITY = 0.15
"""Hot ash or vermiculite, W/(m K) (from memory); loose and cold it is 0.063 to 0.074."""

BED_MM = 60.0
"""How thick a bed lies."""

_PRANDTL = 0.70
_FREE: float = (1 + (0.559 / _PRANDTL) ** (9 / 16)) ** (8 / 27)
_FORCED: float = 0.62 * _PRANDTL ** (1 / 3) / (1 + (0.4 / _PRANDTL) ** (2 / 3)) ** 0.25
_GRAVITY = 9.80665
_GAS = 287.053 / 101325


def still_air_h(surface_degc: float, air_degc: float, across_m: float) -> float:
    """Heat that still air carries off a bar that lies level.

    Args:
        surface_degc: Of the bar, above the air.
        air_degc: Of the room.
        across_m: Diameter; of another section that of the round with the same outline.
    """
    film = (surface_degc + air_degc) / 2 + ZERO_K
    viscosity, conducts = _air(film)
    above = surface_degc - air_degc
    rayleigh = _GRAVITY * above * math.pow(across_m, 3) * _PRANDTL / (film * viscosity * viscosity)
    nusselt = 0.60 + 0.387 * math.pow(rayleigh, 1 / 6) / _FREE
    return nusselt * nusselt * conducts / across_m


def draught_h(
    surface_degc: float, air_degc: float, across_m: float, wind_m_s: float = DRAUGHT_M_S
) -> float:
    """Heat that a draught across a bar carries off: the larger of wind and still air."""
    film = (surface_degc + air_degc) / 2 + ZERO_K
    viscosity, conducts = _air(film)
    reynolds = wind_m_s * across_m / viscosity
    fast = math.pow(1 + math.pow(reynolds / 282000, 5 / 8), 4 / 5)
    nusselt = 0.3 + _FORCED * math.sqrt(reynolds) * fast
    return max(nusselt * conducts / across_m, still_air_h(surface_degc, air_degc, across_m))


def bed_h(across_m: float) -> float:
    """Heat that a bed of ash or vermiculite carries off, steady; true to half or double."""
    radius = across_m / 2
    return BED_CONDUCTIVITY / (radius * math.log((radius + BED_MM / 1000) / radius))


def _air(film_k: float) -> tuple[float, float]:
    """Kinematic viscosity, m2/s, and conductivity, W/(m K)."""
    power = film_k * math.sqrt(film_k)
    viscosity = 1.458e-6 * power / (film_k + 110.4) * _GAS * film_k
    return viscosity, 2.64638e-3 * power / (film_k + 245.4 * math.pow(10, -12 / film_k))
