"""The JSON Schema of recipes: lets an editor complete keys and mark what does not belong.

It says what one key may be; what keys say together (`forgelog.recipe.rules`) only
`forgelog check` can tell.
"""

from __future__ import annotations

from typing import Any

import msgspec

from forgelog.recipe.heats import UNTIL
from forgelog.recipe.written import WrittenRecipe
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.solids import SOLIDS, Solid


def recipe_schema() -> dict[str, Any]:
    """The schema as tables and lists, draft 2020-12."""
    made = _without_nothing(msgspec.json.schema(WrittenRecipe))
    tables = made["$defs"]
    _choose_from(tables["WrittenSolid"]["properties"]["solid"], SOLIDS)
    for table in ("WrittenRecipe", "WrittenStep"):
        _choose_from(tables[table]["properties"]["cautions"]["items"], CAUTIONS)
    tables["WrittenStep"]["properties"]["until"]["examples"] = [*UNTIL, "400 degC", "10 min"]
    tables["WrittenSolid"]["allOf"] = [_if_then(name, solid) for name, solid in SOLIDS.items()]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A forgelog recipe, format 1",
        **made,
    }


def schema_text() -> str:
    """The schema as it is printed: JSON, indented, the same every time."""
    return msgspec.json.format(msgspec.json.encode(recipe_schema()), indent=2).decode() + "\n"


def _without_nothing(part: Any) -> Any:
    """The schema without null, which TOML does not have."""
    if isinstance(part, list):
        return [_without_nothing(one) for one in part]
    if not isinstance(part, dict):
        return part
    kept = {key: _without_nothing(one) for key, one in part.items()}
    if kept.get("default", ...) is None:
        del kept["default"]
    if choices := [one for one in kept.pop("anyOf", []) if one != {"type": "null"}]:
        if len(choices) > 1:
            kept["anyOf"] = choices
        else:
            kept = {**choices[0], **kept}
    if isinstance(kept.get("enum"), list):
        kept["enum"] = [one for one in kept["enum"] if one is not None]
    return kept


def _choose_from(text: dict[str, Any], words: Any) -> None:
    for limit in ("minLength", "maxLength"):
        text.pop(limit, None)
    text["enum"] = list(words)


def _if_then(name: str, solid: Solid) -> dict[str, Any]:
    """What a solid of this name needs, and that it takes no more."""
    keys = ["solid", "times", *solid.needs, *solid.one_of]
    then: dict[str, Any] = {
        "required": list(solid.needs),
        "propertyNames": {"enum": keys},
    }
    if solid.one_of:
        then["oneOf"] = [{"required": [key]} for key in solid.one_of]
    return {"if": {"properties": {"solid": {"const": name}}}, "then": then}
