"""How a bar cools: seconds between two temperatures, and the temperature after a time.

    t = rho (A/P) * integral of dH / q(Ts),  q = eps sigma (Ts^4 - Ta^4) + h (Ts - Ta)
    Tm = Ts + q(Ts) c (A/P) / k(Tm)

Every temperature asked or told is the mean of the section; the surface that an eye sees is
cooler. Predictions of a model, none measured. Against the full conduction problem it is within
1 % (12 to 75 mm); judged from emissivity, draughts and the peak it is within 12 % hot and 40 %
near hand-warm. Ends, tapers and a hot zone shorter than the bar cool faster than this.

Sources: EN 1993-1-2:2005 for the steel; `forgelog.trade.air` for what the air carries off.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable
from functools import lru_cache

import msgspec

from forgelog.trade.air import ZERO_K, bed_h, draught_h, still_air_h
from forgelog.trade.errors import SumError
from forgelog.trade.marks import BLACK_DEGC as BLACK_DEGC
from forgelog.trade.marks import HAND_WARM_DEGC as HAND_WARM_DEGC
from forgelog.trade.marks import HOTTEST_DEGC as HOTTEST_DEGC
from forgelog.trade.sections import Section, lumped, perimeter_mm
from forgelog.trade.steel_heat import DENSITY_KG_M3, degc_at, enthalpy, mean_from_surface

CARRY_S = 4.0
"""From the fire to the first blow, seconds. Common practice."""

EMISSIVITY = 0.80
"""Oxidised steel; tables give 0.74 to 0.89."""

CONTACT_W_M2K = {"hand": 24.0, "striker": 24.0, "power": 75.0, "press": 75.0}
"""Heat that hammer and anvil take, by method. Chosen to give usual windows, not measured.

