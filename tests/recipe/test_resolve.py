"""Sizes put into a recipe."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings

from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import ResolveError, process_hash, resolve
from forgelog.recipe.resolved import Recipe, Step
from forgelog.recipe.written import WrittenRecipe
from tests.properties.strategies import recipes

PINTLE = """\
format = 1
id = "pintle"
name = "Pintle"
says = "Through a post of {post}."
steel = "1045"
cautions = ["zinc"]

[sizes.post]
default = "100 mm"
least = "40 mm"
most = "200 mm"

[[component]]
id = "pintle"
name = "pintle"
each = 4
hands = ["left", "right"]
stock = { section = "25 mm square", grip = "35 mm", trim = "10 mm", loss = 5 }
form = [
  { solid = "square", across = "25 mm", long = "50 mm" },
  { solid = "round", across = "12 mm", long = "post + 20 mm", times = 2 },
]

  [[component.step]]
  do = "set down the pin"
  heats = { hand = 3, power = 2 }
  tools = ["side set", { name = "Swage", setting = "{post / 10} deep" }]
  jigs = ["bending jig"]
  to = { section = "16 mm square", long = "55 mm", hot = true, mark = "22.5 mm" }
  gauge = [{ what = "pin", size = "post / 8", plus = "0.5 mm" }]

  [[component.step]]
  do = "round the pin"
  done = "the pin is round"
  heats = { hand = 2 }
  follows = true
  work = "1100 degC to 900 degC"

  [[component.step]]
  do = "rest"
  until = "black"
  in = "ash"
  why = "to look at {post + 14 mm} of it"

  [[component.step]]
  do = "normalise"
  at = "870 degC"
  cycles = 3

  [[component.step]]
  do = "anneal"
  at = "760 degC"

  [[component.step]]
  do = "rest"
  id = "wait"
  until = "90 s"
  why = "a breath"

  [[component.step]]
  do = "grind the end"
  minutes = "10 min"

[[component]]
id = "washer"
name = "washer"
each = 4
variant = ["thick", "thin"]

