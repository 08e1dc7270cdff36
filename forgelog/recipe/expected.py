"""What a key of a recipe holds and what it should hold, in a smith's and TOML's words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any

import msgspec
from msgspec import inspect

from forgelog.recipe.fields import fields_of
from forgelog.recipe.plain import listed, quoted


def shown(value: Any) -> str:
    """A value of the file inside a message, in TOML's words."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return quoted(value)
        case int():
            return str(value) if abs(value) < 10**15 else "a very long number"
        case float():
            return repr(value)
        case list():
            return "a list" if value else "an empty list"
        case dict():
            return "a table" if value else "an empty table"
        case datetime() | date():
            return f"the date {value.isoformat()}"
        case time():
            return f"the time of day {value.isoformat()}"
    return "something else"


def bare_type(kind: inspect.Type) -> tuple[inspect.Type, Mapping[str, Any]]:
    """The type without its wrapping, and what its wrapping says of it."""
    about: Mapping[str, Any] = {}
    if isinstance(kind, inspect.Metadata):
        about = kind.extra_json_schema or {}
        kind = kind.type
    return kind, about


def wanted(kind: inspect.Type) -> str:
    """What to write, in a smith's words: 'a whole number from 1 to 40'."""
    bare, about = bare_type(kind)
    match bare:
        case inspect.UnionType():
            choices = [c for c in bare.types if not isinstance(bare_type(c)[0], inspect.NoneType)]
            return listed(wanted(c) for c in choices)
        case inspect.StructType():
            return f"a table, {_table_words(bare.cls)}"
        case inspect.ListType():
            return f"a list, like {_list_words(bare, about)}"
        case inspect.DictType():
            if isinstance(bare_type(bare.value_type)[0], inspect.StructType):
                return "a table of tables"
            return f"a table, like {{ name = {example_of(bare.value_type)} }}"
        case inspect.LiteralType():
            return f"{listed(str(v) for v in bare.values)}, in quotes"
        case inspect.BoolType():
            return "true or false"
        case inspect.IntType():
            return f"a whole number{_range(bare)}"
        case inspect.FloatType():
            return f"a number{_range(bare)}"
    return named(about)


def _range(kind: inspect.IntType | inspect.FloatType) -> str:
    if kind.ge is None:
        return ""
    if kind.ge == kind.le:
        return f": {kind.ge:g}"
    return f" from {kind.ge:g} to {kind.le:g}"


def named(about: Mapping[str, Any]) -> str:
    """What to write for a text, from what the format says of it: 'an id in quotes'."""
    title = about.get("title", "text")
    name = {
        "length": "a length with its unit, in quotes",
        "temperature": "a temperature with its unit, in quotes",
        "time": "a time with its unit, in quotes",
        "mass": "a mass with its unit, in quotes",
        "range of heat": "the range of heat in quotes",
        "section": "the bar in quotes",
        "money": "an amount of money in quotes",
        "share": "a share in quotes",
        "energy": "kilowatt-hours in quotes",
        "id": "an id in quotes",
    }.get(title, "words in quotes" if title == "words" else "a few words in quotes")
    examples = about.get("examples", ())
    return f'{name}, like "{examples[0]}"' if examples else name


def example_of(kind: inspect.Type) -> str:
    """An example of a value as it is written: "12 mm" in its quotes, 1 without."""
    bare, about = bare_type(kind)
    if isinstance(bare, inspect.IntType):
        return str(bare.ge or 1)
    examples = about.get("examples")
    return f'"{examples[0]}"' if examples else '"..."'


def _table_words(cls: type[msgspec.Struct]) -> str:
    names = [field.encode_name for field in fields_of(cls)]
    by_name = {field.encode_name: field for field in fields_of(cls)}
    needed = [name for name in names if by_name[name].required] or names[:1]
    pairs = ", ".join(f"{name} = {_innerexample_of(by_name[name].type)}" for name in needed)
    return f"like {{ {pairs} }}"


def _innerexample_of(kind: inspect.Type) -> str:
    bare, _ = bare_type(kind)
    if isinstance(bare, inspect.UnionType):
        return _innerexample_of(bare.types[0])
    return example_of(kind)


def _list_words(kind: inspect.ListType, about: Mapping[str, Any]) -> str:
    examples = about.get("examples")
    if examples:
        return "[" + ", ".join(f'"{word}"' for word in examples[0]) + "]"
    item, inner = bare_type(kind.item_type)
    if isinstance(item, inspect.UnionType):
        item, inner = bare_type(item.types[0])
    if isinstance(item, inspect.StructType):
        return f"[{_table_words(item.cls).removeprefix('like ')}]"
    if isinstance(item, inspect.LiteralType):
        return f'["{item.values[0]}"]'
    return f'["{inner.get("examples", ["..."])[0]}"]'
