"""The keys in short, and the quick reading that they are made for, against the thorough one."""

from __future__ import annotations

import tomllib
from copy import deepcopy
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.keys_made import KEYS
from forgelog.recipe.quick_shape import quickly_shaped
from forgelog.recipe.shape import shaped
from forgelog.recipe.written import WrittenRecipe
from tests.properties.strategies import recipes
from tests.recipe.making_keys import made_keys

RECIPES = sorted((Path(__file__).parents[2] / "recipes").glob("*.toml"))


def test_the_keys_in_short_are_those_of_the_format() -> None:
    """If not: `python -m tests.recipe.making_keys`."""
    assert made_keys() == KEYS


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_a_sound_recipe_is_read_quickly(path: Path) -> None:
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    assert quickly_shaped(table) == same_in_both_ways(table) is not None


@given(recipes())
def test_any_sound_recipe_is_read_quickly(recipe: WrittenRecipe) -> None:
    assert same_in_both_ways(msgspec.to_builtins(recipe)) == recipe


ODD: tuple[Any, ...] = (
    *(True, False, 0, 1, 2, 7, 41, 201, -1, 0.5, 4.0, 31.0, float("nan"), float("inf")),
    *("", " ", "x", "X y", "12 mm", "mild", "a\nb", "a\tb", "a\u202eb", "é", "oil", "rest", "x-1"),
    *("a" * 39, "a" * 61, "a" * 81, "a" * 201, "a" * 2001),
    *([], ["x"], ["x"] * 61, [1], [[]], [{}], [True], {}, {"x": 1}, {"name": "x"}),
    *({"component": "x"}, {"default": "1 mm"}, {"post": {"default": "1 mm"}}, {"a-b": {}}),
    *({"hand": 2}, {"hand": True}, {"section": "12 mm square"}, {"what": "a", "size": "1 mm"}),
)
"""Values that some key takes and others do not."""


@given(st.sampled_from(RECIPES), st.data())
def test_whatever_is_put_in_the_quick_way_takes_only_what_the_thorough_one_takes(
    path: Path, data: st.DataObject
) -> None:
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    for _ in range(data.draw(st.integers(1, 2))):
        damage(table, data)
    same_in_both_ways(table)


def damage(table: dict[str, Any], data: st.DataObject) -> None:
    """Change, add or drop one key somewhere in the recipe."""
    here: Any = table
    while True:
        keys = list(here) if isinstance(here, dict) else list(range(len(here)))
        key = data.draw(st.sampled_from(keys))
        if not (isinstance(here[key], dict | list) and here[key] and data.draw(st.booleans())):
            break
        here = here[key]
    deed = data.draw(st.sampled_from(["change", "drop", "add"]))
    if deed == "drop":
        del here[key]
    elif deed == "add" and isinstance(here, dict):
        names = sorted({name for _, keys in KEYS.values() for name in keys} | {"nonsense"})
        here[data.draw(st.sampled_from(names))] = deepcopy(data.draw(st.sampled_from(ODD)))
    else:
        here[key] = deepcopy(data.draw(st.sampled_from(ODD)))


def same_in_both_ways(table: dict[str, Any]) -> WrittenRecipe | None:
    told: list[Any] = []
    thorough = shaped(table, lambda path, fault: told.append((path, fault)))
    quick = quickly_shaped(table)
    assert quick == (None if told else thorough)
    return quick
