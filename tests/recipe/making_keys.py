"""Makes `forgelog/recipe/keys_made.py` from the hints of `forgelog/recipe/written.py`.

    python -m tests.recipe.making_keys

writes it; `test_keys_made.py` fails where that has been forgotten.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from msgspec import inspect

import forgelog.recipe
from forgelog.recipe.expected import bare_type
from forgelog.recipe.fields import fields_of
from forgelog.recipe.written import WrittenRecipe
from forgelog.recipe.written_words import Written

TABLES = [
    cls
    for cls in Written.__subclasses__()
    if cls.__module__.rpartition(".")[0] == WrittenRecipe.__module__.rpartition(".")[0]
]
"""Every table of the format; those that `WrittenRecipe` leads to are loaded with it."""

TARGET = Path(forgelog.recipe.__file__).parent / "keys_made.py"

HEAD = '''\
"""The keys of each table of a recipe and what they hold: made from `written.py`, not by hand.

    python -m tests.recipe.making_keys

makes it anew. To read the hints themselves would take longer than to check a recipe. What a key
holds is a tuple that begins with its sort:

    text    title, fewest letters, most letters, pattern     truth
    whole   least, most                                      choice  the words
    number  least, most                                      table   name of its class
    list    most, what each of it holds                      either  two sorts or more
    tables  most, pattern of a name, what each of it holds

Where there is no limit stands None.
"""

from __future__ import annotations

from typing import Any

Holds = tuple[Any, ...]

'''


def made_keys() -> dict[str, tuple[tuple[str, ...], dict[str, tuple[str, Any]]]]:
    """Of each table: the keys that must be there; and of each key its field and what it holds."""
    return {
        cls.__name__: (
            tuple(field.name for field in fields_of(cls) if field.required),
            {field.encode_name: (field.name, holds(field.type)) for field in fields_of(cls)},
        )
        for cls in TABLES
    }


def holds(kind: inspect.Type) -> tuple[Any, ...]:
    """What a key holds, in short."""
    bare, about = bare_type(kind)
    match bare:
        case inspect.UnionType():
            found = [holds(one) for one in bare.types if not isinstance(one, inspect.NoneType)]
            return found[0] if len(found) == 1 else ("either", *found)
        case inspect.StructType():
            return ("table", bare.cls.__name__)
        case inspect.ListType():
            return ("list", bare.max_length, holds(bare.item_type))
        case inspect.DictType():
            name, _ = bare_type(bare.key_type)
            assert isinstance(name, inspect.StrType)
            return ("tables", bare.max_length, name.pattern, holds(bare.value_type))
        case inspect.LiteralType():
            return ("choice", bare.values)
        case inspect.StrType():
            title = about.get("title", "")
            return ("text", title, bare.min_length, bare.max_length, bare.pattern)
        case inspect.BoolType():
            return ("truth",)
        case inspect.IntType():
            return ("whole", bare.ge, bare.le)
        case inspect.FloatType():
            return ("number", bare.ge, bare.le)
    raise TypeError(f"{kind} has no short form")


def keys_text() -> str:
    """The module's text, before it is laid out."""
    tables = made_keys()
    sorts: dict[Any, str] = {}
    rows: list[str] = []
    for _, keys in tables.values():
        for _, sort in keys.values():
            _name_texts(sort, sorts, rows)
    rows += ["", "KEYS: dict[str, tuple[tuple[str, ...], dict[str, tuple[str, Holds]]]] = {"]
    for table, (needed, keys) in tables.items():
        rows.append(f"    {table!r}: (")
        rows.append(f"        {needed!r},")
        rows.append("        {")
        rows += [
            f"            {key!r}: ({field!r}, {_shown(sort, sorts)}),"
            for key, (field, sort) in keys.items()
        ]
        rows.append("        },")
        rows.append("    ),")
    rows += ["}", '"""Of each table: the fields that must be there; of each key its field."""']
    return HEAD + "\n".join(rows) + "\n"


def _name_texts(sort: Any, sorts: dict[Any, str], rows: list[str]) -> None:
    if not isinstance(sort, tuple):
        return
    if sort[:1] == ("text",) and sort not in sorts:
        base = "_" + (sort[1] or "text").upper().replace(" ", "_")
        same = sum(name == base or name.startswith(f"{base}_0") for name in sorts.values())
        sorts[sort] = f"{base}_0{same + 1}" if same else base
        rows.append(f"{sorts[sort]} = {sort!r}")
    for one in sort:
        _name_texts(one, sorts, rows)


def _shown(sort: Any, sorts: Mapping[Any, str]) -> str:
    if sort in sorts:
        return sorts[sort]
    if isinstance(sort, tuple):
        return f"({', '.join(_shown(one, sorts) for one in sort)}{',' * (len(sort) == 1)})"
    return repr(sort)


def main() -> int:
    """Write the module, laid out as all others are."""
    TARGET.write_text(keys_text(), encoding="utf-8")
    subprocess.run([sys.executable, "-m", "ruff", "format", "-q", str(TARGET)], check=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
