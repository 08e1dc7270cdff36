"""Measures in other units, and gauges by their numbers."""

from __future__ import annotations

import re

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.recipe.plain import quoted
from forgelog.trade.drills import fraction, near_drill, read_drill
from forgelog.trade.errors import SumError
from forgelog.trade.gauges import SOURCES, gauge_mm, gauge_name, near_gauge, read_gauge
from forgelog.units import UnitError, parse_length, parse_quantity, tidy

_OTHER = {
    "length": ("mm", "inch"),
    "temperature": ("degC", "degF"),
    "mass": ("kg", "lb"),
    "time": ("s", "min"),
}
_PINT_NAMES = {"°c": "degC", "°f": "degF", '"': "inch", "''": "inch", "in": "inch", "'": "foot"}
_PAIRS = {
    "MPa": "ksi",
    "ksi": "MPa",
    "psi": "MPa",
    "lb/ft": "kg/m",
    "kg/m": "lb/ft",
    "J": "ft*lbf",
    "N": "lbf",
    "lbf": "N",
    "kN": "lbf",
    "bar": "psi",
    "m/s": "ft/s",
    "ft/s": "m/s",
    "hp": "kW",
    "kW": "hp",
    "kgf": "N",
    "mm2": "inch**2",
    "cm3": "inch**3",
    "in3": "cm**3",
    "l": "gallon",
}


def _convert(asked: Asked) -> Answer:
    text, to = tidy(asked.word("what")), asked.word("to")
    value, unit = _measured(text)
    difference = asked.flag("difference")
    wanted = to or _other_unit(text, unit)
    if not wanted:
        raise CannotSum(f"say what to turn {quoted(text)} into, with --to: --to MPa")
    result = _turned(value, unit, wanted, difference=difference)
    name = _shown_unit(wanted)
    rows = [
        Row("value", "", result),
        Row("unit", "", name),
        Row("", "it is", f"{result:.6g} {name}"),
        Row("from_value", "", value),
        Row("from_unit", "", _shown_unit(unit)),
    ]
    if name == "in":
        parts = round(result * 32)
        rows.append(Row("", "nearest 32nd", f"{fraction(parts, 32)} in"))
    note = "a difference of 50 degC is 90 degF, not 122: say --difference" if "deg" in name else ""
    return Answer(text, tuple(rows), "definitions of the units", note)


def _measured(text: str) -> tuple[float, str]:
    """The number and unit of a measure; of one with several units, in its first."""
    match = re.fullmatch(
        r"([-−]?)((?:\d{1,6}[ -])?\d{1,6}/\d{1,6}|\d{1,12}(?:\.\d{1,12})?|\.\d{1,12}) ?"
        r"([^\d\s./].*)",
        text,
    )
    if match is None or re.search(r"\d [\d]", match[3]) or _is_compound(match[3]):
        try:
            known = parse_quantity(text)
        except UnitError as error:
            raise CannotSum(f"{error}; or a number and its unit, like 58 ksi") from None
        return known.value, {"length": "mm", "temperature": "degC", "time": "s", "mass": "kg"}[
            known.kind
        ]
    number = sum(_ratio(part) for part in re.split(r"[ -]", match[2]) if part)
    return -number if match[1] else number, _unit(match[3])


def _is_compound(unit: str) -> bool:
    return re.search(r"[a-z'\"] ?\d+(?:[ ./-]\d+)* ?[a-z'\"]", unit, re.IGNORECASE) is not None


def _ratio(text: str) -> float:
    top, sign, bottom = text.partition("/")
    if sign and float(bottom) == 0:
        raise CannotSum(f"{quoted(text)} divides by nothing")
    return float(top) / float(bottom) if sign else float(text)


def _unit(text: str) -> str:
    unit = " ".join(text.split())
    if len(unit) > 24 or not re.fullmatch(r"[A-Za-z°µ'\"%][A-Za-z0-9°µ'\"/*^ .-]*", unit):
        raise CannotSum(
            f"{quoted(text)} is no unit that can be read; write one like mm, ksi, lb/ft"
        )
    if re.search(r"\d{2}|\*\*|\^.*\^", unit):
        raise CannotSum(f"{quoted(text)} has a power that no measure in a shop has")
    return unit


def _pint_name(unit: str) -> str:
    plain = _PINT_NAMES.get(unit.lower(), unit)
    return re.sub(
        r"(?<=[a-zA-Z])\^?([23])\b", r"**\1", re.sub(r"\bin\b|\bin(?=[23])", "inch", plain)
    )


