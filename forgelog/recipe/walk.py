"""Every text of a written recipe with its path and what it is meant to be."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import msgspec
from msgspec import inspect

from forgelog.recipe.problems import Path


@cache
def fields_of(cls: type[msgspec.Struct]) -> tuple[inspect.Field, ...]:
    """The keys of a table of the recipe, with their types."""
    kind = inspect.type_info(cls)
    assert isinstance(kind, inspect.StructType)
    return kind.fields


def title_of(kind: inspect.Type) -> str:
    """What a text is meant to be: length, temperature, time, section, words and so on, or ""."""
    match kind:
        case inspect.Metadata():
            title = (kind.extra_json_schema or {}).get("title", "")
            return str(title) or title_of(kind.type)
        case inspect.UnionType():
            return next((t for t in map(title_of, kind.types) if t), "")
        case inspect.ListType():
            return title_of(kind.item_type)
    return ""


@cache
def _titles(cls: type[msgspec.Struct]) -> tuple[tuple[str, str, str], ...]:
    return tuple((f.name, f.encode_name, title_of(f.type)) for f in fields_of(cls))


def texts(table: msgspec.Struct, path: Path = ()) -> Iterator[tuple[Path, str, str]]:
    """Give (path, what it is meant to be, the text) for every text that is not empty."""
    for name, key, title in _titles(type(table)):
        value = getattr(table, name)
        if isinstance(value, str):
            if value:
                yield (*path, key), title, value
        elif value and not isinstance(value, int | float):
            yield from _texts(value, (*path, key), title)


def _texts(value: Any, path: Path, title: str) -> Iterator[tuple[Path, str, str]]:
    if isinstance(value, msgspec.Struct):
        yield from texts(value, path)
        return
    for key, item in value.items() if isinstance(value, dict) else enumerate(value):
        if not isinstance(item, str):
            yield from texts(item, (*path, key))
        elif item:
            yield (*path, key), title, item
