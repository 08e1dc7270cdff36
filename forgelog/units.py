"""Quantities as smiths write and read them: "12 mm", "1-1/8 in", "950 degC", "1 min 30 s".

Reading is exact: the text becomes a ratio of whole numbers and only the last step is a float,
so that what `write_length` writes is read back as the same number. Nothing is loaded for it.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum

import msgspec

LONGEST_TEXT = 60
"""A quantity of more letters than this is refused unread."""

MOST = {"length": 1e7, "temperature": 1e4, "time": 1e8, "mass": 1e6}
"""The largest quantity of each kind that is believed: mm, degC, s, kg."""

LIKE = {
    "length": 'a length with its unit, like "12 mm" or "1 1/8 in"',
    "temperature": 'a temperature with its unit, like "870 degC" or "1600 degF"',
    "time": 'a time with its unit, like "90 s", "10 min" or "1 h 20 min"',
    "mass": 'a mass with its unit, like "1.2 kg" or "2 lb 8 oz"',
}
"""What is expected of each kind, in the words of an error."""


class ReadError(ValueError):
    """A text that is not what was wanted, in the smith's words."""

    def __init__(self, found: str, problem: str, expected: str, hint: str = "") -> None:
        self.found = plain(found)
        """What was written, with control characters made visible and cut at 40 letters."""
        self.problem = problem
        """What is the matter with it: "has no unit"."""
        self.expected = expected
        """What to write: 'a length with its unit, like "12 mm"'."""
        self.hint = hint
        """The nearest right spelling, or ""."""
        super().__init__(self.found, problem, expected, hint)

    def __str__(self) -> str:
        words = f'"{self.found}" {self.problem}; write {self.expected}'
        return f'{words} (did you mean "{self.hint}"?)' if self.hint else words


class UnitError(ReadError):
    """A text that is no quantity, or not of the kind that was wanted."""


class Quantity(msgspec.Struct, frozen=True, kw_only=True):
    """A number and the kind of thing that it measures."""

    kind: str
    """length, temperature, time or mass."""
    value: float
    """In mm, degC, s or kg."""


class UnitSystem(StrEnum):
    """How a shop likes its numbers: mm, degC and kg, or inch, degF and lb."""

    MM = "mm"
    INCH = "inch"


class _Unit(msgspec.Struct, frozen=True, kw_only=True):
    kind: str
    name: str
    """The spelling that hints use."""
    num: int
    den: int
    """Size in mm, s or kg as a ratio; of a temperature, the size of a degree."""
    family: str = ""
    """Only units of one family add up: "2 ft 3 in", never "2 ft 30 mm"."""


def _units() -> dict[str, _Unit]:
    table: dict[str, _Unit] = {}

    def add(kind: str, family: str, num: int, den: int, spellings: str) -> None:
        names = spellings.split()
        unit = _Unit(kind=kind, name=names[0], num=num, den=den, family=family)
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


_UNITS = _units()

_TERM = re.compile(
    r"""(?:(?P<whole>\d{1,9})(?:\ +|-)(?P<num>\d{1,6})/(?P<den>\d{1,6})
        |(?P<top>\d{1,9})/(?P<bottom>\d{1,6})
        |(?P<decimal>\d+(?:\.\d+)?|\.\d+))
        (?![\d./])
        \ *(?P<unit>[Dd]eg\.?\ ?[CFcf]\b|°\ ?[CFcf]\b|''|['"]|[A-Za-z]+\.?)?""",
    re.ASCII | re.VERBOSE,
)
_SPACES = re.compile(r"[ \t\u00a0\u2007\u2009\u202f]+")
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


def plain(text: str, longest: int = 40) -> str:
    """Text for a message: on one line, control characters shown, not sent, and not endless."""
    shown = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[: longest + 1])
    return shown if len(text) <= longest else shown[:longest] + "..."


def tidy(text: str) -> str:
    """The same quantity in plain signs: one space between words, 1/2 for ½, " for ″."""
    return _SPACES.sub(" ", text.translate(_SPELT)).strip()