def _other_unit(text: str, unit: str) -> str:
    try:
        first, second = _OTHER[parse_quantity(text.lstrip("-−")).kind]
    except (UnitError, KeyError):
        return _PAIRS.get(unit, "")
    inches = unit.lower() in ("in", "inch", "inches", '"', "''", "ft", "feet", "foot", "'")
    same = {"degf", "°f", "lb", "lbs", "oz", "fahrenheit", "min", "h"}
    return first if inches or unit.lower() in same else second


def _turned(value: float, unit: str, wanted: str, *, difference: bool) -> float:
    import pint

    from forgelog.desk.sums.pint_units import registry

    units = registry()
    try:
        first, last = _pint_name(unit), _pint_name(_unit(wanted))
        if difference:
            first, last = (re.sub(r"^deg", "delta_deg", name) for name in (first, last))
        quantity = units.Quantity(value, units.parse_units(first))
        return float(quantity.to(units.parse_units(last)).magnitude)
    except CannotSum:
        raise
    except pint.DimensionalityError:
        raise CannotSum(f"{quoted(unit)} does not turn into {quoted(wanted)}") from None
    except pint.UndefinedUnitError as error:
        names = error.unit_names
        name = names if isinstance(names, str) else ", ".join(names)
        raise CannotSum(f"{quoted(name)} is no unit; write one like mm, in, ksi or lb/ft") from None
    except Exception:
        # whatever else the library of units says of such words is in its own terms
        raise CannotSum(f"{quoted(unit)} does not turn into {quoted(wanted)}") from None


def _shown_unit(unit: str) -> str:
    name = unit.replace("**", "").replace("inch", "in").replace("°", "deg").replace("*", " ")
    return {"degc": "degC", "degf": "degF"}.get(name.lower(), name)


def _gauge(asked: Asked) -> Answer:
    text = asked.word("what")
    try:
        name, mm, source = _size_of(text)
    except UnitError as error:
        raise CannotSum(f"{error}; or a gauge or drill, like 14 SWG, #7 or letter F") from None
    parts = max(1, round(mm / 25.4 * 64))
    drill, drill_mm = near_drill(mm)
    rows = [
        Row("value", "", mm),
        Row("unit", "", "mm"),
        Row("size_mm", "it is", mm, "exact"),
        Row("size_in", "in inches", f"{mm / 25.4:.4f} in"),
        Row("nearest_64th_in", "nearest 64th", f"{fraction(parts, 64)} in"),
        Row("nearest_drill", "nearest drill", drill),
        Row("nearest_drill_mm", "which is", drill_mm, "exact"),
    ]
    for table in SOURCES:
        number = near_gauge(mm, table)
        size = gauge_mm(number, table)
        if abs(size - mm) < 0.12 * mm:
            words = f"{gauge_name(number, table)}, {size:.3f} mm"
            rows.append(Row(f"nearest_{table.lower()}", f"near in {table}", words))
    note = "a number alone means nothing: 14 is 2.11, 2.03, 1.90 or 1.63 mm by the table"
    return Answer(name, tuple(rows), source, note)


def _size_of(text: str) -> tuple[str, float, str]:
    """The name, size in mm and source of a gauge, drill or length."""
    drill = read_drill(text)
    if drill is not None:
        return drill[0], drill[1], "twist drills, ASME B94.11M (from memory)"
    if re.search(r"swg|usw|us\b|awg|bwg|gauge|\bga\b", text.lower()):
        table, number = read_gauge(text)
        return gauge_name(number, table), gauge_mm(number, table), SOURCES[table]
    mm = parse_length(text)
    if not 0 < mm < 2000:
        raise SumError("a gauge is above 0 and below 2 m")
    return text, mm, "definition of the inch, 25.4 mm"


SUMS = (
    Sum(
        "convert",
        "A measure in other units.",
        (
            Field(
                name="what",
                says="a number and its unit",
                kind="text",
                needed=True,
                bare=True,
                usual=("1/2 in", "25 mm", "500 degF", "850 degC", "58 ksi", "400 MPa", "1 lb/ft"),
            ),
            Field(
                name="to", says="the unit wanted", kind="text", usual=("mm", "in", "degC", "degF")
            ),
            Field(name="difference", says="a difference of temperatures", kind="flag"),
        ),
        ('"1 1/8 in" --to mm', '"500 degF" --to degC', '"58 ksi" --to MPa'),
        _convert,
    ),
    Sum(
        "gauge",
        "Sheet and wire gauges, drills by number and letter, fractions of an inch.",
        (
            Field(
                name="what",
                says="14 SWG, 16 US, 12 AWG, #7, letter F, 3/8 in, 5.1 mm",
                kind="text",
                needed=True,
                bare=True,
                usual=("14 SWG", "16 SWG", "16 US", "11 US", "#7", "letter F", "3/8 in", "5.1 mm"),
            ),
        ),
        ('"14 SWG"', '"#7"', '"letter F"', '"3/8 in"'),
        _gauge,
    ),
)
