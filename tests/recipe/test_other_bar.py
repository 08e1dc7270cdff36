"""The bar that lies there in place of the recipe's: the volume is kept, the rest follows."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.recipe.other_bar import too_little_for, with_bars
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import ResolveError, resolve
from forgelog.recipe.resolved import Component, Recipe, Stock
from forgelog.recipe.rules.found import default_sizes_mm
from forgelog.recipe.rules.sizing import blanks_catch_their_thread
from forgelog.recipe.written import WrittenComponent, WrittenRecipe
from forgelog.trade.sections import Section, area_mm2, parse_section
from tests.desk.conftest import PIN

SHIPPED = Path(__file__).parents[2] / "recipes"


def read(text: str) -> WrittenRecipe:
    recipe, problems = read_recipe(text.encode(), "test.toml")
    assert recipe is not None, problems
    return recipe


GATE = read((SHIPPED / "gate-hinge-set.toml").read_text(encoding="utf-8"))
TEST_PIN = read(PIN)


def component(recipe: Recipe, name: str) -> Component:
    return next(c for c in recipe.components if c.id == name)


def cut(written: WrittenRecipe, name: str, bar: str) -> Stock:
    stock = component(resolve(written, {}, {name: parse_section(bar)}), name).stock
    assert stock is not None
    return stock


def written_component(written: WrittenRecipe, name: str) -> WrittenComponent:
    return next(c for c in written.component if c.id == name)


def test_a_length_by_the_sum_is_that_of_the_actual_bar() -> None:
    own = component(resolve(GATE), "strap").stock
    assert own is not None
    stock = cut(GATE, "strap", "40 x 10 mm flat")
    # 4 mm of trim is the same length of either bar, scale is lost from form and trim.
    assert stock.volume_mm3 == own.volume_mm3
    assert stock.sum_mm == pytest.approx((own.volume_mm3 / 400 + 4) / 0.96)
    assert stock.planned == own.section
    assert stock.planned_mm == pytest.approx(own.sum_mm)


def test_a_proved_length_goes_by_the_areas() -> None:
    stock = cut(TEST_PIN, "pin", "12.7 mm square")
    assert stock.cut_mm == pytest.approx(180.0 * 144.0 / 12.7**2)
    assert stock.planned_mm == 180.0
    assert stock.left_mm == 180.0


def test_the_grip_of_a_proved_length_stays_as_it_is() -> None:
    gripped = read(PIN.replace('cut = "180 mm"', 'cut = "180 mm", grip = "60 mm"'))
    stock = cut(gripped, "pin", "12.7 mm square")
    assert stock.cut_mm == pytest.approx(60.0 + 120.0 * 144.0 / 12.7**2)


def test_a_strap_left_as_thick_as_its_bar_is_cut_longer() -> None:
    stock = cut(GATE, "strap", "40 x 10 mm flat")
    assert stock.left_mm is not None
    assert stock.left_mm > stock.sum_mm * 1.2
    assert cut(GATE, "nut", "25 x 13 mm flat").left_mm is None


@settings(max_examples=15)
@given(st.floats(8.0, 40.0))
def test_the_steel_that_is_cut_is_the_same_whatever_the_bar(across: float) -> None:
    bar = Section(kind="square", a_mm=across)
    stock = component(resolve(GATE, {}, {"pintle": bar}), "pintle").stock
    own = component(resolve(GATE), "pintle").stock
    assert stock is not None
    assert own is not None
    assert stock.sum_mm * area_mm2(bar) == pytest.approx(own.sum_mm * 625.0)


def test_what_is_worked_on_the_bar_follows_it_and_what_is_made_of_it_does_not() -> None:
    own = component(resolve(GATE), "pintle").steps
    steps = component(resolve(GATE, {}, {"pintle": parse_section("1 in square")}), "pintle").steps
    inch, planned = parse_section("1 in square"), parse_section("25 mm square")
    assert [s.section for s in steps] == [inch if s.section == planned else s.section for s in own]
    assert [s.to_section for s in steps] == [s.to_section for s in own]


def test_a_mark_on_the_bar_keeps_the_steel_that_goes_into_it() -> None:
    steps = component(resolve(GATE, {}, {"pintle": parse_section("1 in square")}), "pintle").steps
    pin = next(s for s in steps if s.id == "set-down-the-pin")
    assert pin.to_mark_mm == pytest.approx(16.0 * 625.0 / 25.4**2)
    assert pin.says.startswith(
        "The bar is {25.4 mm} square, not {25 mm} square; "
        "{15.5 mm} of it go into this, not {16 mm}."
    )


def test_the_first_step_says_which_bar_the_words_are_of() -> None:
    first = component(resolve(TEST_PIN, {}, {"pin": parse_section("12.7 mm square")}), "pin")
    assert "takes 0.89 of the length" in first.steps[0].says
    assert "The bar is" not in component(resolve(TEST_PIN), "pin").steps[0].says


def test_the_process_stays_the_same_process() -> None:
    other = resolve(TEST_PIN, {}, {"pin": parse_section("12.7 mm square")})
    assert other.process_hash == resolve(TEST_PIN).process_hash


@pytest.mark.parametrize("path", sorted(SHIPPED.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("share", [0.96, 1.06])
def test_every_shipped_recipe_can_be_cut_from_bars_a_little_off(path: Path, share: float) -> None:
    written = read(path.read_text(encoding="utf-8"))
    own = {c.id: c.stock for c in resolve(written).components if c.stock is not None}
    bars = {
        name: Section(
            kind=stock.section.kind,
            a_mm=stock.section.a_mm * share,
            b_mm=stock.section.b_mm * share,
            c_mm=stock.section.c_mm * share,
        )
        for name, stock in own.items()
    }
    assert bars
    for component in resolve(written, {}, bars).components:
        if component.stock is not None:
            assert component.stock.section == bars[component.id]
            assert component.stock.planned == own[component.id].section
            longer = component.stock.sum_mm > own[component.id].sum_mm
            assert longer == (share < 1)


def test_the_recipes_own_bar_changes_nothing() -> None:
    assert resolve(TEST_PIN, {}, {"pin": parse_section("12 mm square")}) == resolve(TEST_PIN)


@pytest.mark.parametrize(
    ("name", "bar", "said"),
    [
        ("pinn", "12 mm square", 'did you mean "pin"?'),
        ("pin", "3 mm sheet", "has no width"),
    ],
)
def test_a_bar_that_cannot_be_is_refused_with_words(name: str, bar: str, said: str) -> None:
    with pytest.raises(ResolveError, match=r".") as refused:
        resolve(TEST_PIN, {}, {name: parse_section(bar)})
    assert said in str(refused.value)


def test_a_bar_with_too_little_says_for_what() -> None:
    pintle = written_component(GATE, "pintle")
    sizes = default_sizes_mm(GATE)
    assert too_little_for(pintle, sizes, parse_section("22 mm square")) == parse_section(
        "25 mm square"
    )
    assert too_little_for(pintle, sizes, parse_section("1 in square")) is None


def test_what_is_upset_from_the_recipes_own_bar_is_not_too_little() -> None:
    text = PIN.replace(
        'do = "draw the point"', 'do = "upset the head"\nto = { section = "20 mm square" }'
    )
    pin = written_component(read(text), "pin")
    assert too_little_for(pin, {}, parse_section("11.95 mm square")) is None
    assert too_little_for(pin, {}, parse_section("10 mm square")) is None


def test_a_nut_of_too_narrow_a_bar_is_found_before_the_tap() -> None:
    sizes = default_sizes_mm(GATE)

    def found(bar: str) -> list[str]:
        actual = with_bars(GATE, sizes, {"nut": parse_section(bar)})
        return [one.fault.expected for one in blanks_catch_their_thread(actual, sizes)]

    assert found("25 x 13 mm flat") == []
    assert found("20 x 16 mm flat") == ["24 mm across and 8.9 mm high would do"]
