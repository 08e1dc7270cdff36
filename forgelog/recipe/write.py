"""Writes a recipe as TOML that reads like a process sheet.

A file that a smith wrote is never written over; this is for new files, shared or drafted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import msgspec

from forgelog.recipe.written import WrittenRecipe

_LINE = 100
"""A list of tables that is longer goes over several lines."""

_TABLES = ("sizes", "component", "step", "bought", "shared", "evidence")
"""Keys that get headings of their own; other tables stand on one line, in braces."""


def write_recipe(recipe: WrittenRecipe) -> str:
    """The recipe as TOML text; `read_recipe` reads the same recipe back.

    Args:
        recipe: As the smith, or the program, wrote it.
    """
    table: dict[str, Any] = msgspec.to_builtins(recipe)
    return "\n".join(_recipe(table)) + "\n"


def _recipe(table: Mapping[str, Any]) -> Iterator[str]:
    yield from _keys(table, "")
    for name, size in table.get("sizes", {}).items():
        yield ""
        yield f"[sizes.{_key(name)}]"
        yield from _keys(size, "")
    for component in table.get("component", []):
        yield ""
        yield "[[component]]"
        yield from _keys(component, "")
        for step in component.get("step", []):
            yield ""
            yield "  [[component.step]]"
            yield from _keys(step, "  ")
    for bought in table.get("bought", []):
        yield ""
        yield "[[bought]]"
        yield from _keys(bought, "")
    if "shared" in table:
        yield ""
        yield "[shared]"
        yield from _keys(table["shared"], "")
    if "evidence" in table:
        yield from _evidence(table["evidence"])


def _evidence(evidence: Mapping[str, Any]) -> Iterator[str]:
    if not evidence:
        yield ""
        yield "[evidence]"
    for name, rows in evidence.items():
        for row in rows:
            yield ""
            yield f"[[evidence.{_key(name)}]]"
            yield from _keys(row, "", headed=())


def _keys(
    table: Mapping[str, Any], indent: str, headed: tuple[str, ...] = _TABLES
) -> Iterator[str]:
    for key, value in table.items():
        if key not in headed:
            yield f"{indent}{_key(key)} = {_value(value, indent)}"


def _value(value: Any, indent: str = "") -> str:
    if isinstance(value, dict):
        inside = ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list):
        parts = [_value(one) for one in value]
        row = f"[{', '.join(parts)}]"
        if len(row) <= _LINE or not any(isinstance(one, dict) for one in value):
            return row
        rows = "".join(f"{indent}  {part},\n" for part in parts)
        return f"[\n{rows}{indent}]"
    return _plain(value)


def _plain(value: Any) -> str:
    """A text, number or truth, as the TOML writer spells it."""
    from tomli_w import dumps

    several_lines = isinstance(value, str) and "\n" in value
    written = dumps({"k": value}, multiline_strings=several_lines)
    return written.removeprefix("k = ").removesuffix("\n")


def _key(key: str) -> str:
    from tomli_w import dumps

    return dumps({key: 0}).removesuffix(" = 0\n")
