"""The process sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.recipe.sheet import Look, process_sheet
from forgelog.recipe.written import WrittenRecipe
from forgelog.units import UnitSystem
from tests.properties.strategies import recipes
from tests.recipe.test_prose import is_harmless

SHIPPED = sorted((Path(__file__).parent.parent.parent / "recipes").glob("*.toml"))


def written(name: str) -> WrittenRecipe:
    path = next(path for path in SHIPPED if path.stem == name)
    recipe, _ = read_recipe(path.read_bytes(), name)
    assert recipe is not None
    return recipe


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
@pytest.mark.parametrize("units", list(UnitSystem))
def test_a_sheet_fits_eighty_columns_and_names_every_step(path: Path, units: UnitSystem) -> None:
    recipe = written(path.stem)
    sheet = process_sheet(resolve(recipe), recipe, Look(units=units))
    assert max(map(len, sheet.splitlines())) <= 80
    flat = " ".join(sheet.split())
    for component in recipe.component:
        assert component.name.upper() in sheet
        for step in component.step:
            assert step.do.upper() in flat
    assert "{" not in sheet


def test_a_sheet_says_what_the_smith_needs_before_the_fire_is_lit() -> None:
    recipe = written("gate-hinge-set")
    sheet = " ".join(process_sheet(resolve(recipe, {"post": 120.0}), recipe).split())
    for words in (
        "post 120 mm the post at its thickest, where a pintle goes through",
        "(from 60 mm to 200 mm)",
        "2 of strap: 40 x 8 mm flat, cut 459.5 mm by the sum; with 4% for scale and 4 mm to trim",
        "[ ] mandrel: 16 mm round, straight, with a handle",
        "These must match: post face to the middle of the pin and pin across.",
        "PINTLE: 2, 1 EACH UPPER AND LOWER",
        "Made of 1 strap, 1 pintle, 1 nut M12 and 1 washer.",
        "Heats: 3 by hand; 2 with a striker; 2 under the power hammer",
        "Work from 1150 degC (yellow) down to 850 degC",
        "Rest in still air until it is black. Why: look at the shoulder",
        "Gauge: tenon long 143.5 mm, 20 mm over, 0 mm under, cold",
        "[ ] 8 coach bolts M10, at least 67 mm long, each with nut and washer, for the rails; "
        "for the strap",
        "If it goes wrong:",
        "qualified engineer",
    ):
        assert words in sheet


def test_the_length_that_has_proved_itself_stands_before_the_sum() -> None:
    text = Path(SHIPPED[0]).parent.joinpath("gate-hinge-set.toml").read_text(encoding="utf-8")
    text = text.replace(
        'stock = { section = "25 mm square" }',
        'stock = { section = "25 mm square", cut = "115 mm" }',
    )
    recipe, problems = read_recipe(text.encode(), "x")
    assert recipe is not None
    assert problems == ()
    sheet = " ".join(process_sheet(resolve(recipe), recipe).split())
    assert "cut 115 mm, which has proved itself; the sum is 111 mm" in sheet


def test_heat_treatment_is_told_with_its_heat_soak_quench_and_judge() -> None:
    recipe = written("cross-peen-hammer")
    sheet = " ".join(process_sheet(resolve(recipe), recipe).split())
    assert "At 860 degC (red to bright red), 5 min all through; judged by magnet or eye" in sheet
    assert "into water" in sheet
    assert "At 240 degC (light straw to dark straw)" in sheet
    assert "Cutting this short matters." in sheet


def test_the_sheet_speaks_the_dialect_and_the_units_of_the_shop() -> None:
    recipe = written("cross-peen-hammer")
    sheet = process_sheet(resolve(recipe), recipe, Look(units=UnitSystem.INCH, dialect="us"))
    assert "NORMALIZE" in sheet
    assert "Gage:" in sheet
    assert "degF" in sheet
    tools_by_name = [tool for c in recipe.component for step in c.step for tool in step.tools]
    for tool in (tool for tool in tools_by_name if isinstance(tool, str)):
        sheet = sheet.replace(tool.replace("gauge", "gage"), "")
    assert " mm" not in sheet[sheet.index("SIZES") :]


def test_what_the_journal_has_learnt_stands_beside_the_plan() -> None:
    recipe = written("gate-hinge-set")
    learnt = {("strap", "roll-the-eye", "hand"): "4 to 6, of 11 pieces"}
    sheet = " ".join(process_sheet(resolve(recipe), recipe, learnt=learnt).split())
    assert "Heats: 4 by hand (so far 4 to 6, of 11 pieces); 3 with a striker" in sheet


@settings(max_examples=40)
@given(recipes(), st.sampled_from(["uk", "us"]), st.integers(40, 120))
def test_any_recipe_makes_a_harmless_sheet_of_its_width(
    recipe: WrittenRecipe, dialect: str, width: int
) -> None:
    sheet = process_sheet(resolve(recipe), recipe, Look(dialect=dialect, width=width))
    for row in sheet.split("\n"):
        assert is_harmless(row)
        assert len(row) <= width
