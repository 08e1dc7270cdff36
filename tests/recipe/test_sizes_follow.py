"""Sizes that follow other sizes: the thin place of a wall is as much thinner as it always was."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import ResolveError, resolve
from forgelog.recipe.rules.found import default_sizes_mm, sizes_at
from forgelog.recipe.sheet import process_sheet
from forgelog.recipe.written import WrittenComponent, WrittenRecipe, WrittenSize

SHIPPED = Path(__file__).parent.parent.parent / "recipes"


def written(name: str) -> WrittenRecipe:
    recipe, _ = read_recipe((SHIPPED / f"{name}.toml").read_bytes(), name)
    assert recipe is not None
    return recipe


def with_sizes(**defaults: str) -> WrittenRecipe:
    return WrittenRecipe(
        format=1,
        id="x",
        name="x",
        sizes={name: WrittenSize(default=text) for name, text in defaults.items()},
        component=[WrittenComponent(id="x", name="x")],
    )


def test_a_thin_size_follows_the_thick_one() -> None:
    assert resolve(written("gate-hinge-set")).sizes_mm["post_thin"] == 97.0
    assert resolve(written("gate-hinge-set"), {"post": 120.0}).sizes_mm["post_thin"] == 117.0


def test_a_thin_size_that_is_given_outranks_what_would_follow() -> None:
    sizes = {"wall": 300.0, "wall_thin": 280.0}
    assert resolve(written("scroll-shelf-brackets"), sizes).sizes_mm["wall_thin"] == 280.0


def test_the_thinnest_place_is_never_thicker_than_the_thickest() -> None:
    with pytest.raises(ResolveError, match=r"wall_thin.*is 310 mm, more than the most, 300 mm"):
        resolve(written("scroll-shelf-brackets"), {"wall": 300.0, "wall_thin": 310.0})


def test_a_size_that_follows_beyond_its_limits_is_told_at_the_order() -> None:
    recipe = with_sizes(wall="100 mm", thin="wall - 40 mm")
    with pytest.raises(ResolveError, match=r"thin.*comes to -10 mm"):
        resolve(recipe, {"wall": 30.0})


def test_sizes_follow_over_several_steps_in_any_order() -> None:
    recipe = with_sizes(c="b + 1 mm", b="a / 2", a="10 mm")
    assert sizes_at(recipe, {}) == {"c": 6.0, "b": 5.0, "a": 10.0}
    assert list(sizes_at(recipe, {"a": 20.0}).items()) == [("c", 11.0), ("b", 10.0), ("a", 20.0)]


def test_sizes_in_a_circle_are_no_numbers_and_the_others_are() -> None:
    found = default_sizes_mm(with_sizes(a="b", b="a + 1 mm", c="5 mm", d="c + 1 mm"))
    assert math.isnan(found["a"])
    assert math.isnan(found["b"])
    assert (found["c"], found["d"]) == (5.0, 6.0)


@given(st.floats(60.0, 200.0), st.floats(55.0, 200.0))
def test_every_pair_of_post_sizes_is_taken_or_refused_in_words(post: float, thin: float) -> None:
    recipe = written("gate-hinge-set")
    asked = {"post": post, "post_thin": thin}
    if thin <= post:
        assert resolve(recipe, asked).sizes_mm["post_thin"] == thin
    else:
        with pytest.raises(ResolveError, match="more than the most"):
            resolve(recipe, asked)


def test_the_sheet_tells_limits_that_follow_in_figures() -> None:
    recipe = written("gate-hinge-set")
    sheet = " ".join(process_sheet(resolve(recipe, {"post": 120.0}), recipe).split())
    assert "(from 55 mm to 120 mm)" in sheet
