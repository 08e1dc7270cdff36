"""Writing recipes."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings

from forgelog.recipe.read import read_recipe
from forgelog.recipe.write import write_recipe
from forgelog.recipe.written import WrittenRecipe
from tests.properties.strategies import recipes, shared_recipes

SHIPPED = sorted((Path(__file__).parent.parent.parent / "recipes").glob("*.toml"))


@settings(max_examples=60)
@given(recipes())
def test_what_is_written_is_read_back_the_same(recipe: WrittenRecipe) -> None:
    text = write_recipe(recipe)
    tomllib.loads(text)
    assert read_recipe(text.encode(), "x")[0] == recipe


@settings(max_examples=40)
@given(shared_recipes())
def test_what_was_shared_is_read_back_with_its_evidence(recipe: WrittenRecipe) -> None:
    read, problems = read_recipe(write_recipe(recipe).encode(), "x")
    assert read == recipe
    assert not [p for p in problems if p.where.startswith(("shared", "evidence"))]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_recipes_that_come_along_are_written_and_read_back_the_same(path: Path) -> None:
    recipe, _ = read_recipe(path.read_bytes(), "x")
    assert recipe is not None
    assert read_recipe(write_recipe(recipe).encode(), "x") == (recipe, ())


def test_a_written_recipe_reads_like_a_process_sheet() -> None:
    path = next(path for path in SHIPPED if path.stem == "gate-hinge-set")
    recipe, _ = read_recipe(path.read_bytes(), "x")
    assert recipe is not None
    rows = write_recipe(recipe).splitlines()
    assert rows[:2] == ["format = 1", 'id = "gate-hinge-set"']
    assert "  [[component.step]]" in rows
    assert "  heats = { hand = 1, striker = 1, power = 1 }" in rows
    assert 'stock = { section = "40 x 8 mm flat", trim = "4 mm" }' in rows
    assert "form = [" in rows
