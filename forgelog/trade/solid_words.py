"""Simple forms as smiths say them: "square 12 mm x 300 mm", "taper 12 to 4 mm round x 80 mm"."""

from __future__ import annotations

import re

import msgspec

from forgelog.trade.sections import SHAPES, Section, SectionError, parse_section
from forgelog.trade.solids import SOLIDS, Dim
from forgelog.units import ReadError, UnitError, parse_length, tidy

LIKE = (
    'a form, like "square 12 mm x 300 mm", "taper 12 mm to 4 mm round x 80 mm", '
    '"leaf 80 x 30 x 3 mm", "ball 25 mm", "eye 6 mm round inside 16 mm" or "hole 9 mm x 8 mm"'
)


class SolidError(ReadError):
    """A text that is no form."""


class SaidSolid(msgspec.Struct, frozen=True, kw_only=True):
    """A form as it was said, ready for `solid_volume_mm3`."""

    kind: str
    dims: dict[str, Dim]
    times: int = 1


_PLAIN = {
    "round": ("across", "long"),
    "square": ("across", "long"),
    "octagon": ("across", "long"),
    "hexagon": ("across", "long"),
    "flat": ("wide", "thick", "long"),
    "leaf": ("long", "wide", "thick"),
    "ball": ("across",),
    "cone": ("across", "long"),
    "hole": ("across", "long"),
}
"""The lengths of a form in the order in which they are said."""

_ALSO = {"disc": "round", "disk": "round", "hex": "hexagon", "oct": "octagon", "block": "flat"}
_MEASURE = re.compile(r" (inside|outside|centre[ -]line|center[ -]line) ?")
_CROSS = re.compile(r" ?[x×*] ?")


def parse_solid(text: str) -> SaidSolid:
    """Read one form.

    Args:
        text: Its name, its sizes in order and its length; "4 of hole 9 mm x 8 mm" for several;
            or a bar with a length, "25 x 12 mm flat x 60 mm".

    Raises:
        SolidError: the text is no form; says what was found and what to write.
        UnitError: a length in it is none.
        SectionError: a bar in it is none.
    """
    if len(text) > 120:
        raise SolidError(text, "is longer than 120 letters", LIKE)
    body = tidy(text).lower()
    times = 1
    if match := re.match(r"(\d{1,3}) (?:of|times) ", body):
        times, body = int(match[1]), body[match.end() :]
    if not times:
        raise SolidError(text, "is none of them", "1 of it, or more")
    name, _, rest = body.partition(" ")
    name = _ALSO.get(name, name)
    if name in ("rod", "thread"):
        return _rod(text, rest, times)
    if name in ("ring", "eye"):
        return _ring(text, name, rest, times)
    if name == "taper":
        return _taper(text, rest, times)
    if name == "point" or (name == "hole" and _ends_in_shape(rest)):
        return _with_section(text, name, rest, times)
    if name in _PLAIN:
        return _lengths(text, name, rest, times)
    if body[:1].isdigit() or name == "bar":
        return _with_section(text, "bar", rest if name == "bar" else body, times)
    hint = _hint(name, rest)
    raise SolidError(text, "is no form that the sum knows", LIKE, hint)


def _hint(name: str, rest: str) -> str:
    from difflib import get_close_matches

    known = [*SOLIDS, *_ALSO]
    near = get_close_matches(name, known, n=1, cutoff=0.6)
    return f"{near[0]} {rest}" if near and rest else ""


def _parts(text: str, rest: str, count: int) -> list[float]:
    """So many lengths with crosses between; the last unit serves those that have none."""
    parts = [part.strip() for part in _CROSS.split(rest)] if rest else []
    if len(parts) != count:
        words = {1: "one size", 2: "two sizes", 3: "three sizes"}[count]
        raise SolidError(text, f"does not give {words}", LIKE)
    unit = re.search(r"[a-z\"']+\.?$", parts[-1])
    wanted = f" {unit[0]}" if unit else ""
    return [parse_length(one if re.search(r"[a-z\"'.]$", one) else one + wanted) for one in parts]


def _lengths(text: str, kind: str, rest: str, times: int) -> SaidSolid:
    keys = _PLAIN[kind]
    found = _parts(text, rest, len(keys))
    dims: dict[str, Dim] = dict(zip(keys, found, strict=True))
    return SaidSolid(kind=kind, dims=dims, times=times)


def _ends_in_shape(rest: str) -> bool:
    return any(word in SHAPES for word in rest.split())


def _cut_length(text: str, rest: str) -> tuple[str, float]:
    """What stands before the last cross, and the length after it."""
    crosses = list(_CROSS.finditer(rest))
    if not crosses:
        raise SolidError(text, "has no length", LIKE)
    last = crosses[-1]
    try:
        return rest[: last.start()], parse_length(rest[last.end() :])
    except UnitError as error:
        raise SolidError(text, f"has a length that {error.problem}", LIKE) from None


def _with_section(text: str, kind: str, rest: str, times: int) -> SaidSolid:
    bar, long = _cut_length(text, rest)
    return SaidSolid(kind=kind, dims={"section": parse_section(bar), "long": long}, times=times)


def _taper(text: str, rest: str, times: int) -> SaidSolid:
    bars, long = _cut_length(text, rest)
    first, sign, last = bars.partition(" to ")
    if not sign:
        raise SolidError(text, "does not say from what to what", LIKE)
    end = parse_section(last)
    start = _start_of_taper(text, first, last, end)
    return SaidSolid(kind="taper", dims={"start": start, "end": end, "long": long}, times=times)


def _start_of_taper(text: str, first: str, last: str, end: Section) -> Section:
    """The thick end, which takes shape and unit of the other where it has none of its own."""
    if _ends_in_shape(first):
        return parse_section(first)
    unit = re.search(r"[a-z\"']+", last.rpartition(end.kind)[0])
    try:
        if re.search(r"[a-z\"']$", first):
            return parse_section(f"{first} {end.kind}")
        return parse_section(f"{first} {unit[0] if unit else ''} {end.kind}")
    except SectionError as error:
        raise SolidError(text, f"begins with what {error.problem}", LIKE) from None


def _ring(text: str, kind: str, rest: str, times: int) -> SaidSolid:
    match = _MEASURE.search(rest)
    if match is None:
        raise SolidError(text, "does not say inside, outside or centre line", LIKE)
    key = {"i": "inside", "o": "outside", "c": "centre_line"}[match[1][0]]
    size = parse_length(rest[match.end() :])
    section = parse_section(rest[: match.start()])
    return SaidSolid(kind=kind, dims={"section": section, key: size}, times=times)


def _rod(text: str, rest: str, times: int) -> SaidSolid:
    rest = rest.removeprefix("for ").removeprefix("thread ")
    name, long = _cut_length(text, rest)
    name = name.strip()
    size = name[0].upper() + name[1:] if name.startswith("m") else name.upper()
    return SaidSolid(kind="rod for thread", dims={"thread": size, "long": long}, times=times)
