"""The simple forms that a finished piece is made up of, and their volumes.

Corners are taken as sharp. A form is what is left when the work is done, so that its volume,
with scale and trim, gives the length of bar (`forgelog.trade.stock`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import msgspec

from forgelog.trade.errors import SumError, positive
from forgelog.trade.sections import Section, area_mm2

Dim = float | Section | str
"""A length in mm, a section, or the name of a thread."""

LEAF_FACTOR = 2 / 3
"""Area of a leaf over length times width: the space between two parabolas. Common practice."""


class Solid(msgspec.Struct, frozen=True, kw_only=True):
    """One simple form: what it is and what must be said of it."""

    says: str
    """One line of help."""
    needs: dict[str, str]
    """Keys that it must have, each with a line of help."""
    one_of: dict[str, str] = {}
    """Keys of which it must have exactly one."""
    takes_away: bool = False
    """True where the material is taken away, so that the volume counts against the form."""


_LONG = "its length"
_RING = {
    "inside": "diameter of the hole",
    "outside": "diameter over all",
    "centre_line": "diameter of the middle of the bar",
}


def _across(says: str, help_line: str) -> Solid:
    return Solid(says=says, needs={"across": help_line, "long": _LONG})


SOLIDS: dict[str, Solid] = {
    "square": _across("a length of square", "side"),
    "round": _across("a length of round, or a disc", "diameter"),
    "octagon": _across("a length of octagon", "across the flats"),
    "hexagon": _across("a length of hexagon", "across the flats"),
    "flat": Solid(
        says="a length of flat, or a block",
        needs={"wide": "width", "thick": "thickness", "long": _LONG},
    ),
    "bar": Solid(says="a length of any bar", needs={"section": "the bar", "long": _LONG}),
    "taper": Solid(
        says="a length that goes evenly from one section to another",
        needs={"start": "section at its beginning", "end": "section at its end", "long": _LONG},
    ),
    "point": Solid(
        says="a taper that ends in a point",
        needs={"section": "section at its beginning", "long": _LONG},
    ),
    "rod for thread": Solid(
        says="a rod of the size that the die wants, before the thread is cut",
        needs={"thread": 'the thread, like "M12"', "long": _LONG},
    ),
    "ring": Solid(says="a closed ring", needs={"section": "the bar"}, one_of=_RING),
    "eye": Solid(says="an eye rolled full circle", needs={"section": "the bar"}, one_of=_RING),
    "leaf": Solid(
        says="a leaf, pointed at both ends",
        needs={"long": _LONG, "wide": "width at its widest", "thick": "thickness"},
    ),
    "ball": Solid(says="a ball", needs={"across": "diameter"}),
    "cone": _across("a round point", "diameter at its base"),
    "hole": Solid(
        says="a hole, the material of which is cut away; a drifted hole takes only its slug",
        needs={"long": "depth"},
        one_of={"across": "diameter of a round hole", "section": "a hole of another section"},
        takes_away=True,
    ),
}
"""Every form by the name that a recipe calls it, with its keys."""


def solid_volume_mm3(kind: str, dims: Mapping[str, Dim]) -> float:
    """Volume of one form, mm3; below 0 of a hole, which takes material away.

    Args:
        kind: A name out of `SOLIDS`.
        dims: Its keys: lengths in mm, sections, or a thread's name.

    Raises:
        SumError: no such form, a key missing or too many, or a size that cannot be.
        SectionError: a section without an area.
        ThreadError: no such thread.

    Source:
        Mensuration. A taper by the prismoidal rule h/6 (A1 + 4 Am + A2), which is exact where
        both ends have the same shape; between two shapes Am is the mean of both shapes at the
        mean size, which is our own choice.
    """
    solid = SOLIDS.get(kind)
    if solid is None:
        raise SumError(f'there is no form "{kind}"; there are {", ".join(SOLIDS)}')
    check_keys(kind, dims)
    volume = _VOLUMES[kind](_Dims(kind, dims))
    return -volume if solid.takes_away else volume


def check_keys(kind: str, keys: Mapping[str, object]) -> None:
    """See that a form of a known kind has the keys that it needs, and no others.

    Raises:
        SumError: names the key and what the form takes.
    """
    solid = SOLIDS[kind]
    name = f"{'an' if kind[0] in 'aeo' else 'a'} {kind}"
    for key, help_line in solid.needs.items():
        if key not in keys:
            raise SumError(f'{name} needs "{key}": {help_line}')
    for key in keys:
        if key not in solid.needs and key not in solid.one_of:
            takes = ", ".join([*solid.needs, *solid.one_of])
            raise SumError(f'{name} has no "{key}"; it takes {takes}')
    given = [key for key in solid.one_of if key in keys]
    if solid.one_of and len(given) != 1:
        choice = ", ".join(solid.one_of)
        found = " and ".join(given) if given else "none of them"
        raise SumError(f"{name} takes exactly one of {choice}; it has {found}")


class _Dims:
    """The keys of one form, each asked for by the type that it should have."""

    def __init__(self, kind: str, dims: Mapping[str, Dim]) -> None:
        self.kind = kind
        self.dims = dims

    def mm(self, key: str) -> float:
        value = self.dims[key]
        if isinstance(value, (Section, str)):
            raise SumError(f'"{key}" of a {self.kind} is a length')
        return positive(key, value, "mm")

    def mm_or_none(self, key: str) -> float | None:
        return self.mm(key) if key in self.dims else None

    def section(self, key: str) -> Section:
        value = self.dims[key]
        if not isinstance(value, Section):
            raise SumError(f'"{key}" of a {self.kind} is a section, like "12 mm square"')
        return value

    def name(self, key: str) -> str:
        value = self.dims[key]
        if not isinstance(value, str):
            raise SumError(f'"{key}" of a {self.kind} is a name, like "M12"')
        return value


def _prism(kind: str) -> Callable[[_Dims], float]:
    return lambda d: area_mm2(Section(kind=kind, a_mm=d.mm("across"))) * d.mm("long")


def _box(section: Section) -> tuple[float, float, float]:
    """Width, thickness and fullness, so that area = width x thickness x fullness."""
    wide = section.a_mm
    thick = section.b_mm if section.kind == "flat" else wide
    if section.kind in ("sheet", "angle", "tube"):
        raise SumError(f"a taper of {section.kind} has no simple volume")
    return wide, thick, area_mm2(section) / (wide * thick)


def _taper(d: _Dims) -> float:
    wide_1, thick_1, full_1 = _box(d.section("start"))
    wide_2, thick_2, full_2 = _box(d.section("end"))
    middle = (wide_1 + wide_2) / 2 * (thick_1 + thick_2) / 2 * (full_1 + full_2) / 2
    ends = wide_1 * thick_1 * full_1 + wide_2 * thick_2 * full_2
    return d.mm("long") / 6 * (ends + 4 * middle)


def _ring(d: _Dims) -> float:
    from forgelog.trade.bends import ring_length_mm

    section = d.section("section")
    length = ring_length_mm(
        section,
        inside_mm=d.mm_or_none("inside"),
        outside_mm=d.mm_or_none("outside"),
        centre_line_mm=d.mm_or_none("centre_line"),
    )
    return area_mm2(section) * length


def _hole(d: _Dims) -> float:
    if "across" in d.dims:
        return math.pi / 4 * d.mm("across") ** 2 * d.mm("long")
    return area_mm2(d.section("section")) * d.mm("long")


def _rod(d: _Dims) -> float:
    from forgelog.trade.threads import thread

    return math.pi / 4 * thread(d.name("thread")).rod_before_die_mm ** 2 * d.mm("long")


_VOLUMES: dict[str, Callable[[_Dims], float]] = {
    "square": _prism("square"),
    "round": _prism("round"),
    "octagon": _prism("octagon"),
    "hexagon": _prism("hexagon"),
    "flat": lambda d: d.mm("wide") * d.mm("thick") * d.mm("long"),
    "bar": lambda d: area_mm2(d.section("section")) * d.mm("long"),
    "taper": _taper,
    "point": lambda d: area_mm2(d.section("section")) * d.mm("long") / 3,
    "rod for thread": _rod,
    "ring": _ring,
    "eye": _ring,
    "leaf": lambda d: LEAF_FACTOR * d.mm("long") * d.mm("wide") * d.mm("thick"),
    "ball": lambda d: math.pi / 6 * d.mm("across") ** 3,
    "cone": lambda d: math.pi / 12 * d.mm("across") ** 2 * d.mm("long"),
    "hole": _hole,
}