[[component]]
id = "set"
name = "set"
each = 2
needs = ["washer", { component = "pintle", count = 2 }]
"""


def written(text: str = PINTLE) -> WrittenRecipe:
    recipe, problems = read_recipe(text.encode(), "x")
    assert recipe is not None, [problem.text for problem in problems]
    return recipe


def step(recipe: Recipe, name: str) -> Step:
    return next(one for one in recipe.components[0].steps if one.id == name)


def test_the_defaults_are_taken_where_the_order_says_nothing() -> None:
    recipe = resolve(written())
    assert recipe.sizes_mm == {"post": 100.0}
    assert recipe.says == "Through a post of {100 mm}."
    assert step(recipe, "set-down-the-pin").gauges[0].mm == 12.5


def test_a_size_of_the_order_changes_all_that_is_made_of_it() -> None:
    recipe = resolve(written(), {"post": 120.0})
    first = step(recipe, "set-down-the-pin")
    assert recipe.says == "Through a post of {120 mm}."
    assert first.gauges[0].mm == 15.0
    assert first.tools[1].setting == "{12 mm} deep"
    assert step(recipe, "rest").rest.why == "to look at {134 mm} of it"  # type: ignore[union-attr]


def test_the_stock_is_the_sum_of_form_trim_and_scale_and_the_grip_on_top() -> None:
    stock = resolve(written()).components[0].stock
    assert stock is not None
    form = 25 * 25 * 50 + 2 * 3.141592653589793 / 4 * 12**2 * 120
    assert stock.volume_mm3 == pytest.approx(form)
    assert stock.sum_mm == pytest.approx((form / 625 + 10) / 0.95 + 35)
    assert (stock.grip_mm, stock.trim_mm, stock.loss, stock.cut_mm) == (35.0, 10.0, 0.05, None)


def test_hands_alternate_over_each() -> None:
    pintle, washer, whole = resolve(written()).components
    assert pintle.marks == ("left", "right", "left", "right")
    assert pintle.mirrored
    assert washer.marks == ("thick", "thin", "thick", "thin")
    assert not washer.mirrored
    assert whole.marks == ("", "")
    assert [(need.component, need.count) for need in whole.needs] == [("washer", 1), ("pintle", 2)]


def test_a_normalise_of_three_cycles_is_three_steps_each_with_its_rest() -> None:
    recipe = resolve(written())
    cycles = [one for one in recipe.components[0].steps if one.kind == "normalise"]
    assert [one.id for one in cycles] == ["normalise-1", "normalise-2", "normalise-3"]
    assert [(one.cycle, one.cycles) for one in cycles] == [(1, 3), (2, 3), (3, 3)]
    for one in cycles:
        assert one.rest is not None
        assert (one.rest.degc, one.rest.medium, one.rest.skipping) == (
            540.0,
            "still air",
            "matters",
        )
    annealed = step(recipe, "anneal")
    assert annealed.cycle == 0
    assert annealed.rest is not None
    assert (annealed.rest.degc, annealed.rest.medium_words) == (45.0, "ash")


def test_a_rest_knows_its_goal_its_place_and_what_skipping_means() -> None:
    recipe = resolve(written())
    rest, wait = step(recipe, "rest").rest, step(recipe, "wait").rest
    assert rest is not None
    assert wait is not None
    assert (rest.until, rest.degc, rest.seconds) == ("black", 480.0, None)
    assert (rest.medium, rest.medium_words, rest.skipping) == ("bed", "ash", "note")
    assert (wait.until, wait.degc, wait.seconds) == ("90 s", None, 90.0)


def test_the_range_of_heat_is_the_steps_own_or_that_of_the_steel() -> None:
    recipe = resolve(written())
    own, usual = step(recipe, "round-the-pin"), step(recipe, "set-down-the-pin")
    assert (own.start_degc, own.stop_degc) == (1100.0, 900.0)
    assert (usual.start_degc, usual.stop_degc) == (1150.0, 850.0)
    assert step(recipe, "grind-the-end").start_degc is None
    unknown = resolve(written(PINTLE.replace('"1045"', '"unknown"')))
    assert step(unknown, "set-down-the-pin").start_degc is None


def test_the_section_that_is_worked_is_the_last_that_was_made() -> None:
    recipe = resolve(written())
    first, second = step(recipe, "set-down-the-pin"), step(recipe, "round-the-pin")
    assert first.section is not None
    assert second.section is not None
    assert (first.section.a_mm, second.section.a_mm) == (25.0, 16.0)
    assert (first.to_long_mm, first.to_hot, first.to_mark_mm) == (55.0, True, 22.5)
    assert recipe.components[2].steps == ()


def test_words_for_the_end_and_ids_of_tools_are_made_where_they_are_not_given() -> None:
    recipe = resolve(written())
    first = step(recipe, "set-down-the-pin")
    assert first.done == "set down the pin done"
    assert step(recipe, "round-the-pin").done == "the pin is round"
    assert [(tool.id, tool.jig) for tool in first.tools] == [
        ("side-set", False),
        ("swage", False),
        ("bending-jig", True),
    ]


def test_the_cautions_are_the_recipes_own_and_those_of_the_work() -> None:
    recipe = resolve(written())
    assert recipe.cautions[0] == "zinc"
    assert {"black-is-hot", "eyes", "hearing", "power-hammer", "grinding"} <= set(recipe.cautions)
    assert "black-is-hot" not in step(recipe, "set-down-the-pin").cautions
    assert "grinding" in step(recipe, "grind-the-end").cautions


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ({"pots": 90.0}, '"pots" is no size of this recipe; the sizes are post'),
        ({"post": 30.0}, "size post: the size is 30 mm, less than the least, 40 mm"),
        ({"post": 201.0}, "size post: the size is 201 mm, more than the most, 200 mm"),
        ({"post": float("nan")}, "size post of nan mm is no length"),
        ({"post": -1.0}, "size post of -1 mm is no length"),
    ],
)
def test_sizes_that_cannot_be_are_refused(sizes: dict[str, float], words: str) -> None:
    with pytest.raises(ResolveError) as refused:
        resolve(written(), sizes)
    assert words in str(refused.value)


def test_every_refused_size_is_told_with_the_nearest_name() -> None:
    with pytest.raises(ResolveError) as refused:
        resolve(written(), {"pots": 90.0, "post": 1.0})
    assert len(refused.value.problems) == 2
    assert refused.value.problems[0].hint == 'did you mean "post"?'


def test_a_recipe_that_fails_only_at_the_orders_sizes_is_refused() -> None:
    recipe = written(PINTLE.replace('"post + 20 mm"', '"150 mm - post"'))
    resolve(recipe)
    with pytest.raises(ResolveError, match="comes to -50 mm"):
        resolve(recipe, {"post": 200.0})


def test_the_fingerprint_is_of_the_work_and_not_of_its_labels() -> None:
    first = process_hash(written())
    labels = PINTLE.replace('"Pintle"', '"Another"').replace('says = "Through', 'says = "For')
    labels = labels.replace('steel = "1045"', 'maker = "me"\nsteel = "1045"  # as bought\n')
    assert process_hash(written(labels)) == first
    moved = PINTLE.replace(
        '  until = "black"\n  in = "ash"\n', '  in = "ash"\n\n  until = "black"\n'
    )
    assert process_hash(written(moved)) == first
    for change in (("hand = 3", "hand = 4"), ('"black"', '"cold"'), ('steel = "1045"', "")):
        assert process_hash(written(PINTLE.replace(*change))) != first


@settings(max_examples=40)
@given(recipes())
def test_a_resolved_recipe_survives_the_journal(recipe: WrittenRecipe) -> None:
    resolved = resolve(recipe)
    assert msgspec.json.decode(msgspec.json.encode(resolved), type=Recipe) == resolved
    for component, made in zip(recipe.component, resolved.components, strict=True):
        assert len(made.marks) == component.each
        ids = [one.id for one in made.steps]
        assert len(set(ids)) == len(ids)
        assert len(ids) == sum(one.cycles for one in component.step)
