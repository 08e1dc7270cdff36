"""The kinds of thing that a sum asks for, each with a reader and what to write."""

from __future__ import annotations

import re
from collections.abc import Callable

from forgelog.units.read import parse_length, parse_mass, parse_temperature, parse_time

Choices = tuple[str, ...]


def quoted(text: str) -> str:
    """A text inside a message: in quotes, harmless and not endless."""
    # Loaded only where something is refused.
    from forgelog.recipe.plain import quoted as in_quotes

    return in_quotes(text)


def listed(words: Choices) -> str:
    """Words in a row: "gas, coke or charcoal"."""
    from forgelog.recipe.plain import listed as in_a_row

    return in_a_row(words)


class Unread(Exception):
    """A text that cannot be read for its field, in the smith's words."""


def _number(text: str, units: dict[str, float], like: str, most: float = 1e6) -> float:
    """A number with one of these units; with "" among them a bare number will do."""
    match = re.fullmatch(r"(\d{1,9}(?:\.\d{1,9})?|\.\d{1,9}) ?(.*)", " ".join(text.split()))
    if match is None:
        raise Unread(f"{quoted(text)} is no number that can be read; write {like}")
    unit = match[2].lower()
    if unit not in units:
        problem = f"has {quoted(match[2])}, which is no unit here" if unit else "has no unit"
        raise Unread(f"{quoted(text)} {problem}; write {like}")
    value = float(match[1]) * units[unit]
    if value > most:
        raise Unread(f"{quoted(text)} is more than any shop can mean; write {like}")
    return value


_UNITS: dict[str, tuple[dict[str, float], str]] = {
    "number": ({"": 1.0, "turns": 1.0, "turn": 1.0}, 'a number, like "2.5"'),
    "percent": ({"": 1.0, "%": 1.0, "per cent": 1.0, "percent": 1.0}, 'per cent, like "6"'),
    "strength": (
        {"": 1.0, "mpa": 1.0, "n/mm2": 1.0, "ksi": 6.894757293, "psi": 0.006894757293},
        'a tensile strength, like "360 MPa" or "58 ksi"',
    ),
    "angle": ({"": 1.0, "deg": 1.0, "degrees": 1.0, "°": 1.0}, 'an angle, like "90"'),
    "speed": ({"m/s": 1.0, "ft/s": 0.3048}, 'a speed, like "7 m/s" or "23 ft/s"'),
    "volume": (
        {"mm3": 1.0, "cm3": 1e3, "ml": 1e3, "in3": 16387.064, "cu in": 16387.064},
        'a volume, like "3100 mm3", "3.1 cm3" or "0.19 in3"',
    ),
    "hardness": ({"": 1.0, "hrc": 1.0}, 'a hardness, like "55 HRC"'),
}


def _with_units(kind: str) -> Callable[[str, Choices], float]:
    units, like = _UNITS[kind]
    most = 1e12 if kind == "volume" else 1e6
    return lambda text, _: _number(text, units, like, most)


_ALSO = {"draft": "draught", "ash": "bed", "vermiculite": "bed", "air": "still-air"}


def _word(text: str, choices: Choices) -> str:
    word = " ".join(text.lower().replace("_", "-").split())
    word = _ALSO.get(word, word)
    for choice in choices:
        if word in (choice, choice.replace("-", " ")):
            return choice
    from forgelog.recipe.plain import did_you_mean

    hint = did_you_mean(word, choices)
    known = f"write {listed(choices)}"
    raise Unread(f"{quoted(text)} is none of them; {known}{f' ({hint})' if hint else ''}")


def _text(text: str, _: Choices) -> str:
    words = " ".join(text.split())
    if not words or len(words) > 120:
        raise Unread("nothing is written there" if not words else "it is longer than 120 letters")
    return words


def _section(text: str, _: Choices) -> object:
    from forgelog.trade.sections import parse_section

    return parse_section(text)


def _pitch(text: str, _: Choices) -> float:
    """Pitch in mm; below 0 for one that was told in threads an inch."""
    match = re.fullmatch(r"(\d{1,3}(?:\.\d{1,3})?) ?(?:tpi|an inch|threads an inch)", text.strip())
    if match and float(match[1]) > 0:
        return -25.4 / float(match[1])
    return parse_length(text)


def _volume_or_solid(text: str, choices: Choices) -> float:
    from forgelog.trade.solid_words import parse_solid
    from forgelog.trade.solids import solid_volume_mm3

    if re.match(r"[\d.]", text.strip()) and re.search(r"(?:3|ml|cu in)$", text.strip()):
        return _with_units("volume")(text, choices)
    solid = parse_solid(text)
    return solid_volume_mm3(solid.kind, solid.dims) * solid.times


def _lengths(text: str, _: Choices) -> tuple[float, ...]:
    """Several lengths with commas between them; the last unit serves for all."""
    parts = [part.strip() for part in re.split(r"[,;]|(?<=\S) x (?=\S)", text)][:20]
    unit = re.search(r"[a-z\"']+$", parts[-1], re.IGNORECASE)
    wanted = f" {unit[0]}" if unit else ""
    return tuple(
        parse_length(part if re.search(r"[a-z\"']$", part, re.IGNORECASE) else part + wanted)
        for part in parts
    )


READERS: dict[str, Callable[[str, Choices], object]] = {
    "length": lambda text, _: parse_length(text),
    "lengths": _lengths,
    "temperature": lambda text, _: parse_temperature(text),
    "time": lambda text, _: parse_time(text),
    "mass": lambda text, _: parse_mass(text),
    "section": _section,
    "solid": _text,
    "thread": _text,
    "pitch": _pitch,
    "bulk": _volume_or_solid,
    "word": _word,
    "text": _text,
    **{kind: _with_units(kind) for kind in _UNITS},
}
"""How each kind is read. Lengths in mm, temperatures in degC, times in s, masses in kg."""

LIKE: dict[str, Callable[[Choices], str]] = {
    "length": lambda _: 'a length, like "300 mm" or "1 1/8 in"',
    "lengths": lambda _: 'lengths, like "100, 80 mm"',
    "temperature": lambda _: 'a temperature, like "850 degC" or "1560 degF"',
    "time": lambda _: 'a time, like "90 s" or "1 h 20 min"',
    "mass": lambda _: 'a mass, like "1.2 kg" or "2 lb 8 oz"',
    "section": lambda _: 'a bar, like "12 mm square" or "25 x 12 mm flat"',
    "solid": lambda _: 'a form, like "square 12 mm x 300 mm"',
    "thread": lambda _: 'a thread, like "M12" or "1/2 UNC"',
    "pitch": lambda _: 'a pitch, like "1.25 mm" or "20 tpi"',
    "bulk": lambda _: 'a volume or a form, like "3.1 cm3" or "round 20 mm x 10 mm"',
    "word": lambda choices: listed(choices),
    "text": lambda _: "words",
    **{kind: (lambda like: lambda _: like)(words) for kind, (_, words) in _UNITS.items()},
}
"""What to write for each kind, in the words of an error or of the help."""
