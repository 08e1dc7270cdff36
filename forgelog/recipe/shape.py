"""From TOML tables to the typed recipe: every unknown key and wrong type at once.

What is wrong is reported and left out, with an empty text in the place of a lost one, so that
the rules can still look at the rest and one error never hides another. An empty required text
has therefore been reported already.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any, TypeVar

import msgspec
from msgspec import inspect

from forgelog.recipe.expected import bare_type, example_of, named, shown, wanted
from forgelog.recipe.fields import fields_of
from forgelog.recipe.plain import code_point, did_you_mean, hidden_signs, listed, nearest, quoted
from forgelog.recipe.problems import Fault, Path
from forgelog.recipe.written import (
    WrittenBought,
    WrittenComponent,
    WrittenHeats,
    WrittenRecipe,
    WrittenStep,
    WrittenStock,
    WrittenTarget,
)

Report = Callable[[Path, Fault], None]
"""Takes what is wrong with the thing at a path; the clause follows the name of its key."""

T = TypeVar("T", bound=msgspec.Struct)

_NOTHING: Any = object()
"""Stands for a value that was wrong and has been reported."""


_HEADINGS = {
    "component": "[[component]]",
    "step": "[[component.step]]",
    "bought": "[[bought]]",
    "sizes": "[sizes.post]",
}
"""Tables of a recipe that are not written on one line."""

_MOST_UNKNOWN = 25
"""So many unknown keys of one table are named one by one."""


def shaped(table: Mapping[str, Any], report: Report) -> WrittenRecipe:
    """Make the typed recipe from what the TOML reader gave.

    Args:
        table: The file as tables, lists and plain values.
        report: Is told of everything that is wrong, with its path.

    Returns:
        The recipe; worth using only if nothing was reported.
    """
    return shaped_as(WrittenRecipe, table, report)


def shaped_as(cls: type[T], table: Mapping[str, Any], report: Report) -> T:
    """The same for another kind of file, of which `cls` is the written form.

    Args:
        cls: A record whose fields are described as those of a recipe are.
        table: The file as tables, lists and plain values.
        report: Is told of everything that is wrong, with its path.
    """
    made = _struct(cls, table, (), report)
    assert isinstance(made, cls)
    return made


_SPELLINGS = {
    "checksum": "the 16 letters and digits that forgelog wrote, or leave [shared] out",
    "date": 'a day as "2026-05-01"',
    "id": "small letters, digits and dashes, a letter first, at most 40 in all",
    "name of a size": "small letters, digits and underscores, a letter first, at most 30 in all",
}
"""What the pattern of an id means."""

_HOMES = (
    (WrittenRecipe, "at the top of the file, before the first heading"),
    (WrittenComponent, "under [[component]], before its first step"),
    (WrittenStep, "under [[component.step]]"),
    (WrittenBought, "under [[bought]]"),
    (WrittenHeats, "in heats = { ... }"),
    (WrittenStock, "in stock = { ... }"),
    (WrittenTarget, "in to = { ... }"),
)


@cache
def _homes() -> Mapping[str, tuple[str, ...]]:
    """Where each key belongs, in words, so that a key in the wrong table can be sent home."""
    homes: dict[str, tuple[str, ...]] = {}
    for cls, words in _HOMES:
        for field in fields_of(cls):
            homes[field.encode_name] = (*homes.get(field.encode_name, ()), words)
    return homes


def _struct(
    cls: type[msgspec.Struct], value: Mapping[str, Any], path: Path, report: Report
) -> msgspec.Struct:
    fields = {field.encode_name: field for field in fields_of(cls)}
    unknown = [key for key in value if key not in fields]
    for key in unknown[:_MOST_UNKNOWN]:
        report((*path, key), _unknown_key(key, fields, cls))
    if len(unknown) > _MOST_UNKNOWN:
        more = len(unknown) - _MOST_UNKNOWN
        report(path, Fault(found=f"has {more} more keys that are not known here"))
    given: dict[str, Any] = {}
    for name, field in fields.items():
        if name in value:
            made = _value(field.type, value[name], (*path, name), report)
            if made is not _NOTHING:
                given[field.name] = made
                continue
        elif field.required:
            report(path, _missing(name, field.type))
        if field.required:
            given[field.name] = _blank(field.type)
    return cls(**given)


def _unknown_key(key: str, fields: Iterable[str], cls: type[msgspec.Struct]) -> Fault:
    homes = _homes() if cls.__module__ == WrittenRecipe.__module__ else {}
    home = homes.get(key, ())
    near = nearest(key, fields)
    if near:
        hint = f'did you mean "{near}"?'
    elif home:
        hint = f"it belongs {listed(home)}"
    else:
        near = nearest(key, homes, likeness=0.75)
        hint = f'did you mean "{near}"? It belongs {listed(homes[near])}' if near else ""
    return Fault(
        found="is no key that is known here",
        expected=f"the keys here are {listed(fields, 'and')}" if not hint else "",
        hint=hint,
    )


def _missing(name: str, kind: inspect.Type) -> Fault:
    return Fault(found=f"has no {name}", expected=f"add {name} = {example_of(kind)}")


def _value(kind: inspect.Type, value: Any, path: Path, report: Report) -> Any:
    """The value as the type wants it, or `_NOTHING` when it has been reported."""
    bare, about = bare_type(kind)
    match bare:
        case inspect.UnionType():
            return _union(bare, value, path, report)
        case inspect.StructType():
            if isinstance(value, dict):
                return _struct(bare.cls, value, path, report)
        case inspect.ListType():
            if isinstance(value, list):
                return _list(bare, value, path, report)
        case inspect.DictType():
            if isinstance(value, dict):
                return _dict(bare, value, path, report)
        case inspect.LiteralType():
            return _literal(bare, value, path, report)
        case inspect.StrType():
            if isinstance(value, str):
                return _text(bare, about, value, path, report)
        case inspect.BoolType():
            if isinstance(value, bool):
                return value
        case inspect.IntType():
            if isinstance(value, int) and not isinstance(value, bool):
                return _number(bare, value, path, report)
        case inspect.FloatType():
            if isinstance(value, int | float) and not isinstance(value, bool):
                made = _number(bare, value, path, report)
                return made if made is _NOTHING else float(made)
    heading = _HEADINGS.get(str(path[-1]))
    expected = f"give it a heading, like {heading}" if heading else f"write {wanted(kind)}"
    report(path, Fault(found=f"is {shown(value)}", expected=expected))
    return _NOTHING


def _union(kind: inspect.UnionType, value: Any, path: Path, report: Report) -> Any:
    choices = [c for c in kind.types if not isinstance(bare_type(c)[0], inspect.NoneType)]
    for choice in choices:
        if _is_of(bare_type(choice)[0], value):
            return _value(choice, value, path, report)
    if len(choices) == 1:
        return _value(choices[0], value, path, report)
    words = listed(wanted(choice) for choice in choices)
    report(path, Fault(found=f"is {shown(value)}", expected=f"write {words}"))
    return _NOTHING


def _is_of(kind: inspect.Type, value: Any) -> bool:
    match kind:
        case inspect.StructType():
            return isinstance(value, dict)
        case inspect.StrType() | inspect.LiteralType():
            return isinstance(value, str)
        case inspect.IntType():
            return isinstance(value, int) and not isinstance(value, bool)
    return False


def _list(kind: inspect.ListType, value: list[Any], path: Path, report: Report) -> list[Any]:
    most = kind.max_length
    if most is not None and len(value) > most:
        report(path, Fault(found=f"has {len(value)} in its list", expected=f"write at most {most}"))
        value = value[:most]
    made = [_value(kind.item_type, item, (*path, i), report) for i, item in enumerate(value)]
    return [_blank(kind.item_type) if item is _NOTHING else item for item in made]


def _dict(
    kind: inspect.DictType, value: dict[str, Any], path: Path, report: Report
) -> dict[str, Any]:
    most = kind.max_length
    if most is not None and len(value) > most:
        report(path, Fault(found=f"has {len(value)} tables", expected=f"write at most {most}"))
    made: dict[str, Any] = {}
    bare, about = bare_type(kind.key_type)
    assert isinstance(bare, inspect.StrType)
    for name, item in list(value.items())[:most]:
        if bare.pattern and not re.fullmatch(bare.pattern, name):
            found = f"has the name {quoted(name)}"
            expected = f"write {_SPELLINGS[about['title']]}"
            report((*path, name), Fault(found=found, expected=expected, hint=_slug_hint(name, "_")))
        one = _value(kind.value_type, item, (*path, name), report)
        made[name] = _blank(kind.value_type) if one is _NOTHING else one
    return made


def _literal(kind: inspect.LiteralType, value: Any, path: Path, report: Report) -> Any:
    if value in kind.values and isinstance(value, str):
        return value
    words = [str(v) for v in kind.values]
    hint = did_you_mean(value, words) if isinstance(value, str) else ""
    expected = f"write {listed(words)}, in quotes"
    report(path, Fault(found=f"is {shown(value)}", expected=expected, hint=hint))
    return _NOTHING


def _text(
    kind: inspect.StrType, about: Mapping[str, Any], value: str, path: Path, report: Report
) -> Any:
    hidden = hidden_signs(value)
    if hidden:
        names = listed((code_point(sign) for sign in hidden[:5]), "and")
        found = f"holds {names}, which cannot be seen"
        report(path, Fault(found=found, expected="take it out"))
        return _NOTHING
    if kind.max_length is not None and len(value) > kind.max_length:
        found = f"has {len(value)} letters"
        report(path, Fault(found=found, expected=f"write at most {kind.max_length}"))
        return _NOTHING
    if about.get("title") != "words" and ("\n" in value or "\t" in value):
        found = "has more than one line" if "\n" in value else "has a tab in it"
        report(path, Fault(found=found, expected="write it on one line, with plain spaces"))
        return _NOTHING
    if kind.min_length and not value.strip():
        report(path, Fault(found="is empty", expected=f"write {named(about)}"))
        return _NOTHING
    if kind.pattern and not re.fullmatch(kind.pattern, value):
        expected = f"write {_SPELLINGS[about['title']]}"
        hint = _slug_hint(value, "-") if about["title"] == "id" else ""
        report(path, Fault(found=f"is {shown(value)}", expected=expected, hint=hint))
        return _NOTHING
    return value


def _number(kind: inspect.Type, value: float, path: Path, report: Report) -> Any:
    least = getattr(kind, "ge", None)
    most = getattr(kind, "le", None)
    if (least is None or value >= least) and (most is None or value <= most):
        return value
    report(path, Fault(found=f"is {shown(value)}", expected=f"write {wanted(kind)}"))
    return _NOTHING


def _blank(kind: inspect.Type) -> Any:
    """What stands in the place of a required value that was wrong."""
    bare, _ = bare_type(kind)
    match bare:
        case inspect.UnionType():
            return _blank(bare.types[0])
        case inspect.StructType():
            return bare.cls(**{f.name: _blank(f.type) for f in fields_of(bare.cls) if f.required})
        case inspect.IntType():
            return 1
        case inspect.LiteralType():
            return bare.values[0]
    return ""


def _slug_hint(text: str, joint: str) -> str:
    slug = re.sub(r"[^a-z0-9]+", joint, text.lower()).strip("-_")[:40]
    return f'did you mean "{slug}"?' if re.match(r"[a-z]", slug) else ""
