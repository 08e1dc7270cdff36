"""Sections of bar as smiths write them: "25 x 12 mm flat", "12 mm square", "16 mm round"."""

from __future__ import annotations

import math
import re

import msgspec

from forgelog.units import (
    ReadError,
    UnitError,
    UnitSystem,
    parse_length,
    plain,
    show_length,
    tidy,
    write_number,
)

DENSITY_KG_M3 = 7850.0
"""Steel. Source: EN 1993-1-2:2005 3.2.2; the mass tables of EN 10058 to 10061."""

LARGEST_MM = 3000.0
"""No side of a bar is larger than this."""

SHAPES = {
    "square": 1,
    "round": 1,
    "hexagon": 1,
    "octagon": 1,
    "sheet": 1,
    "flat": 2,
    "tube": 2,
    "angle": 3,
}
"""Each kind of section and how many sizes it takes."""

LIKE = 'a bar, like "25 x 12 mm flat", "12 mm square" or "1/2 in round"'


class SectionError(ReadError):
    """A text that is no section, or a section that has no answer to what was asked."""


class Section(msgspec.Struct, frozen=True, kw_only=True):
    """The cross-section of a bar, sheet or tube. Lengths in mm."""

    kind: str
    """square, round, flat, hexagon, octagon, sheet, angle or tube."""
    a_mm: float
    """Side, diameter, across flats, width, leg, thickness of a sheet, or outside of a tube."""
    b_mm: float = 0.0
    """Thickness of a flat, second leg of an angle, wall of a tube; else 0."""
    c_mm: float = 0.0
    """Thickness of an angle; else 0."""

    @property
    def sizes_mm(self) -> tuple[float, ...]:
        """The sizes in the order in which they are written, as many as the kind takes."""
        return (self.a_mm, self.b_mm, self.c_mm)[: SHAPES[self.kind]]


class Lumped(msgspec.Struct, frozen=True, kw_only=True):
    """What the heat sums know of a section."""

    area_per_perimeter_mm: float
    """Area of the section over the part of its outline that loses heat, A/P."""
    shape_factor: float
    """c: the mean is hotter than the surface by q c (A/P) / k."""

    @property
    def depth_mm(self) -> float:
        """l = c A/P."""
        return self.shape_factor * self.area_per_perimeter_mm


_WORDS = {
    "sq": "square",
    "squ": "square",
    "rd": "round",
    "ø": "round",
    "dia": "round",
    "diameter": "round",
    "hex": "hexagon",
    "hexagonal": "hexagon",
    "oct": "octagon",
    "octagonal": "octagon",
    "plate": "sheet",
    "pipe": "tube",
    **{kind: kind for kind in SHAPES},
}
_SHAPE = re.compile(
    rf"(?<![A-Za-z])({'|'.join(sorted(_WORDS, key=len, reverse=True))})(?![A-Za-z])\.?"
)
_SPARE = re.compile(r"(?<![A-Za-z])(?:bars?|steel|iron)(?![A-Za-z])\.?")
_CROSS = re.compile(r" ?(?:[x×*]|(?<![a-z])by(?![a-z])) ?")
_UNIT = re.compile(r"(?:[a-z]+\.?|\"|'|'')$")


def parse_section(text: str) -> Section:
    """Read a section.

    Args:
        text: "25 x 12 mm flat", "1 1/2 x 3/8 in flat", "40 mm x 8 mm flat", "12 mm square",
            "40 x 40 x 4 mm angle", "33.7 x 3.2 mm tube".

    Raises:
        SectionError: the text is no section; says what was found, expected and meant.
    """
    if len(text) > 80:
        raise SectionError(text, "is longer than 80 letters", LIKE)
    body = tidy(_SPARE.sub(" ", tidy(text).lower()))
    shapes = list(_SHAPE.finditer(body))
    kinds = [_WORDS[shape[1]] for shape in shapes]
    if kinds == ["round", "tube"]:
        kinds, shapes = ["tube"], shapes[1:]
        body = tidy(_SHAPE.sub("", body, count=1))
        shapes = list(_SHAPE.finditer(body))
    if not kinds:
        raise _no_shape(text, body)
    if len(kinds) > 1:
        raise SectionError(text, f'is both "{kinds[0]}" and "{kinds[1]}"', LIKE)
    before, after = body[: shapes[0].start()].strip(), body[shapes[0].end() :].strip()
    if before and after:
        hint = f"{before} {after} {kinds[0]}"
        raise SectionError(
            text, f'goes on with "{plain(after)}"', LIKE, hint if _reads(hint) else ""
        )
    section = _section(text, kinds[0], before or after)
    if (problem := problem_of(section)) is not None:
        raise SectionError(text, problem, LIKE)
    return section


