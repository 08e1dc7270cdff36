"""The keys of each table of a written file, with what they hold, read off its class.

`msgspec.inspect.type_info` says the same of a class, but validates it first and reads every hint
several times over. A test keeps both answers the same.
"""

from __future__ import annotations

import sys
from functools import cache
from types import UnionType
from typing import Any, Literal, Union

import msgspec
from msgspec import inspect

_LIMITS = ("ge", "gt", "le", "lt", "multiple_of", "pattern", "min_length", "max_length")
_WORDS = ("title", "description", "examples")
_PLAIN: dict[type, type[inspect.Type]] = {
    str: inspect.StrType,
    int: inspect.IntType,
    float: inspect.FloatType,
    bool: inspect.BoolType,
    type(None): inspect.NoneType,
}


@cache
def fields_of(cls: type[msgspec.Struct]) -> tuple[inspect.Field, ...]:
    """The keys of a table, with their types. The fields of a table inside it are not among them.

    Args:
        cls: A record of plain values, choices, lists, tables and other such records.
    """
    hints = _hints(cls)
    defaults: tuple[Any, ...] = cls.__struct_defaults__
    needed = len(cls.__struct_fields__) - len(defaults)
    rows = zip(
        cls.__struct_fields__,
        cls.__struct_encode_fields__,
        (*(msgspec.NODEFAULT,) * needed, *defaults),
        strict=True,
    )
    return tuple(_field(name, key, _kind(hints[name]), default) for name, key, default in rows)


def _field(name: str, key: str, kind: inspect.Type, default: Any) -> inspect.Field:
    factory = msgspec.NODEFAULT
    if hasattr(default, "factory"):
        factory, default = default.factory, factory
    return inspect.Field(
        name=name,
        encode_name=key,
        type=kind,
        required=default is factory,
        default=default,
        default_factory=factory,
    )


def _hints(cls: type) -> dict[str, Any]:
    hints: dict[str, Any] = {}
    for one in reversed(cls.__mro__):
        names = vars(sys.modules[one.__module__])
        for name, hint in getattr(one, "__annotations__", {}).items():
            hints[name] = eval(hint, names) if isinstance(hint, str) else hint
    return hints


def _kind(hint: Any) -> inspect.Type:
    notes = getattr(hint, "__metadata__", ())
    if not notes:
        return _bare(hint, {})
    limits = _told(notes, _LIMITS)
    about = _told(notes, _WORDS)
    bare = _bare(hint.__origin__, limits)
    return inspect.Metadata(bare, extra_json_schema=about) if about else bare


def _told(notes: tuple[Any, ...], names: tuple[str, ...]) -> dict[str, Any]:
    return {
        name: value
        for note in notes
        for name in names
        if (value := getattr(note, name)) is not None
    }


def _bare(hint: Any, limits: dict[str, Any]) -> inspect.Type:
    if isinstance(hint, type) and (plain := _PLAIN.get(hint)) is not None:
        return plain(**limits)
    origin = getattr(hint, "__origin__", None)
    args: tuple[Any, ...] = getattr(hint, "__args__", ())
    if origin is list:
        return inspect.ListType(_kind(args[0]), **limits)
    if origin is dict:
        return inspect.DictType(_kind(args[0]), _kind(args[1]), **limits)
    if origin is Literal:
        return inspect.LiteralType(tuple(sorted(args)))
    if origin is Union or isinstance(hint, UnionType):
        return inspect.UnionType(tuple(map(_kind, args)))
    return inspect.StructType(hint, ())
