"""The JSON Schema and the page for smiths: in step with the format, and telling good from bad."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from forgelog.recipe.fields import fields_of
from forgelog.recipe.page import FIRST_RECIPE, format_page
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.recipe.schema import recipe_schema, schema_text
from forgelog.recipe.written_words import Written
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.solids import SOLIDS

RECIPES = Path(__file__).parent.parent.parent / "recipes"


def checker() -> Any:
    schema = recipe_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_the_schema_that_comes_along_is_the_one_of_the_format() -> None:
    """If not: `forgelog schema > recipes/recipe.schema.json`."""
    assert (RECIPES / "recipe.schema.json").read_text(encoding="utf-8") == schema_text()


def test_the_page_that_comes_along_is_the_one_of_the_format() -> None:
    """If not: `forgelog schema --page > recipes/README.md`."""
    assert (RECIPES / "README.md").read_text(encoding="utf-8") == format_page()


@pytest.mark.parametrize("path", sorted(RECIPES.glob("*.toml")), ids=lambda path: path.stem)
def test_the_schema_takes_the_recipes_that_come_along(path: Path) -> None:
    errors = list(checker().iter_errors(tomllib.loads(path.read_text(encoding="utf-8"))))
    assert errors == []


@pytest.mark.parametrize(
    "change",
    [
        ("format = 1", "format = 2"),
        ('id = "wall-hook"', 'id = "Wall Hook"'),
        ('name = "Wall hook"', 'name = ""'),
        ('name = "hook"', "name = 7"),
        ("stock = {", 'stok = "x"\nstock = {'),
        ("hand = 2", "hand = 41"),
        ("hand = 2", 'hand = "two"'),
        ("hand = 2", "hnad = 2"),
        ("heats = { hand = 2 }", 'kind = "forj"'),
        ("heats = { hand = 2 }", 'cautions = ["eys"]'),
        ("[[component.step]]", 'form = [{ solid = "rond" }]\n[[component.step]]'),
        ("[[component.step]]", 'form = [{ solid = "round", long = "1 mm" }]\n[[component.step]]'),
        (
            "[[component.step]]",
            'form = [{ solid = "ball", across = "1 mm", wide = "1 mm" }]\n[[component.step]]',
        ),
    ],
)
def test_the_schema_refuses_what_check_refuses(change: tuple[str, str]) -> None:
    text = FIRST_RECIPE.replace(*change)
    assert text != FIRST_RECIPE
    assert read_recipe(text.encode(), "x")[0] is None
    assert list(checker().iter_errors(tomllib.loads(text)))


def test_the_first_recipe_of_the_page_is_ten_lines_and_sound() -> None:
    assert len(FIRST_RECIPE.splitlines()) == 10
    recipe, problems = read_recipe(FIRST_RECIPE.encode(), "wall-hook.toml")
    assert problems == ()
    assert recipe is not None
    assert resolve(recipe).components[0].steps[0].heats == {"hand": 2}
    assert list(checker().iter_errors(tomllib.loads(FIRST_RECIPE))) == []


def test_every_key_has_its_line_of_help_on_the_page_and_in_the_schema() -> None:
    page = format_page()
    tables = recipe_schema()["$defs"]
    for cls in (one for one in Written.__subclasses__() if one.__module__ == Written.__module__):
        for field in fields_of(cls):
            assert re.search(rf"\| \**`{field.encode_name}`\** \|", page), field.encode_name
            about = tables[cls.__name__]["properties"][field.encode_name]
            assert len(about["description"]) > 5
    for name in (*SOLIDS, *CAUTIONS):
        assert f"| `{name}` |" in page


def test_the_schema_knows_nothing_of_null_which_toml_has_not() -> None:
    assert "null" not in schema_text()
    assert json.loads(schema_text()) == recipe_schema()


def test_every_block_of_toml_on_the_page_is_toml() -> None:
    blocks = re.findall(r"```toml\n(.*?)```", format_page(), re.DOTALL)
    assert len(blocks) == 2
    for block in blocks:
        assert tomllib.loads(block)