def parse_length(text: str) -> float:
    """Read a length.

    Args:
        text: "12 mm", "1 1/8 in", '3/8"', "2 ft 3 1/2 in".

    Returns:
        mm, 0 or more.

    Raises:
        UnitError: the text is no length; says what was found, expected and meant.
    """
    return _parse(text, "length").value


def parse_temperature(text: str) -> float:
    """Read a temperature: "870 degC", "1600 °F". A bare C or F is refused. Returns degC.

    Raises:
        UnitError: the text is no temperature.
    """
    return _parse(text, "temperature").value


def parse_time(text: str) -> float:
    """Read a time: "35 s", "10 min", "1 h 20 min". Returns seconds.

    Raises:
        UnitError: the text is no time.
    """
    return _parse(text, "time").value


def parse_mass(text: str) -> float:
    """Read a mass: "1.2 kg", "2 lb 8 oz". Returns kg.

    Raises:
        UnitError: the text is no mass.
    """
    return _parse(text, "mass").value


def parse_quantity(text: str) -> Quantity:
    """Read a quantity of any kind that a smith uses; "m" is the metre, "min" the minute.

    Raises:
        UnitError: the text is no quantity.
    """
    return _parse(text, "")


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
    return _read(text, start)


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
    """Show a time in words: "35 s", "2 min 50 s", "14 min", "1 h 20 min"."""
    whole = _nearest(max(0.0, seconds))
    if whole < 60:
        return f"{whole} s"
    if whole < 600:
        minutes, rest = divmod(whole, 60)
        return f"{minutes} min {rest} s" if rest else f"{minutes} min"
    hours, minutes = divmod(_nearest(whole / 60), 60)
    if not hours:
        return f"{minutes} min"
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


def _mixed(count: int, parts: int) -> str:
    whole, over = divmod(count, parts)
    if not over:
        return str(whole)
    shared = math.gcd(over, parts)
    fraction = f"{over // shared}/{parts // shared}"
    return f"{whole} {fraction}" if whole else fraction


def _nearest(value: float) -> int:
    return math.floor(value + 0.5)


def _parse(text: str, kind: str) -> Quantity:
    expected = LIKE.get(kind, 'a number with its unit, like "12 mm" or "870 degC"')
    if len(text) > LONGEST_TEXT:
        raise UnitError(text, f"is longer than {LONGEST_TEXT} letters", expected)
    body = tidy(text)
    below = body[:1] in ("-", "−")
    if below:
        body = body[1:].lstrip()
    try:
        read = _read(body, 0, below=below)
    except UnitError as error:
        raise UnitError(text, error.problem, error.expected) from None
    if read is None or read[1] != len(body):
        refusal = _why_not(text, body, kind, expected)
        if refusal.hint and not _reads(refusal.hint):
            refusal.hint = ""
        raise refusal
    quantity = read[0]
    if kind and quantity.kind != kind:
        raise UnitError(text, f"is a {quantity.kind}", expected, _other_unit(body, kind))
    if below and quantity.kind != "temperature":
        raise UnitError(text, "is below nothing", expected)
    return quantity


def _read(text: str, start: int, *, below: bool = False) -> tuple[Quantity, int] | None:
    terms: list[tuple[int, int, _Unit]] = []
    end = place = start
    while match := _TERM.match(text, place):
        unit = _unit_of(match["unit"])
        if unit is None or (terms and not _goes_on(terms[-1][2], unit)):
            break
        terms.append((*_ratio(match, text), unit))
        end = place = match.end()
        while place < len(text) and text[place] == " ":
            place += 1
    if not terms:
        return None
    return _total(terms, text[start:end], below=below), end


def _unit_of(word: str | None) -> _Unit | None:
    if not word:
        return None
    key = word.replace(" ", "")
    if key == "M":  # a thread is M12; nobody writes the metre so
        return None
    return _UNITS.get(key) or _UNITS.get(key.lower().replace("deg.", "deg"))


def _goes_on(before: _Unit, unit: _Unit) -> bool:
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


