"""What the journal has taught about heats, as the floor and the process sheet want it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import HeatRecord, LearntSteps, StepKey, learn_heats
from forgelog.learn.records import done_steps, heat_records
from forgelog.recipe.resolved import FORGING_KINDS, Recipe
from forgelog.work.learning import own_heats
from forgelog.work.state import State

EARLY_PIECES = 4
"""Of a run, so many pieces are foretold one by one; further ones are as good as steady."""

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
    learnt = learnt_from(heat_records(done_steps(state, practice=practice)), newest.values())
    return with_own_figures(learnt, own_heats(state))


def learnt_from(
    records: Sequence[HeatRecord], recipes: Iterable[Recipe]
) -> dict[StepKey, LearntHeats]:
    """Heats of every step of some recipes that there is a record of.

    Args:
        records: Oldest first.
        recipes: As they are planned now; one of each id.
    """
    return learnt_steps(learn_heats(records), recipes)


def learnt_steps(learnt: LearntSteps, recipes: Iterable[Recipe]) -> dict[StepKey, LearntHeats]:
    """The same of what was learnt already."""
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
    steady = (heats.shown, heats.shown_low, heats.shown_high)
    early: list[tuple[int, int, int]] = []
    for run in range(1, EARLY_PIECES + 1):
        piece = learnt.ask(key, planned, run)
        early.append((piece.shown, piece.shown_low, piece.shown_high))
    while early and early[-1] == steady:
        early.pop()
    return LearntHeats(
        heats=heats.shown,
        low=heats.shown_low,
        high=heats.shown_high,
        records=heats.records,
        early=tuple(early),
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
        (component, step, method): _in_words(heats)
        for (of, component, step, method), heats in learnt.items()
        if of == recipe
    }


def _in_words(heats: LearntHeats) -> str:
    words = f"{heats.heats} most often"
    if heats.own:
        words = f"{heats.heats}, your own figure"
    if heats.low != heats.high:
        words = f"{heats.heats} ({heats.low} to {heats.high} most often)"
        words += ", your own figure" if heats.own else ""
    first = heats.at(1)[0]
    words += f", the first of a run {first}" if first != heats.heats else ""
    return f"{words}, from {heats.whose}" if heats.records or heats.others else words


def with_own_figures(
    learnt: Mapping[StepKey, LearntHeats], own: Mapping[StepKey, int]
) -> dict[StepKey, LearntHeats]:
    """What was learnt, with the figures that the smith took up in front of it.

    Args:
        learnt: By step.
        own: Planned heats that hold in place of the recipe's, by step.
    """
    found = dict(learnt)
    for key, heats in own.items():
        was = learnt.get(key) or LearntHeats(heats=heats, low=heats, high=heats, records=0)
        found[key] = msgspec.structs.replace(was, heats=heats, own=True)
    return found


def latest_recipes(state: State) -> dict[str, Recipe]:
    """The recipe of each id that was pinned last."""
    orders = sorted(state.orders.values(), key=lambda order: (order.taken_s, order.id))
    return {pin.id: pin for order in orders for pin in order.pins}
