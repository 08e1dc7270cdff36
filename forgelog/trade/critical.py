"""Where steel changes on heating, and what a temper does, by named formulas.

An analysis is per cent by mass by the sign of the element: {"C": 0.45, "Mn": 0.65, "Si": 0.25}.
Formulas differ by 10 to 40 degC for one steel, so a single figure is never that exact.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from forgelog.trade.errors import SumError, positive

Analysis = Mapping[str, float]

A1_DEGC = 727.0
"""The change of pure iron and carbon. Iron-carbon diagram; older prints say 723."""


def _get(analysis: Analysis, *factors: tuple[str, float]) -> float:
    return sum(factor * analysis.get(element, 0.0) for element, factor in factors)


def andrews_ac1(analysis: Analysis) -> float:
    """Ac1, degC. Source: K. W. Andrews, J. Iron Steel Inst. 203 (1965) 721."""
    return 723 + _get(
        analysis, ("Mn", -10.7), ("Ni", -16.9), ("Si", 29.1), ("Cr", 16.9), ("As", 290), ("W", 6.38)
    )


def andrews_ac3(analysis: Analysis) -> float:
    """Ac3, degC, short form, for less than 0.6 % carbon. Source: Andrews, 1965."""
    root = math.sqrt(analysis.get("C", 0.0))
    return (
        910
        - 203 * root
        + _get(analysis, ("Ni", -15.2), ("Si", 44.7), ("V", 104), ("Mo", 31.5), ("W", 13.1))
    )


def andrews_ac3_long(analysis: Analysis) -> float:
    """Ac3, degC, long form with its bracket restored, as some prints have lost it.

    Source: Andrews, 1965: Mn, Cr and Cu lower it; P, Al, As and Ti raise it.
    """
    return andrews_ac3(analysis) + _get(
        analysis,
        *(("Mn", -30), ("Cr", -11), ("Cu", -20)),
        *(("P", 700), ("Al", 400), ("As", 120), ("Ti", 400)),
    )


def grange_ac1(analysis: Analysis) -> float:
    """Ae1, degC. Source: R. A. Grange, Metal Progress, April 1961, 73 (printed in degF)."""
    degf = 1333 + _get(analysis, ("Mn", -25), ("Si", 40), ("Cr", 42), ("Ni", -26))
    return (degf - 32) / 1.8


def grange_ac3(analysis: Analysis) -> float:
    """Ae3, degC. Source: Grange, 1961 (printed in degF)."""
    degf = 1570 + _get(analysis, ("C", -323), ("Mn", -25), ("Si", 80), ("Cr", -3), ("Ni", -32))
    return (degf - 32) / 1.8


def eldis_ac1(analysis: Analysis) -> float:
    """Ae1, degC. Source: Eldis, in Barralis and Maeder, Metallurgie I (1982)."""
    return 712 + _get(
        analysis, ("Mn", -17.8), ("Ni", -19.1), ("Si", 20.1), ("Cr", 11.9), ("Mo", 9.8)
    )


def eldis_ac3(analysis: Analysis) -> float:
    """Ae3, degC. Source: Eldis, in Barralis and Maeder, Metallurgie I (1982)."""
    return 871 + _get(analysis, ("C", -254.4), ("Ni", -14.2), ("Si", 51.7))


def accm(analysis: Analysis) -> float:
    """Where the last carbide goes above 0.77 % carbon, degC.

    Source: straight line from 727 at 0.77 % to 1148 at 2.11 % of the iron-carbon diagram, ours.
    """
    return A1_DEGC + max(0.0, analysis.get("C", 0.0) - 0.77) * (1148 - A1_DEGC) / (2.11 - 0.77)


def martensite_start(analysis: Analysis) -> float:
    """Ms, degC. Source: Andrews, 1965, linear form (from memory)."""
    return 539 + _get(
        analysis, ("C", -423), ("Mn", -30.4), ("Ni", -17.7), ("Cr", -12.1), ("Mo", -7.5)
    )


def martensite_start_product(analysis: Analysis) -> float:
    """Ms, degC. Source: Andrews, 1965, product form (from memory)."""
    carbon = analysis.get("C", 0.0)
    mixed = 217 * carbon - 71.5 * analysis.get("Mn", 0.0) - 67.6 * analysis.get("Cr", 0.0)
    plain = _get(analysis, ("C", -453), ("Ni", -16.9), ("Cr", 15), ("Mo", -9.5))
    return 512 + plain + carbon * mixed


def carbon_equivalent(analysis: Analysis) -> float:
    """Carbon equivalent for welding, per cent. Source: IIW; EN 10025-1 7.2.3; EN 1011-2."""
    fifth = _get(analysis, ("Cr", 1), ("Mo", 1), ("V", 1)) / 5
    return (
        analysis.get("C", 0.0)
        + analysis.get("Mn", 0.0) / 6
        + fifth
        + _get(analysis, ("Ni", 1), ("Cu", 1)) / 15
    )


def temper_parameter(degc: float, seconds: float, constant: float = 20.0) -> float:
    """How far a temper goes: K (constant + log10 hours), in thousands.

    Args:
        degc: Temper.
        seconds: Time at heat, > 0.
        constant: 20 for low-alloy steels; down to 15 for high carbon (from memory).

    Source: J. H. Hollomon, L. D. Jaffe, Trans. AIME 162 (1945) 223.
    """
    hours = positive("time", seconds, "s") / 3600
    return (degc + 273.15) * (constant + math.log10(hours)) / 1000


def same_temper_degc(degc: float, seconds: float, other_s: float, constant: float = 20.0) -> float:
    """The temper that goes as far in another time, degC.

    Raises:
        SumError: a time is not above 0, or so short that the rule has no answer.

    Source: Hollomon and Jaffe, 1945.
    """
    parameter = temper_parameter(degc, seconds, constant) * 1000
    below = constant + math.log10(positive("time", other_s, "s") / 3600)
    if below <= 0:
        raise SumError("the time is too short for the rule of tempering")
    return parameter / below - 273.15
