"""The numbers and units of a text, exactly: ratios of whole numbers until the last step."""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import re
from typing import NamedTuple

from forgelog.units.errors import UnitError

MOST = {"length": 1e7, "temperature": 1e4, "time": 1e8, "mass": 1e6}
"""The largest quantity of each kind that is believed: mm, degC, s, kg."""

LIKE = {
    "length": 'a length with its unit, like "12 mm" or "1 1/8 in"',
    "temperature": 'a temperature with its unit, like "870 degC" or "1600 degF"',
    "time": 'a time with its unit, like "90 s", "10 min" or "1 h 20 min"',
    "mass": 'a mass with its unit, like "1.2 kg" or "2 lb 8 oz"',
}
"""What is expected of each kind, in the words of an error."""


class Quantity(NamedTuple):
    """A number and the kind of thing that it measures."""

    kind: str
    """length, temperature, time or mass."""
    value: float
    """In mm, degC, s or kg."""


class Unit(NamedTuple):
    """One unit and its size."""

    kind: str
    name: str
    """The spelling that hints use."""
    num: int
    den: int
    """Size in mm, s or kg as a ratio; of a temperature, the size of a degree."""
    family: str = ""
    """Only units of one family add up: "2 ft 3 in", never "2 ft 30 mm"."""


def _units() -> dict[str, Unit]:
    table: dict[str, Unit] = {}

    def add(kind: str, family: str, num: int, den: int, spellings: str) -> None:
        names = spellings.split()
        unit = Unit(kind=kind, name=names[0], num=num, den=den, family=family)
        table.update(dict.fromkeys(names, unit))

    add("length", "metric", 1, 1, "mm mm. millimetre millimetres millimeter millimeters")
    add("length", "metric", 10, 1, "cm cm. centimetre centimetres centimeter centimeters")
    add("length", "metric", 1000, 1, "m metre metres meter meters")
    add("length", "inch", 254, 10, "in in. inch inches \" ''")
    add("length", "inch", 3048, 10, "ft ft. foot feet '")
    add("temperature", "celsius", 1, 1, "degC degc celsius °c")
    add("temperature", "fahrenheit", 5, 9, "degF degf fahrenheit °f")
    add("time", "time", 1, 1, "s sec sec. secs second seconds")
    add("time", "time", 60, 1, "min min. mins minute minutes")
    add("time", "time", 3600, 1, "h hr hr. hrs hour hours")
    add("mass", "metric", 1, 1, "kg kg. kilo kilos kilogram kilograms")
    add("mass", "metric", 1, 1000, "g g. gram grams gramme grammes")
    add("mass", "pound", 45359237, 100000000, "lb lb. lbs lbs. pound pounds")
    add("mass", "pound", 45359237, 1600000000, "oz oz. ounce ounces")
    return table


UNITS = _units()
"""Units by every spelling."""

TERM = re.compile(
    r"""(?:(?P<whole>\d{1,9})(?:\ +|-)(?P<num>\d{1,6})/(?P<den>\d{1,6})
        |(?P<top>\d{1,9})/(?P<bottom>\d{1,6})
        |(?P<decimal>\d+(?:\.\d+)?|\.\d+))
        (?![\d./])
        \ *(?P<unit>[Dd]eg\.?\ ?[CFcf]\b|°\ ?[CFcf]\b|''|['"]|[A-Za-z]+\.?)?""",
    re.ASCII | re.VERBOSE,
)
_SPACES = r"[ \t\u00a0\u2007\u2009\u202f]+"
_SPELT = str.maketrans(
    {
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "⅓": " 1/3",
        "⅔": " 2/3",
        "⁄": "/",
        "′": "'",
        "’": "'",
        "″": '"',
        "”": '"',
        "“": '"',
        "℃": "°C",
        "℉": "°F",
        "º": "°",
    }
)


def tidy(text: str) -> str:
    """The same quantity in plain signs: one space between words, 1/2 for ½, " for ″."""
    if not text.isascii():
        text = re.sub(_SPACES, " ", text.translate(_SPELT))
    elif "  " in text or "\t" in text:
        text = re.sub(_SPACES, " ", text)
    return text.strip()


def scan_quantity(text: str, start: int = 0) -> tuple[Quantity, int] | None:
    """Read the quantity that stands at a place in a longer text, such as a sum over sizes.

    Args:
        text: Already through `tidy`; "1/2 in + 3 mm".
        start: Where the number begins.

    Returns:
        The quantity and the place after it, or None where no number with a known unit stands.

    Raises:
        UnitError: a quantity stands there that cannot be: "1/0 in".
    """
    return read_at(text, start)


def reads(text: str) -> bool:
    """True where the whole of a tidied text is a quantity."""
    try:
        read = read_at(text, 0)
    except UnitError:
        return False
    return read is not None and read[1] == len(text)


def read_at(text: str, start: int, *, below: bool = False) -> tuple[Quantity, int] | None:
    """As `scan_quantity`; `below` is True where a minus stood before it."""
    terms: list[tuple[int, int, Unit]] = []
    end = place = start
    while match := TERM.match(text, place):
        unit = unit_of(match["unit"])
        if unit is None or (terms and not _goes_on(terms[-1][2], unit)):
            break
        terms.append((*_ratio(match, text), unit))
        end = place = match.end()
        while place < len(text) and text[place] == " ":
            place += 1
    if not terms:
        return None
    return _total(terms, text[start:end], below=below), end


def unit_of(word: str | None) -> Unit | None:
    """The unit of that spelling, capitals or not, or None."""
    if not word:
        return None
    key = word.replace(" ", "")
    if key == "M":  # a thread is M12; nobody writes the metre so
        return None
    return UNITS.get(key) or UNITS.get(key.lower().replace("deg.", "deg"))


def _goes_on(before: Unit, unit: Unit) -> bool:
    same = before.kind == unit.kind != "temperature" and before.family == unit.family
    return same and unit.num * before.den < before.num * unit.den


def _ratio(match: re.Match[str], text: str) -> tuple[int, int]:
    if match["decimal"]:
        whole, _, part = match["decimal"].partition(".")
        return int((whole or "0") + part), 10 ** len(part)
    num, den = int(match["num"] or match["top"]), int(match["den"] or match["bottom"])
    if den == 0:
        raise UnitError(text, "divides by nothing", 'a fraction like "1/2"')
    if not match["whole"]:
        return num, den
    if num >= den:
        raise UnitError(text, "has a whole or more in its fraction", '"1 1/8 in" or "9/8 in"')
    return int(match["whole"]) * den + num, den


def _total(terms: list[tuple[int, int, Unit]], text: str, *, below: bool) -> Quantity:
    num, den = 0, 1
    for top, bottom, unit in terms:
        above, under = top * unit.num, bottom * unit.den
        num, den = num * under + above * den, den * under
    kind = terms[0][2].kind
    if num > MOST[kind] * den:
        raise UnitError(text, "is more than any shop can mean", LIKE[kind])
    if kind == "temperature":
        num = -num if below else num
        if terms[0][2].family == "fahrenheit":
            num, den = num * 9 - 160 * den, den * 9
        if num * 100 < -27315 * den:
            raise UnitError(text, "is colder than anything can be", LIKE[kind])
    return Quantity(kind=kind, value=num / den)