Striker as by hand and press as power hammer are assumed.
"""

SHEET_ACROSS_M = 0.1
"""A sheet gives no width, so the air about it is that about a bar 100 mm across (assumed)."""

MEDIA = ("still air", "draught", "bed", *CONTACT_W_M2K)

_SIGMA = 5.670374419e-8


class Band(msgspec.Struct, frozen=True, kw_only=True):
    """A time and how far the truth may lie from it, seconds."""

    low_s: float
    seconds: float
    high_s: float


class CoolingCurve:
    """One bar cooling in one place. Times and temperatures by interpolation in a table."""

    def __init__(self, heats: list[float], times_s: list[float], gaps: list[float]) -> None:
        self._heats = heats
        self._times_s = times_s
        self._gaps = gaps

    def seconds(self, from_degc: float, to_degc: float) -> float:
        """Seconds from one mean temperature to a lower one.

        Args:
            from_degc: Where it begins; a surface hotter than 1350 counts as 1350.
            to_degc: Where it ends.

        Returns:
            0 where it is there already; infinity within 0.3 K of the air, or below.
        """
        if from_degc <= to_degc:
            return 0.0
        end = self._time(enthalpy(to_degc))
        return end - self._time(enthalpy(from_degc)) if end < math.inf else end

    def degc_after(self, from_degc: float, seconds: float) -> float:
        """Mean temperature so many seconds after it was at another, degC."""
        if seconds <= 0:
            return from_degc
        begin = self._time(enthalpy(from_degc))
        if begin == math.inf:
            return from_degc
        times = self._times_s
        place = bisect_left(times, begin + seconds)
        if place >= len(times):
            return degc_at(-self._heats[-1])
        place = max(place, 1)
        share = (begin + seconds - times[place - 1]) / (times[place] - times[place - 1])
        before = self._heats[place - 1]
        return degc_at(-(before + share * (self._heats[place] - before)))

    def surface_degc(self, degc: float) -> float:
        """What the surface is at while the mean of the section is at a temperature, degC."""
        place = min(max(bisect_left(self._heats, -enthalpy(degc)), 1), len(self._heats) - 1)
        before, after = self._heats[place - 1], self._heats[place]
        share = min(max((-enthalpy(degc) - before) / (after - before), 0.0), 1.0)
        gap = self._gaps[place - 1] + share * (self._gaps[place] - self._gaps[place - 1])
        return degc - gap

    def _time(self, joules: float) -> float:
        heats = self._heats
        place = bisect_left(heats, -joules)
        if place == 0:
            return 0.0
        if place >= len(heats):
            return math.inf
        before, times = heats[place - 1], self._times_s
        share = (-joules - before) / (heats[place] - before)
        return times[place - 1] + share * (times[place] - times[place - 1])


@lru_cache(maxsize=512)
def cooling_curve(
    section: Section, medium: str = "still air", air_degc: float = 20.0
) -> CoolingCurve:
    """The curve of a bar in a place, kept once it is made.

    Args:
        section: The bar, long against its thickness.
        medium: still air, draught (3 m/s), bed (ash, vermiculite, sand), or the method that it
            is worked by: hand, striker, power or press.
        air_degc: Of the room, and of hammer and anvil; -40 to 60.

    Raises:
        SumError: no such medium, or a room that nobody works in.
        SectionError: the section has no area.
    """
    if medium not in MEDIA:
        raise SumError(f'there is no sum for "{medium}"; there is {", ".join(MEDIA)}')
    if not -40 <= air_degc <= 60:
        raise SumError(f"the air is {air_degc:g} degC; it must be from -40 to 60")
    heat = lumped(section)
    ratio_m, depth_m = heat.area_per_perimeter_mm / 1000, heat.depth_mm / 1000
    loss = _loss(medium, _across_m(section), air_degc)
    heats: list[float] = []
    times: list[float] = []
    gaps: list[float] = []
    now, last_heat, last_slow = 0.0, 0.0, 0.0
    weight = DENSITY_KG_M3 * ratio_m
    for above in _steps(HOTTEST_DEGC - air_degc):
        surface = air_degc + above
        flux = loss(surface)
        mean = mean_from_surface(surface, flux * depth_m)
        joules, slow = enthalpy(mean), weight / flux
        if times:
            now += (last_heat - joules) * (slow + last_slow) / 2
        heats.append(-joules)
        times.append(now)
        gaps.append(mean - surface)
        last_heat, last_slow = joules, slow
    return CoolingCurve(heats, times, gaps)


def window_s(
    section: Section,
    start_degc: float = 1150.0,
    stop_degc: float = 850.0,
    method: str = "hand",
    air_degc: float = 20.0,
) -> float:
    """Seconds of work in one heat: from the first blow until it is too cold, 0 or more.

    Out of the fire at `start_degc`, carried for 4 s in still air, which are not counted.

    Args:
        section: The bar that is worked.
        start_degc: Mean temperature when it leaves the fire.
        stop_degc: Where work stops.
        method: hand, striker, power, press; or "still air" to look and not touch.
        air_degc: Of the room.

    Raises:
        SumError: no such method.
    """
    begin = cooling_curve(section, "still air", air_degc).degc_after(start_degc, CARRY_S)
    return cooling_curve(section, method, air_degc).seconds(begin, stop_degc)


def cold_degc(air_degc: float = 20.0) -> float:
    """What "fully cold" means: within 5 K of the air, and 25 degC at least."""
    return max(25.0, air_degc + 5.0)


def band(seconds: float, to_degc: float, medium: str = "still air") -> Band:
    """How far a predicted time may be out: 12 % hot, 40 % near hand-warm, a bed half or double.

    Between 250 degC and hand-warm the spread grows evenly. In a draught it is 40 % throughout.
    """
    if medium == "bed":
        return Band(low_s=seconds / 2, seconds=seconds, high_s=seconds * 2)
    cool = min(max((250 - to_degc) / (250 - HAND_WARM_DEGC), 0.0), 1.0)
    spread = 0.40 if medium == "draught" else 0.12 + 0.28 * cool
    return Band(low_s=seconds * (1 - spread), seconds=seconds, high_s=seconds * (1 + spread))


def _across_m(section: Section) -> float:
    """Diameter of the round bar with the same outline, m."""
    if section.kind == "sheet":
        return SHEET_ACROSS_M
    return perimeter_mm(section) / math.pi / 1000


def _steps(top: float) -> list[float]:
    """Kelvin above the air, hottest first: even steps, then ever smaller ones."""
    steps = []
    above = top
    while above > 0.25:
        steps.append(above)
        above -= min(6.0, 0.05 * above)
    return steps


def _loss(medium: str, across_m: float, air_degc: float) -> Callable[[float], float]:
    """The heat that leaves a square metre of surface, W, as a function of its temperature."""
    if medium == "bed":
        bed = bed_h(across_m)
        return lambda surface: bed * (surface - air_degc)
    sky = (air_degc + ZERO_K) ** 4
    contact = CONTACT_W_M2K.get(medium, 0.0)
    carried = draught_h if medium == "draught" else still_air_h

    def loss(surface: float) -> float:
        radiated = EMISSIVITY * _SIGMA * (math.pow(surface + ZERO_K, 4) - sky)
        by_air = carried(surface, air_degc, across_m) + contact
        return radiated + by_air * (surface - air_degc)

    return loss
