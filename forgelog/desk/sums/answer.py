"""What a sum answers: named numbers for a machine, and the same as lines for a smith."""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import math
from collections.abc import Callable
from typing import NamedTuple

from forgelog.units.show import UnitSystem, show_length, show_mass, show_temperature, show_time

Value = object
"""A number, words, yes or no, nothing, or a list or table of these."""


class Row(NamedTuple):
    """One figure of an answer."""

    key: str
    """Its name for a machine, with the unit in it; "" where it is for eyes alone."""
    words: str
    """Its name for a smith; "" where it is for a machine alone."""
    value: Value
    show: str = "text"
    """How it is rounded: a name out of `SHOWN`."""


class Answer(NamedTuple):
    """What came out. The first row that has words is what was asked for, and is shown large."""

    title: str
    """What was asked: "M12", "12 mm square"."""
    rows: tuple[Row, ...]
    source: str
    note: str = ""
    """Where sources disagree, or what the figure does not know."""
    caution: str = ""

    @property
    def table(self) -> dict[str, object]:
        """Every named figure, for a machine; numbers that have no end are null."""
        found: dict[str, object] = {"asked": self.title}
        found.update({row.key: plain(row.value) for row in self.rows if row.key})
        found["source"] = self.source
        if self.note:
            found["note"] = self.note
        if self.caution:
            found["caution"] = self.caution
        return found

    def lines(self, system: UnitSystem | str) -> tuple[tuple[str, str], ...]:
        """Every figure with words, as a smith reads it."""
        return tuple((row.words, shown(row, system)) for row in self.rows if row.words)


def plain(value: Value) -> object:
    """A value as JSON takes it, to nine figures."""
    if isinstance(value, bool) or value is None or isinstance(value, (int, str)):
        return value
    if isinstance(value, float):
        return float(f"{value:.9g}") if math.isfinite(value) else None
    if isinstance(value, dict):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(one) for one in value]
    return str(value)


def shown(row: Row, system: UnitSystem | str) -> str:
    """A value as a smith reads it, rounded as the trade rounds."""
    value = row.value
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    show = SHOWN[row.show]
    if isinstance(value, dict):
        return ", ".join(f"{name} {show(float(one), system)}" for name, one in value.items())
    if isinstance(value, (list, tuple)):
        return span([float(one) for one in value], row.show, system)
    assert isinstance(value, (int, float))
    return show(float(value), system) if math.isfinite(value) else "never"


def span(values: list[float], show: str, system: UnitSystem | str) -> str:
    """ "850 to 900 degC": low and high, the unit once where both have the same."""
    words = list(dict.fromkeys(SHOWN[show](one, system) for one in values))
    first, _, unit = words[0].rpartition(" ")
    if len(words) > 1 and first and all(one.endswith(f" {unit}") for one in words):
        words = [one.removesuffix(f" {unit}") for one in words[:-1]] + words[-1:]
    return " to ".join(words)


def _inch(system: UnitSystem | str) -> bool:
    return system == UnitSystem.INCH


def _figures(value: float, least: int = 3) -> str:
    """At least so many figures, thousands whole, no tail of noughts."""
    if value == 0:
        return "0"
    places = max(0, least - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{min(places, 9)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _scaled(unit: str, inch_unit: str, factor: float) -> Callable[[float, UnitSystem | str], str]:
    """Shown to three figures in one unit or the other."""

    def show(value: float, system: UnitSystem | str) -> str:
        if _inch(system):
            return f"{_figures(value * factor)} {inch_unit}"
        return f"{_figures(value)} {unit}"

    return show


def _exact(mm: float, system: UnitSystem | str) -> str:
    return f"{mm / 25.4:.4f} in" if _inch(system) else f"{mm:.3f} mm"


def _drill(mm: float, system: UnitSystem | str) -> str:
    return f"{mm / 25.4:.4f} in" if _inch(system) else f"{mm:.2f}".rstrip("0").rstrip(".") + " mm"


def _volume(mm3: float, system: UnitSystem | str) -> str:
    if _inch(system):
        return f"{_figures(mm3 / 16387.064)} in3"
    return f"{_figures(mm3 / 1000)} cm3"


def _mass_a_metre(kg: float, system: UnitSystem | str) -> str:
    return f"{kg / 1.48816394:.3f} lb/ft" if _inch(system) else f"{kg:.3f} kg/m"


def _thin_length(mm: float, system: UnitSystem | str) -> str:
    return show_length(mm, system, fine=True)


def _force(newton: float, system: UnitSystem | str) -> str:
    if _inch(system):
        return f"{_figures(newton / 4.4482216152605)} lbf"
    return f"{_figures(newton / 1000)} kN"


def _temperature(degc: float, system: UnitSystem | str) -> str:
    return show_temperature(degc, system)


def _whole(value: float, system: UnitSystem | str) -> str:
    return f"{math.floor(value + 0.5)}"


SHOWN: dict[str, Callable[[float, UnitSystem | str], str]] = {
    "text": lambda value, _: _figures(value, 4),
    "length": show_length,
    "fine": _thin_length,
    "exact": _exact,
    "drill": _drill,
    "area": _scaled("mm2", "in2", 1 / 645.16),
    "area a length": _scaled("mm2/mm", "in2/in", 1 / 25.4),
    "surface": _scaled("m2", "ft2", 10.763910417),
    "volume": _volume,
    "mass": show_mass,
    "mass a metre": _mass_a_metre,
    "sheet": _scaled("kg/m2", "lb/ft2", 0.2048161436),
    "temperature": _temperature,
    "time": lambda seconds, _: show_time(seconds),
    "percent": lambda percent, _: f"{_figures(percent)} %",
    "force": _force,
    "energy": _scaled("J", "ft lbf", 0.7375621493),
    "heat": _scaled("kJ", "Btu", 0.9478171203),
    "fuel": _scaled("kg", "lb", 2.2046226218),
    "stress": _scaled("MPa", "ksi", 0.1450377377),
    "whole": _whole,
    "hardness": lambda hrc, _: f"{hrc:.0f} HRC",
    "analysis": lambda percent, _: f"{percent:.2f} %",
}
"""How each kind of figure is shown."""
