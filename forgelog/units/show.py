"""Writing quantities: exactly for a file, in round figures for an eye."""

from __future__ import annotations

import math
from enum import StrEnum

from forgelog.units.errors import UnitError
from forgelog.units.scan import LIKE, MOST


class UnitSystem(StrEnum):
    """How a shop likes its numbers: mm, degC and kg, or inch, degF and lb."""

    MM = "mm"
    INCH = "inch"


def write_length(mm: float) -> str:
    """Write a length so that `parse_length` reads the very same number back.

    Args:
        mm: 0 or more. Below a millionth of a millionth it is nothing.

    Raises:
        UnitError: the length is below nothing or not a number.
    """
    if not 0 <= mm <= MOST["length"]:
        raise UnitError(f"{mm} mm", "is no length", LIKE["length"])
    return f"{write_number(mm)} mm"


def write_number(value: float) -> str:
    """The shortest decimals that give the same float (0 or more), without an exponent."""
    if value < 1e-12:
        return "0"
    if value == int(value) and value < 1e15:
        return str(int(value))
    digits, _, power = repr(value).partition("e")
    if not power:
        return digits
    head = digits.replace(".", "")
    return "0." + "0" * (-int(power) - 1) + head


def show_length(mm: float, system: UnitSystem | str = UnitSystem.MM, *, fine: bool = False) -> str:
    """Show a length as a smith measures it: "12.5 mm", "1 1/8 in".

    Args:
        mm: The length; may be below nothing, as a difference is.
        system: mm to the half (to the tenth below 5 mm), or inches to 1/16 (to 1/32 below an inch).
        fine: To the tenth of a mm, or 1/32 in, whatever the size.
    """
    size, sign = abs(mm), "-" if mm < 0 else ""
    if system == UnitSystem.INCH:
        inches = size / 25.4
        parts = 32 if fine or inches < 1 else 16
        count = _nearest(inches * parts)
        if count == 0:
            return "0 in" if size == 0 else "under 1/32 in"
        return f"{sign}{_mixed(count, parts)} in"
    tenths = _nearest(size * 10) if fine or size < 5 else 5 * _nearest(size * 2)
    if tenths == 0:
        return "0 mm" if size == 0 else "under 0.1 mm"
    whole, tenth = divmod(tenths, 10)
    return f"{sign}{whole}.{tenth} mm" if tenth else f"{sign}{whole} mm"


def show_temperature(degc: float, system: UnitSystem | str = UnitSystem.MM) -> str:
    """Show a temperature as an eye can judge it: to 5 degC or 10 degF."""
    if system == UnitSystem.INCH:
        return f"{10 * round((degc * 1.8 + 32) / 10)} degF"
    return f"{5 * round(degc / 5)} degC"


def show_time(seconds: float) -> str:
    """Show a time in words: "35 s", "2 min 50 s", "14 min", "1 h 20 min", "3 days"."""
    whole = _nearest(max(0.0, seconds))
    if whole < 60:
        return f"{whole} s"
    if whole < 600:
        minutes, rest = divmod(whole, 60)
        return f"{minutes} min {rest} s" if rest else f"{minutes} min"
    hours, minutes = divmod(_nearest(whole / 60), 60)
    if not hours:
        return f"{minutes} min"
    if hours >= 48:
        return f"{_nearest(whole / 86400)} days"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def show_clock(seconds: float) -> str:
    """Show a running time: "0:35", "2:50", "1:02:05"; "-0:10" when it has run over."""
    whole = int(abs(seconds))
    sign = "-" if seconds < 0 and whole else ""
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{sign}{hours}:{minutes:02}:{rest:02}" if hours else f"{sign}{minutes}:{rest:02}"


def show_mass(kg: float, system: UnitSystem | str = UnitSystem.MM) -> str:
    """Show a mass: "350 g", "1.25 kg", "14.2 kg"; "5 1/2 oz", "2 lb 3 oz"."""
    if system == UnitSystem.INCH:
        ounces = kg / 0.45359237 * 16
        if ounces < 15.75:
            return f"{_mixed(_nearest(ounces * 2), 2)} oz"
        pounds, rest = divmod(_nearest(ounces), 16)
        return f"{pounds} lb {rest} oz" if rest else f"{pounds} lb"
    if kg < 0.9995:
        return f"{_nearest(kg * 1000)} g"
    return f"{kg:.2f} kg" if kg < 9.995 else f"{kg:.1f} kg"


def _mixed(count: int, parts: int) -> str:
    whole, over = divmod(count, parts)
    if not over:
        return str(whole)
    shared = math.gcd(over, parts)
    fraction = f"{over // shared}/{parts // shared}"
    return f"{whole} {fraction}" if whole else fraction


def _nearest(value: float) -> int:
    return math.floor(value + 0.5)