def _total(terms: list[tuple[int, int, _Unit]], text: str, *, below: bool) -> Quantity:
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


def _why_not(text: str, body: str, kind: str, expected: str) -> UnitError:
    """The error that says what is the matter with a text that is no quantity."""
    if not body:
        return UnitError(text, "is empty", expected)
    if any(c.isnumeric() and c not in "0123456789" for c in body):
        return UnitError(text, "has figures that are not 0 to 9", expected)
    if re.search(r"\d,\d{3}(?!\d)", body):
        whole, point = body.replace(",", ""), body.replace(",", ".")
        return UnitError(
            text, "has a comma, which can mean two things", f'"{whole}" or "{point}" instead'
        )
    if re.search(r"\d,\d", body):
        point = body.replace(",", ".")
        return UnitError(text, "has a comma", "a point", point)
    if not re.search(r"\d", body, re.ASCII):
        return UnitError(text, "has no number", expected)
    match = _TERM.match(body)
    if match is None:
        closed = re.sub(r"(\d) ?/ ?(\d)", r"\1/\2", body)
        return UnitError(text, "does not begin with a number that can be read", expected, closed)
    if not match["unit"]:
        return _no_unit(text, body, match, kind, expected)
    if _unit_of(match["unit"]) is None:
        return _unknown_unit(text, body, match, kind, expected)
    rest = body[match.end() :].strip()
    if kind == "temperature" or rest.startswith(("-", "–", "to ")):
        return UnitError(text, f'goes on with "{plain(rest)}"', f"one thing: {expected}")
    if (more := _TERM.match(rest)) and _unit_of(more["unit"]):
        return UnitError(
            text, "has units that do not go on from great to small", 'it like "2 ft 3 1/2 in"'
        )
    return UnitError(text, f'goes on with "{plain(rest)}"', expected)


def _reads(text: str) -> bool:
    try:
        read = _read(text, 0)
    except UnitError:
        return False
    return read is not None and read[1] == len(text)


def _no_unit(text: str, body: str, match: re.Match[str], kind: str, expected: str) -> UnitError:
    number, rest = match[0].strip(), body[match.end() :].strip()
    first = {"length": "mm", "temperature": "degC", "time": "min", "mass": "kg"}.get(kind, "mm")
    if not rest:
        if kind == "length" and "/" in number:
            first = "in"
        return UnitError(text, "has no unit", expected, f"{number} {first}")
    if re.match(r"[-–] ?\d", rest):
        return UnitError(text, "looks like a range", f"one thing: {expected}")
    if re.fullmatch(r":\d{1,2}", rest) and kind in ("time", ""):
        return UnitError(
            text,
            "can be minutes or hours",
            expected,
            f"{number} min {rest[1:].lstrip('0') or '0'} s",
        )
    return UnitError(text, f'has "{plain(rest)}" where its unit should be', expected)


def _unknown_unit(
    text: str, body: str, match: re.Match[str], kind: str, expected: str
) -> UnitError:
    word = match["unit"]
    number = body[: match.start("unit")].strip()
    if word.upper() in ("C", "F") and kind in ("temperature", ""):
        return UnitError(
            text, f'has "{word}", which is not clear', expected, f"{number} deg{word.upper()}"
        )
    from difflib import get_close_matches

    names = [n for n, u in _UNITS.items() if kind in (u.kind, "") and n.isalpha()]
    near = get_close_matches(word.lower(), [n.lower() for n in names], n=1, cutoff=0.6)
    unit = _unit_of(near[0]) if near else None
    hint = f"{number} {unit.name}" if unit else ""
    return UnitError(text, f'has "{plain(word)}", which is no unit here', expected, hint)


def _other_unit(body: str, kind: str) -> str:
    """The hint for a unit of the wrong kind: 10 m is a length, where minutes were meant."""
    match = _TERM.fullmatch(body)
    if match and kind == "time" and match["unit"] in ("m", "M"):
        return f"{body[: match.start('unit')].strip()} min"
    return ""
