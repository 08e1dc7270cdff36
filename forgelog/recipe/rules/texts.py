"""Rules of single texts: every dimension, section, heat, time and sum in prose can be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forgelog.recipe.expressions import unit_fault, worked_out
from forgelog.recipe.heats import heat, heat_range, mass_of, seconds_of
from forgelog.recipe.problems import Fault, Path
from forgelog.recipe.prose import resolve_prose
from forgelog.recipe.rules.found import Found, section_of
from forgelog.recipe.walk import texts
from forgelog.recipe.written import WrittenRecipe

_MAY_BE_NOTHING = ("plus", "minus", "grip", "trim")
"""Keys of which "0 mm" is a fair answer."""


def every_text_can_be_read(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Each text is what its key wants."""
    for path, title, text in texts(recipe):
        if path[0] == "sizes" and title == "length":
            continue
        if (fault := _fault_of(path, title, text, sizes_mm)) is not None:
            yield Found(path=path, fault=fault)


def _fault_of(path: Path, title: str, text: str, sizes_mm: Mapping[str, float]) -> Fault | None:
    value: object = None
    match title:
        case "length":
            value = worked_out(text, sizes_mm, zero=path[-1] in _MAY_BE_NOTHING)
        case "temperature":
            value = heat(text)
        case "time":
            value = seconds_of(text)
        case "mass":
            value = mass_of(text)
        case "range of heat":
            value = heat_range(text)
        case "words":
            value = resolve_prose(text, sizes_mm)
        case "section":
            return None if section_of(text) else _no_section(text)
    return value if isinstance(value, Fault) else None


def _no_section(text: str) -> Fault | None:
    from forgelog.trade.sections import SectionError, parse_section

    try:
        parse_section(text)
    except SectionError as error:
        return unit_fault(error)
    return None


RULES = (every_text_can_be_read,)