def problem_of(section: Section) -> str | None:
    """Why a section cannot be made, in words that follow its name, or None."""
    if section.kind not in SHAPES:
        return f'is of the kind "{plain(section.kind)}", which is none of ours'
    if not all(0 < size <= LARGEST_MM for size in section.sizes_mm):
        return "has a size of nothing, or one that no bar has"
    if section.kind == "tube" and section.b_mm >= section.a_mm / 2:
        return "has a wall that fills the tube"
    if section.kind == "angle" and section.c_mm >= min(section.a_mm, section.b_mm):
        return "is thicker than its leg is wide"
    return None


def write_section(section: Section) -> str:
    """Write a section so that `parse_section` reads the very same one back: "25 x 12 mm flat"."""
    return f"{' x '.join(write_number(size) for size in section.sizes_mm)} mm {section.kind}"


def show_section(section: Section, system: UnitSystem | str = UnitSystem.MM) -> str:
    """Show a section in the shop's units: "25 x 12 mm flat", "1 x 15/32 in flat"."""
    sizes = [show_length(size, system, fine=True) for size in section.sizes_mm]
    unit = sizes[-1].rpartition(" ")[2]
    return f"{' x '.join(size.removesuffix(f' {unit}') for size in sizes)} {unit} {section.kind}"


def area_mm2(section: Section) -> float:
    """Area of a section, mm2, with sharp corners.

    Raises:
        SectionError: of a sheet, which has no width.

    Source:
        Elementary geometry.
    """
    a, b = section.a_mm, section.b_mm
    match section.kind:
        case "square":
            return a * a
        case "round":
            return math.pi / 4 * a * a
        case "hexagon":
            return math.sqrt(3) / 2 * a * a
        case "octagon":
            return 2 * (math.sqrt(2) - 1) * a * a
        case "flat":
            return a * b
        case "tube":
            return math.pi * b * (a - b)
        case "angle":
            return (a + b - section.c_mm) * section.c_mm
    raise _no_width(section)


def perimeter_mm(section: Section) -> float:
    """Length of the outline, mm; of a tube its outside alone.

    Raises:
        SectionError: of a sheet, which has no width.
    """
    a, b = section.a_mm, section.b_mm
    match section.kind:
        case "square":
            return 4 * a
        case "round" | "tube":
            return math.pi * a
        case "hexagon":
            return 2 * math.sqrt(3) * a
        case "octagon":
            return 8 * (math.sqrt(2) - 1) * a
        case "flat" | "angle":
            return 2 * (a + b)
    raise _no_width(section)


def mass_kg_per_m(section: Section) -> float:
    """Mass of a metre of bar, kg.

    Raises:
        SectionError: of a sheet; `sheet_kg_per_m2` is its sum.

    Source:
        Density of `DENSITY_KG_M3`, as the mass tables of EN 10058 to EN 10061.
    """
    return area_mm2(section) * DENSITY_KG_M3 / 1e6


def sheet_kg_per_m2(thick_mm: float) -> float:
    """Mass of a square metre of sheet, kg."""
    return thick_mm * DENSITY_KG_M3 / 1000


