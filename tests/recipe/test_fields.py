"""The keys of a table, read off its class."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from msgspec import inspect

from forgelog.book import settings_written
from forgelog.recipe.fields import fields_of
from tests.recipe.making_keys import TABLES

SETTINGS = [
    cls
    for cls in vars(settings_written).values()
    if isinstance(cls, type) and issubclass(cls, msgspec.Struct) and cls.__struct_fields__
]


def without_inner_tables(part: Any) -> Any:
    """The same, where a table inside a table is only named."""
    if isinstance(part, inspect.StructType):
        return part.cls
    if isinstance(part, msgspec.Struct):
        inner = {key: without_inner_tables(getattr(part, key)) for key in part.__struct_fields__}
        return type(part).__name__, inner
    if isinstance(part, tuple):
        return tuple(map(without_inner_tables, part))
    return part


@pytest.mark.parametrize("cls", [*TABLES, *SETTINGS], ids=lambda cls: cls.__name__)
def test_the_quick_way_says_the_same_as_the_thorough_one(cls: type[msgspec.Struct]) -> None:
    thorough = inspect.type_info(cls)
    assert isinstance(thorough, inspect.StructType)
    assert len(fields_of(cls)) == len(cls.__struct_fields__) > 0
    assert without_inner_tables(fields_of(cls)) == without_inner_tables(thorough.fields)


def test_every_table_of_a_recipe_is_compared() -> None:
    assert len(TABLES) >= 18
    assert len(SETTINGS) >= 5
