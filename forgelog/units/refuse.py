"""What is the matter with a text that is no quantity, and the nearest right spelling."""

from __future__ import annotations

import re

from forgelog.units.errors import UnitError, plain
from forgelog.units.scan import TERM, UNITS, unit_of


def why_not(text: str, body: str, kind: str, expected: str) -> UnitError:
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
    match = TERM.match(body)
    if match is None:
        closed = re.sub(r"(\d) ?/ ?(\d)", r"\1/\2", body)
        return UnitError(text, "does not begin with a number that can be read", expected, closed)
    if not match["unit"]:
        return _no_unit(text, body, match, kind, expected)
    if unit_of(match["unit"]) is None:
        return _unknown_unit(text, body, match, kind, expected)
    rest = body[match.end() :].strip()
    if kind == "temperature" or rest.startswith(("-", "–", "to ")):
        return UnitError(text, f'goes on with "{plain(rest)}"', f"one thing: {expected}")
    if (more := TERM.match(rest)) and unit_of(more["unit"]):
        return UnitError(
            text, "has units that do not go on from great to small", 'it like "2 ft 3 1/2 in"'
        )
    return UnitError(text, f'goes on with "{plain(rest)}"', expected)


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

    names = [n for n, u in UNITS.items() if kind in (u.kind, "") and n.isalpha()]
    near = get_close_matches(word.lower(), [n.lower() for n in names], n=1, cutoff=0.6)
    unit = unit_of(near[0]) if near else None
    hint = f"{number} {unit.name}" if unit else ""
    return UnitError(text, f'has "{plain(word)}", which is no unit here', expected, hint)


def other_unit(body: str, kind: str) -> str:
    """The hint for a unit of the wrong kind: 10 m is a length, where minutes were meant."""
    match = TERM.fullmatch(body)
    if match and kind == "time" and match["unit"] in ("m", "M"):
        return f"{body[: match.start('unit')].strip()} min"
    return ""
