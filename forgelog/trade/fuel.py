"""Fuel and energy of a session. The shop's own figure, from weighing the bottle, comes first."""

from __future__ import annotations

from forgelog.trade.errors import SumError, positive
from forgelog.trade.steel_heat import enthalpy
from forgelog.trade.steels import Span

USE_KG_H = {
    "gas": Span(low=0.4, high=1.5, source="a burner, common practice (from memory)"),
    "coke": Span(low=3.0, high=5.0, source="common practice (from memory)"),
}
"""Fuel an hour of fire."""


def fuel_kg(fire: str, seconds: float, burners: int = 1) -> Span:
    """Fuel that a time of fire takes, kg, as a span.

    Args:
        fire: gas or coke.
        seconds: Time that the fire is lit.
        burners: Of a gas forge.

    Raises:
        SumError: no figure for such a fire, or a time below nothing.
    """
    use = USE_KG_H.get(fire)
    if use is None:
        raise SumError(f'no figure is known for a fire of "{fire}"; weigh what it takes')
    if seconds < 0 or burners < 1:
        raise SumError("a fire burns for some time, with one burner at least")
    hours = seconds / 3600 * (burners if fire == "gas" else 1)
    return Span(low=use.low * hours, high=use.high * hours, source=use.source)


def heat_kj(kg: float, from_degc: float, to_degc: float) -> float:
    """Heat that goes into steel, kJ. Source: the enthalpy of EN 1993-1-2."""
    return positive("mass", kg, "kg") * (enthalpy(to_degc) - enthalpy(from_degc)) / 1000


def blow_joules(kg: float, speed_m_s: float) -> float:
    """Energy of a blow, J: half the mass times the speed squared."""
    return positive("mass", kg, "kg") * positive("speed", speed_m_s, "m/s") ** 2 / 2


def drop_joules(kg: float, fall_mm: float) -> float:
    """Energy of a ram that falls freely, J. Source: m g h, g 9.80665."""
    return positive("mass", kg, "kg") * 9.80665 * positive("fall", fall_mm, "mm") / 1000
