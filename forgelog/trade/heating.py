"""How long a bar takes to come to heat, and how soon a thin end burns.

    q = eps sigma (Tg^4 - Ts^4) + h (Tg - Ts),  Tm = Ts - q c (A/P) / k(Tm)

The figures for the fires are plausible, not measured, so a time is a time to look, never a time
at which the piece is ready: only the eye judges a heat.

Source: EN 1993-1-2:2005 for the steel; the balance is that of `forgelog.trade.cooling`.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import lru_cache

import msgspec

from forgelog.trade.air import ZERO_K
from forgelog.trade.errors import SumError
from forgelog.trade.sections import Section, lumped
from forgelog.trade.steel_heat import DENSITY_KG_M3, enthalpy, mean_from_surface

BURNS_DEGC = 1350.0
"""Steel burns from about 1300 to 1350 up. Source: smithing handbooks (from memory)."""

LOOK_SHARE = 0.75
"""Share of the predicted time after which to look. Our own choice: early, because fires differ."""

FIRES_DIFFER = 1.5
"""By how much a time in the fire may be out, as a factor either way. Our own, not measured."""

_SIGMA = 5.670374419e-8


class Fire(msgspec.Struct, frozen=True, kw_only=True):
    """A fire, as the sum knows it. Plausible figures, not measured."""

    hot_degc: float
    emissivity: float
    h_w_m2k: float


FIRES = {
    "gas": Fire(hot_degc=1280.0, emissivity=0.55, h_w_m2k=30.0),
    "coke": Fire(hot_degc=1350.0, emissivity=0.65, h_w_m2k=60.0),
    "charcoal": Fire(hot_degc=1350.0, emissivity=0.65, h_w_m2k=60.0),
    "heart": Fire(hot_degc=1550.0, emissivity=0.65, h_w_m2k=60.0),
}
"""Kinds of fire; "heart" is the hot spot of a blown fire, for the warning (assumed)."""


class HeatingCurve:
    """One bar heating in one fire."""

    def __init__(self, fire_degc: float, heats: list[float], times_s: list[float]) -> None:
        self.fire_degc = fire_degc
        """A bar never passes this."""
        self._heats = heats
        self._times_s = times_s

    def seconds(self, from_degc: float, to_degc: float) -> float:
        """Seconds from one mean temperature to a higher one, alone in the fire.

        Raises:
            SumError: the fire is not hot enough.
        """
        if to_degc <= from_degc:
            return 0.0
        if enthalpy(to_degc) >= self._heats[-1]:
            raise SumError(
                f"a fire of {self.fire_degc:g} degC does not bring a bar to {to_degc:g} degC"
            )
        return self._time(to_degc) - self._time(from_degc)

    def _time(self, degc: float) -> float:
        heats, times = self._heats, self._times_s
        joules = enthalpy(degc)
        place = min(max(bisect_left(heats, joules), 1), len(heats) - 1)
        before = heats[place - 1]
        share = max((joules - before) / (heats[place] - before), 0.0)
        return times[place - 1] + share * (times[place] - times[place - 1])


@lru_cache(maxsize=256)
def heating_curve(
    section: Section, fire: str = "gas", fire_degc: float | None = None
) -> HeatingCurve:
    """The curve of a bar in a fire, kept once it is made.

    Args:
        section: The bar; all of it that is worked lies in the fire.
        fire: A name out of `FIRES`.
        fire_degc: The shop's own figure for this fire, instead of the table's.

    Raises:
        SumError: no such fire, or one too cold to forge at.
        SectionError: the section has no area.
    """
    kind = FIRES.get(fire)
    if kind is None:
        raise SumError(f'there is no sum for a fire of "{fire}"; there is {", ".join(FIRES)}')
    top = kind.hot_degc if fire_degc is None else fire_degc
    if not 400 <= top <= 2000:
        raise SumError(f"the fire is {top:g} degC; it must be from 400 to 2000")
    heat = lumped(section)
    depth_m = heat.depth_mm / 1000
    weight = DENSITY_KG_M3 * heat.area_per_perimeter_mm / 1000
    glow = (top + ZERO_K) ** 4
    heats: list[float] = []
    times: list[float] = []
    now, last_heat, last_slow = 0.0, 0.0, 0.0
    below = top + 40.0
    while below > 0.5:
        surface = top - below
        flux = kind.emissivity * _SIGMA * (glow - (surface + ZERO_K) ** 4) + kind.h_w_m2k * below
        joules, slow = enthalpy(mean_from_surface(surface, -flux * depth_m)), weight / flux
        if times:
            now += (joules - last_heat) * (slow + last_slow) / 2
        heats.append(joules)
        times.append(now)
        last_heat, last_slow = joules, slow
        below -= min(6.0, 0.05 * below)
    return HeatingCurve(top, heats, times)


def reheat_s(section: Section, from_degc: float, to_degc: float, fire: str = "gas") -> float:
    """Seconds in the fire from one mean temperature to another, by the model.

    Raises:
        SumError: no such fire, or it is not hot enough.
    """
    return heating_curve(section, fire).seconds(from_degc, to_degc)


def look_s(section: Section, from_degc: float, to_degc: float, fire: str = "gas") -> float:
    """Seconds after which to look whether the piece has come to heat.

    Raises:
        SumError: no such fire, or it is not hot enough.
    """
    return LOOK_SHARE * reheat_s(section, from_degc, to_degc, fire)


def heating_band(seconds: float) -> tuple[float, float]:
    """The shortest and the longest that a predicted time in the fire may be, s."""
    return seconds / FIRES_DIFFER, seconds * FIRES_DIFFER


def burning_s(section: Section, from_degc: float = 1150.0) -> float:
    """Seconds from a heat to burning in the heart of a blown fire: how long one may look away.

    Args:
        section: The thinnest part, for thin ends run ahead.
        from_degc: Its mean temperature now.
    """
    return heating_curve(section, "heart").seconds(from_degc, BURNS_DEGC)


def pieces_in_fire(reheat_s: float, work_s: float) -> float:
    """How many pieces keep one pair of hands busy: about 1 + reheat / work. Common practice.

    Raises:
        SumError: the work takes no time.
    """
    if not work_s > 0:
        raise SumError("the work of a heat takes some time")
    return 1 + reheat_s / work_s