def lumped(section: Section) -> Lumped:
    """What the heat sums need: area over perimeter, and the shape factor c.

    Round 1/2 and square 2/3 are exact for an even flux; flat and octagon are fitted to the full
    conduction problem; hexagon lies between by the number of sides, and sheet, angle and tube
    are taken as thin flats that lose heat outside (our own, not fitted).
    """
    a, b, c = section.a_mm, section.b_mm, section.c_mm
    if section.kind == "sheet":
        return Lumped(area_per_perimeter_mm=a / 2, shape_factor=0.5)
    ratio = area_mm2(section) / perimeter_mm(section)
    match section.kind:
        case "flat":
            factor = _flat_factor(max(a, b) / min(a, b))
        case "angle":
            factor = _flat_factor((a + b - c) / c)
        case "square":
            factor = 2 / 3
        case "hexagon":
            factor = 0.56
        case "octagon":
            factor = 0.53
        case _:
            factor = 0.5
    return Lumped(area_per_perimeter_mm=ratio, shape_factor=factor)


def _flat_factor(wide_by_thick: float) -> float:
    return max(0.5, 2 / 3 - 0.014 * (wide_by_thick - 1))


def _section(text: str, kind: str, sizes: str) -> Section:
    parts = [part.strip() for part in _CROSS.split(sizes)] if sizes else []
    wanted = SHAPES[kind]
    if len(parts) != wanted:
        raise _wrong_count(text, kind, parts)
    unit = _UNIT.search(parts[-1])
    if unit is None:
        first = _UNIT.search(parts[0])
        hint = f"{sizes} {first[0] if first else 'mm'} {kind}"
        raise SectionError(text, "has no unit", LIKE, hint if _reads(hint) else "")
    values = []
    for part in parts:
        whole = part if _UNIT.search(part) else f"{part} {unit[0]}"
        try:
            values.append(parse_length(whole))
        except UnitError as error:
            problem = f'has "{plain(part)}", which {error.problem}'
            raise SectionError(text, problem, LIKE) from None
    a, b, c = (*values, 0.0, 0.0)[:3]
    return Section(kind=kind, a_mm=a, b_mm=b, c_mm=c)


def _wrong_count(text: str, kind: str, parts: list[str]) -> SectionError:
    words = {1: "one size", 2: "two sizes", 3: "three sizes"}
    like = {
        "flat": '"25 x 12 mm flat"',
        "tube": '"33.7 x 3.2 mm tube", outside and wall',
        "angle": '"40 x 40 x 4 mm angle", both legs and thickness',
    }.get(kind, f'"12 mm {kind}"')
    hint = ""
    if kind == "angle" and len(parts) == 2:
        hint = f"{parts[0]} x {parts[0]} x {parts[1]} angle"
    elif SHAPES[kind] == 1 and len(parts) == 2:
        unit = _UNIT.search(parts[1])
        same = unit is not None and parts[1][: unit.start()].strip() == parts[0]
        hint = f"{parts[1]} {kind}" if same else f"{' x '.join(parts)} flat"
    if hint and not _reads(hint):
        hint = ""
    article = "an" if kind[0] in "ao" else "a"
    problem = f"does not give {words[SHAPES[kind]]}, which {article} {kind} takes"
    return SectionError(text, problem, like, hint)


def _no_shape(text: str, body: str) -> SectionError:
    parts = _CROSS.split(body)
    words = re.findall(r"[a-z]{3,}", body)
    if words:
        from difflib import get_close_matches

        for word in words:
            near = get_close_matches(word, list(_WORDS), n=1, cutoff=0.6)
            hint = body.replace(word, _WORDS[near[0]]) if near else ""
            if hint and _reads(hint):
                return SectionError(text, f'has "{plain(word)}", which is no bar', LIKE, hint)
    hint = {1: f"{body} square", 2: f"{body} flat", 3: f"{body} angle"}.get(len(parts), "")
    known = "square, round, flat, hexagon, octagon, sheet, angle or tube"
    problem = f"does not say which bar it is ({known})"
    return SectionError(text, problem, LIKE, hint if hint and _reads(hint) else "")


def _reads(text: str) -> bool:
    try:
        parse_section(text)
    except SectionError:
        return False
    return True


def _no_width(section: Section) -> SectionError:
    found = write_section(section) if section.kind in SHAPES else section.kind
    return SectionError(found, "has no width", 'it as a flat, like "200 x 3 mm flat"')
