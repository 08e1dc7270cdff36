"""Words of a recipe: sums in braces worked out, and nothing in them that can harm a screen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import lru_cache

from forgelog.recipe.expressions import temperature_of, worked_out
from forgelog.recipe.plain import harmless as harmless
from forgelog.recipe.problems import Fault
from forgelog.units import (
    UnitError,
    UnitSystem,
    parse_quantity,
    show_length,
    show_temperature,
    write_length,
)


def resolve_prose(text: str, sizes_mm: Mapping[str, float]) -> str | Fault:
    """Work out what stands in braces: "{post + 14 mm}" becomes "{114 mm}" where post is 100 mm.

    Args:
        text: Prose of the recipe; "{{" and "}}" are plain braces.
        sizes_mm: The sizes by name.
    """
    if "{" not in text and "}" not in text:
        return text
    done: list[str] = []
    for inside, part in braces(text):
        if isinstance(part, Fault):
            return part
        if not inside:
            done.append(part.replace("{", "{{").replace("}", "}}"))
            continue
        degc = temperature_of(part)
        if degc is not None:
            done.append(f"{{{_number(degc)} degC}}")
            continue
        value = worked_out(part, sizes_mm, signed=True)
        if isinstance(value, Fault):
            return value
        if math.isnan(value):
            value = 0.0  # of a size that cannot be read; the recipe is refused for that
        done.append(f"{{{'-' if value < 0 else ''}{write_length(abs(value))}}}")
    return "".join(done)


def render(text: str, units: UnitSystem | str = UnitSystem.MM, *, lines: bool = False) -> str:
    """Show resolved prose in the shop's units, harmless. Takes any text; never raises.

    Args:
        text: As `resolve_prose` made it: "mark {15 mm} from the end".
        units: "mm" or "inch".
        lines: True keeps line feeds.
    """
    done: list[str] = []
    for inside, part in braces(text):
        if isinstance(part, Fault):
            return harmless(text, lines=lines)
        done.append(_in_units(part, units) if inside else part)
    return harmless("".join(done), lines=lines)


@lru_cache(maxsize=512)
def braces(text: str) -> tuple[tuple[bool, str | Fault], ...]:
    """Take prose apart: (False, words) and (True, what stood in braces), or what is wrong."""
    if "{" not in text and "}" not in text:
        return ((False, text),) if text else ()
    return tuple(_parts(text))


def _parts(text: str) -> Iterator[tuple[bool, str | Fault]]:
    place = 0
    words: list[str] = []
    while place < len(text):
        sign = text[place]
        if sign not in "{}":
            end = min(
                (i for i in (text.find("{", place), text.find("}", place)) if i >= 0),
                default=len(text),
            )
            words.append(text[place:end])
            place = end
        elif text.startswith(sign * 2, place):
            words.append(sign)
            place += 2
        else:
            end = text.find("}", place)
            if sign == "}" or end < 0 or "{" in text[place + 1 : end]:
                yield False, _unbalanced(sign)
                return
            if words:
                yield False, "".join(words)
                words = []
            yield True, text[place + 1 : end]
            place = end + 1
    if words:
        yield False, "".join(words)


def _unbalanced(sign: str) -> Fault:
    other = "}" if sign == "{" else "{"
    return Fault(
        found=f'has a "{sign}" without its "{other}"',
        expected='write a sum in braces, like "{post + 14 mm}"',
        hint=f'a plain brace is written twice: "{sign}{sign}"',
    )


def _in_units(part: str, units: UnitSystem | str) -> str:
    sign, body = ("-", part[1:]) if part.startswith("-") else ("", part)
    try:
        quantity = parse_quantity(body)
    except UnitError:
        return f"{{{part}}}"
    if quantity.kind == "length":
        return sign + show_length(quantity.value, units, fine=True)
    if quantity.kind == "temperature":
        return show_temperature(-quantity.value if sign else quantity.value, units)
    return part


def _number(value: float) -> str:
    return f"{round(value, 3):g}"
