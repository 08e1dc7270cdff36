"""The finished form of a component: its keys as numbers, and its volume."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache

import msgspec

from forgelog.recipe.expressions import worked_out
from forgelog.recipe.problems import Fault
from forgelog.recipe.written import WrittenSolid
from forgelog.trade.errors import SumError
from forgelog.trade.sections import Section, SectionError, parse_section
from forgelog.trade.solids import SOLIDS, Dim, solid_volume_mm3
from forgelog.units import ReadError

LENGTHS = ("across", "wide", "thick", "long", "inside", "outside", "centre_line")
SECTIONS = ("section", "start", "end")


class NoVolume(msgspec.Struct, frozen=True, kw_only=True):
    """A form that can be read but cannot be made."""

    number: int
    """Which of the forms, from 0."""
    fault: Fault


@lru_cache(maxsize=256)
def section_of(text: str | None) -> Section | None:
    """A section, or None where it is not given or has been reported."""
    if not text:
        return None
    try:
        return parse_section(text)
    except SectionError:
        return None


def solid_keys(solid: WrittenSolid) -> dict[str, str]:
    """The keys that a form has, with their texts."""
    names = (*LENGTHS, *SECTIONS, "thread")
    return {name: text for name in names if (text := getattr(solid, name)) is not None}


def solid_dims(solid: WrittenSolid, sizes_mm: Mapping[str, float]) -> dict[str, Dim] | None:
    """The keys of a form as lengths in mm, sections and names; None where one cannot be read."""
    dims: dict[str, Dim] = {}
    for key, text in solid_keys(solid).items():
        if key in LENGTHS:
            mm = worked_out(text, sizes_mm)
            if isinstance(mm, Fault) or math.isnan(mm):
                return None
            dims[key] = mm
        elif key in SECTIONS:
            section = section_of(text)
            if section is None:
                return None
            dims[key] = section
        else:
            dims[key] = text
    return dims


def solid_mm3(solid: WrittenSolid, sizes_mm: Mapping[str, float]) -> float | Fault | None:
    """Volume of one form, all of its `times`, mm3; below 0 of a hole.

    Returns:
        None where a key cannot be read, which the rules of texts and keys report; a fault where
        all can be read but no such form can be made.
    """
    dims = solid_dims(solid, sizes_mm)
    if dims is None or solid.solid not in SOLIDS:
        return None
    kind = SOLIDS[solid.solid]
    if any(key not in dims for key in kind.needs):
        return None
    if kind.one_of and sum(key in dims for key in kind.one_of) != 1:
        return None
    takes = {key: dim for key, dim in dims.items() if key in kind.needs or key in kind.one_of}
    try:
        return solid_volume_mm3(solid.solid, takes) * solid.times
    except SectionError as error:
        return Fault(found=f"has {error.found}, which {error.problem}", expected=error.expected)
    except ReadError:
        return None
    except SumError as error:
        return Fault(found=f"cannot be made: {error}")


def form_volume_mm3(
    form: Sequence[WrittenSolid], sizes_mm: Mapping[str, float]
) -> float | NoVolume | None:
    """Volume of the whole form, mm3, or None where a part of it cannot be read."""
    total = 0.0
    for number, solid in enumerate(form):
        volume = solid_mm3(solid, sizes_mm)
        if isinstance(volume, Fault):
            return NoVolume(number=number, fault=volume)
        if volume is None:
            return None
        total += volume
    return total
