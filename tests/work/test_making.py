from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.work.making import make_pieces
from forgelog.work.progress import planned_progress

STEP = Step(id="draw", kind="forge", do="draw", done="drawn", heats={"hand": 1})


def recipe(*components: Component) -> Recipe:
    return Recipe(id="r", name="R", process_hash="0", components=components)


PAIR = Component(id="strap", name="strap", each=2, marks=("left", "right"), steps=(STEP,))
HOOKS = Component(id="hook", name="hook", each=3, marks=("", "", ""), steps=(STEP, STEP))
RIVETS = Component(id="rivet", name="rivet", each=8, lot=True, steps=(STEP,))
HINGE = Component(id="hinge", name="hinge", each=2, steps=(STEP,))


def test_a_pair_is_made_of_both_hands_in_each_set() -> None:
    made = make_pieces("anvil7k-3f9q", recipe(PAIR), 2)
    assert [(p.id, p.mark, p.set, p.slot) for p in made] == [
        ("anvil7k-3f9q/strap/1", "left", 1, "strap left 1"),
        ("anvil7k-3f9q/strap/2", "right", 1, "strap right 1"),
        ("anvil7k-3f9q/strap/3", "left", 2, "strap left 2"),
        ("anvil7k-3f9q/strap/4", "right", 2, "strap right 2"),
    ]


def test_alike_pieces_have_no_mark_and_a_number() -> None:
    made = make_pieces("o", recipe(HOOKS), 1)
    assert [p.slot for p in made] == ["hook 1", "hook 2", "hook 3"]
    assert {p.mark for p in made} == {""}


def test_small_alike_parts_are_one_handful_for_the_whole_order() -> None:
    made = make_pieces("o", recipe(RIVETS, PAIR), 3)
    (rivets,) = [p for p in made if p.component == "rivet"]
    assert (rivets.lot, rivets.slot) == (24, "rivet 1")
    assert all(p.lot == 0 for p in made if p.component != "rivet")


def test_assemblies_are_workpieces_as_well() -> None:
    assert [p.component for p in make_pieces("o", recipe(HINGE), 1)] == ["hinge", "hinge"]


def test_pieces_can_be_made_later_without_using_a_serial_again() -> None:
    made = make_pieces("o", recipe(PAIR, HOOKS), 1, after=7, only={"hook"})
    assert [(p.component, p.serial) for p in made] == [("hook", 8), ("hook", 9), ("hook", 10)]


components = st.lists(st.tuples(st.integers(1, 6), st.booleans()), min_size=1, max_size=5).map(
    lambda rows: [
        Component(id=f"c{i}", name=f"part {i % 2}", each=each, lot=lot, steps=(STEP,))
        for i, (each, lot) in enumerate(rows)
    ]
)


@given(components, st.integers(1, 9))
def test_no_id_serial_or_slot_is_given_twice_and_none_is_missing(
    parts: list[Component], count: int
) -> None:
    whole = recipe(*parts)
    made = make_pieces("o", whole, count)
    assert len({p.id for p in made}) == len(made)
    assert [p.serial for p in made] == list(range(1, len(made) + 1))
    assert len({p.slot for p in made}) == len(made)
    for part in parts:
        mine = [p for p in made if p.component == part.id]
        assert sum(p.lot or 1 for p in mine) == part.each * count
        assert len(mine) == (1 if part.lot else part.each * count)
    assert planned_progress(whole, count).steps == len(made)


@pytest.mark.parametrize("count", [1, 4])
def test_an_order_that_is_not_begun_has_all_its_steps_before_it(count: int) -> None:
    far = planned_progress(recipe(PAIR, HOOKS, RIVETS), count)
    assert (far.done, far.steps) == (0, 2 * count + 6 * count + 1)
    assert far.words == f"0 of {8 * count + 1} steps"
    assert not far.finished
