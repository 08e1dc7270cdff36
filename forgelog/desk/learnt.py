"""What the journal has taught about heats, as the floor and the process sheet want it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import HeatRecord, LearntSteps, StepKey, learn_heats
from forgelog.learn.records import done_steps, heat_records
from forgelog.recipe.resolved import FORGING_KINDS, Recipe
from forgelog.work.state import State

ENOUGH_RECORDS = 1
"""With fewer pieces of his own at a step, the smith is shown the recipe's plan."""


def learnt_heats(
    state: State, recipes: Iterable[Recipe] = (), *, practice: bool = False
) -> dict[StepKey, LearntHeats]:
    """Heats of every step that the smith has made, by recipe, component, step and method.

    Steps without a record of their own are not in it: for them the recipe's plan holds.

    Args:
        state: What stands on all orders, closed ones too.
        recipes: Recipes as they are planned now; those that orders work from are known already.
        practice: True to learn from practice sessions alone.
    """
    newest = latest_recipes(state) | {recipe.id: recipe for recipe in recipes}
    return learnt_from(heat_records(done_steps(state, practice=practice)), newest.values())


def learnt_from(
    records: Sequence[HeatRecord], recipes: Iterable[Recipe]
) -> dict[StepKey, LearntHeats]:
    """Heats of every step of some recipes that there is a record of.

    Args:
        records: Oldest first.
        recipes: As they are planned now; one of each id.
    """
    learnt = learn_heats(records)
    found: dict[StepKey, LearntHeats] = {}
    for recipe in recipes:
        for component in recipe.components:
            for step in component.steps:
                if step.kind not in FORGING_KINDS:
                    continue
                for method, planned in step.heats.items():
                    key = (recipe.id, component.id, step.id, method)
                    if (heats := shown_heats(learnt, key, planned)) is not None:
                        found[key] = heats
    return found


def shown_heats(learnt: LearntSteps, key: StepKey, planned: int) -> LearntHeats | None:
    """What is shown of one step; None where there are not enough records of its own."""
    heats = learnt.ask(key, planned)
    if heats.records < ENOUGH_RECORDS:
        return None
    return LearntHeats(
        heats=heats.shown,
        low=heats.shown_low,
        high=heats.shown_high,
        records=heats.records,
    )


def heats_in_words(
    learnt: Mapping[StepKey, LearntHeats], recipe: str
) -> dict[tuple[str, str, str], str]:
    """What a recipe's steps have taken so far, by component, step and method, for sheets.

    Args:
        learnt: Of all recipes.
        recipe: Id of the recipe.

    Returns:
        Words like "4 (3 to 5 most often), from 7 of yours".
    """
    return {
        (component, step, method): f"{_range(heats)}, from {heats.records} of yours"
        for (of, component, step, method), heats in learnt.items()
        if of == recipe
    }


def _range(heats: LearntHeats) -> str:
    if heats.low == heats.high:
        return f"{heats.heats} most often"
    return f"{heats.heats} ({heats.low} to {heats.high} most often)"


def latest_recipes(state: State) -> dict[str, Recipe]:
    """The recipe of each id that was pinned last."""
    orders = sorted(state.orders.values(), key=lambda order: (order.taken_s, order.id))
    return {pin.id: pin for order in orders for pin in order.pins}
