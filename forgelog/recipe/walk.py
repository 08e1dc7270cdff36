"""Every text of a written recipe that has a meaning, with its path and what it is meant to be."""

from __future__ import annotations

from functools import cache
from typing import Any

from forgelog.recipe.keys_made import KEYS, Holds
from forgelog.recipe.problems import Path
from forgelog.recipe.written import WrittenRecipe

Text = tuple[Path, str, str]
"""The path of a text, what it is meant to be, and the text."""

MEANINGS = frozenset({"length", "temperature", "time", "mass", "range of heat", "section", "words"})
"""What a text can be meant to be; names and ids are not looked into."""

_last: list[tuple[WrittenRecipe, tuple[Text, ...]]] = []
"""The texts of the recipe that was asked for last: several rules ask, one after the other."""


def texts(recipe: WrittenRecipe) -> tuple[Text, ...]:
    """The texts of a recipe that are not empty, in the order of the format."""
    for known, found in _last:
        if known is recipe:
            return found
    gathered: list[Text] = []
    _gather(recipe, (), gathered)
    found = tuple(gathered)
    _last[:] = [(recipe, found)]
    return found


@cache
def _keys(table: str) -> tuple[tuple[str, str, str, str], ...]:
    """Of each key that may lead to a text: its field, itself, its sort, and the text's meaning."""
    rows = []
    for key, (field, holds) in KEYS[table][1].items():
        meaning = _meaning(holds)
        if meaning or "table" in _sorts(holds):
            rows.append((field, key, holds[0], meaning))
    return tuple(rows)


def _meaning(holds: Holds) -> str:
    if holds[0] == "text":
        return holds[1] if holds[1] in MEANINGS else ""
    return next((found for part in _parts(holds) if (found := _meaning(part))), "")


def _sorts(holds: Holds) -> set[str]:
    return {holds[0]}.union(*map(_sorts, _parts(holds)))


def _parts(holds: Holds) -> list[Holds]:
    return [part for part in holds[1:] if isinstance(part, tuple) and holds[0] != "choice"]


def _gather(table: Any, path: Path, found: list[Text]) -> None:
    for field, key, sort, meaning in _keys(type(table).__name__):
        value = getattr(table, field)
        if not value:
            continue
        if sort == "text":
            found.append(((*path, key), meaning, value))
        elif sort == "table":
            _gather(value, (*path, key), found)
        else:
            under = (*path, key)
            for name, item in value.items() if isinstance(value, dict) else enumerate(value):
                if not isinstance(item, str):
                    _gather(item, (*under, name), found)
                elif item and meaning:
                    found.append(((*under, name), meaning, item))
