"""From TOML tables to the typed recipe where nothing is wrong with them; most recipes are so.

It says no more than yes or no. What is wrong, and what to do, is the business of `shape`, which
takes several times as long.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from forgelog.recipe.keys_made import KEYS, Holds
from forgelog.recipe.plain import hidden_signs
from forgelog.recipe.written import WrittenRecipe
from forgelog.recipe.written_words import Written

_CLASSES = {cls.__name__: cls for cls in Written.__subclasses__() if cls.__name__ in KEYS}


class _Wrong(Exception):
    pass


def quickly_shaped(table: Mapping[str, Any]) -> WrittenRecipe | None:
    """The typed recipe, as `shape.shaped` makes it; None where that would report anything.

    Args:
        table: The file as tables, lists and plain values.
    """
    try:
        made = _table(("table", "WrittenRecipe"), table)
    except _Wrong:
        return None
    assert isinstance(made, WrittenRecipe)
    return made


def _table(holds: Holds, value: Any) -> Any:
    if not isinstance(value, dict):
        raise _Wrong
    needed, keys = KEYS[holds[1]]
    given: dict[str, Any] = {}
    for key, item in value.items():
        known = keys.get(key)
        if known is None:
            raise _Wrong
        field, inner = known
        given[field] = _SORTS[inner[0]](inner, item)
    for field in needed:
        if field not in given:
            raise _Wrong
    return _CLASSES[holds[1]](**given)


def _text(holds: Holds, value: Any) -> str:
    if not isinstance(value, str):
        raise _Wrong
    _, title, fewest, most, pattern = holds
    if most is not None and len(value) > most:
        raise _Wrong
    if not value.isprintable() and (
        hidden_signs(value) or (title != "words" and ("\n" in value or "\t" in value))
    ):
        raise _Wrong
    if (fewest and not value.strip()) or (pattern and not re.fullmatch(pattern, value)):
        raise _Wrong
    return value


def _whole(holds: Holds, value: Any) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or not _is_within(holds, value):
        raise _Wrong
    return value


def _number(holds: Holds, value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _Wrong
    if not _is_within(holds, value):
        raise _Wrong
    return float(value)


def _is_within(holds: Holds, value: float) -> bool:
    _, least, most = holds
    return (least is None or value >= least) and (most is None or value <= most)


def _truth(holds: Holds, value: Any) -> bool:
    if not isinstance(value, bool):
        raise _Wrong
    return value


def _choice(holds: Holds, value: Any) -> str:
    if not isinstance(value, str) or value not in holds[1]:
        raise _Wrong
    return value


def _either(holds: Holds, value: Any) -> Any:
    """By the sort of the value, so that no two of the sorts may hold the same."""
    for sort in holds[1:]:
        if isinstance(value, _LOOKS[sort[0]]) and not isinstance(value, bool):
            return _SORTS[sort[0]](sort, value)
    raise _Wrong


def _list(holds: Holds, value: Any) -> list[Any]:
    _, most, sort = holds
    if not isinstance(value, list) or (most is not None and len(value) > most):
        raise _Wrong
    made = _SORTS[sort[0]]
    return [made(sort, item) for item in value]


def _tables(holds: Holds, value: Any) -> dict[str, Any]:
    _, most, pattern, sort = holds
    if not isinstance(value, dict) or (most is not None and len(value) > most):
        raise _Wrong
    if pattern and not all(re.fullmatch(pattern, name) for name in value):
        raise _Wrong
    made = _SORTS[sort[0]]
    return {name: made(sort, item) for name, item in value.items()}


_LOOKS = {"text": str, "table": dict, "whole": int}

_SORTS: dict[str, Callable[[Holds, Any], Any]] = {
    "text": _text,
    "table": _table,
    "list": _list,
    "either": _either,
    "choice": _choice,
    "whole": _whole,
    "number": _number,
    "truth": _truth,
    "tables": _tables,
}
