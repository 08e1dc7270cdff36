"""An apprentice who knows nothing of the recipe works by the card and the bottom line alone.

Every run is one floor with one to three orders of chance, worked by somebody who is sloppy for a
while. Set FORGELOG_APPRENTICE to a number of runs to try more than the usual ones.
"""

from __future__ import annotations

import os
from random import Random
from typing import get_args

import pytest

from forgelog.floor.settings import FloorSettings
from forgelog.recipe.resolved import Recipe
from forgelog.units import UnitSystem
from forgelog.work import facts
from forgelog.work.state import FINISHED, FITTED, SCRAPPED, State
from tests.floor.apprentice import Apprentice
from tests.floor.days import Days
from tests.floor.shop import recipe_of_file
from tests.properties.strategies_orders import small_recipe

RUNS = int(os.environ.get("FORGELOG_APPRENTICE", "320"))
"""The usual 320 are 513 orders."""
BLOCKS = 16
DONE: set[type] = set()
"""Kinds of facts that the apprentice has made so far, in this process."""
ELSEWHERE = {
    *(facts.OrderDelivered, facts.SparesAdded),
    facts.StepSaid,  # wants work without a recipe: test_free_work.py does it
    facts.SpareUsed,  # wants a spare, which is asked for at the desk: test_spares.py does it
    *(facts.OrderPromised, facts.OrderHeld, facts.OrderFreed, facts.OrderClosed),
    *(facts.SizeChanged, facts.BarChosen),
    *(facts.BarCut, facts.BarNotCut, facts.CutProved, facts.OffcutKept, facts.OffcutUsed),
    *(facts.FuelUsed, facts.Stowed, facts.SuggestionDeclined),
    *(facts.SuggestionAccepted, facts.SuggestionReopened),
    *(facts.QuoteMade, facts.QuoteAnswered, facts.OrderCost, facts.HoursTold),
}
"""Kinds that are made away from the fire."""
FIVE = (
    "gate-hinge-set",
    "leaf-coat-hooks",
    "poker-and-shovel",
    "scroll-shelf-brackets",
    "cross-peen-hammer",
)


def worked(recipes: list[Recipe], rng: Random, *, slips: int, name: str) -> State:
    """The orders of these recipes, worked to their end; what stands then."""
    missing = {"hook-jig": "to be made"} if rng.random() < 0.3 else {}
    settings = FloorSettings(
        tools=missing, units=rng.choice((UnitSystem.MM, UnitSystem.MM, UnitSystem.INCH))
    )
    days = Days(
        *recipes,
        settings=settings,
        places=rng.choice((1, 2, 3, 4)),
        method=rng.choice(("hand", "hand", "power")),
    )
    apprentice = Apprentice(days, rng, sloppy=0.25)
    try:
        apprentice.work(slips=slips)
    except Exception as problem:
        last = "\n".join(days.history[-30:])
        raise AssertionError(f"{name}: {problem}\n{last}") from problem
    DONE.update(type(fact) for file in days.files for press in file for fact in press.facts)
    return days.state


def check_ended(state: State) -> None:
    """Every place of the orders is filled, or what was to fill it was scrapped for good."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for piece in state.pieces.values():
        places.setdefault((piece.order, piece.component, piece.slot), []).append(piece.place)
    for slot, found in places.items():
        filled = [place for place in found if place != SCRAPPED]
        assert len(filled) <= 1, f"{slot} is filled twice"
        assert all(place in (FINISHED, FITTED) for place in filled), slot
    for piece in state.pieces.values():
        remade = any(p.remade_from == piece.id for p in state.pieces.values())
        assert piece.place == SCRAPPED or not remade
        for part in piece.parts:
            assert state.pieces[part].place in (FITTED, FINISHED)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_every_order_comes_to_its_end_whatever_slips_on_the_way(block: int) -> None:
    for seed in range(block, RUNS, BLOCKS):
        rng = Random(seed)
        count = rng.choice((1, 1, 1, 2, 2, 3))
        recipes = [small_recipe(rng, f"order-of-chance-{n + 1}") for n in range(count)]
        slips = rng.choice((0, 2, 4, 8))
        check_ended(worked(recipes, rng, slips=slips, name=f"seed {seed}"))


def test_the_apprentice_has_done_all_that_can_be_done_at_the_fire(
    request: pytest.FixtureRequest,
) -> None:
    here = [item for item in request.session.items if "whatever_slips" in item.name]
    if len(here) < BLOCKS or hasattr(request.config, "workerinput"):
        pytest.skip("only some of his runs were in this process")
    missing = set(get_args(facts.AnyFact)) - DONE - ELSEWHERE
    assert not missing, sorted(kind.__name__ for kind in missing)


@pytest.mark.parametrize("name", FIVE)
def test_the_shipped_recipes_come_to_their_end_by_the_bottom_line(name: str) -> None:
    state = worked([recipe_of_file(name)], Random(7), slips=10, name=name)
    check_ended(state)
    assert sum(piece.heats_all for piece in state.pieces.values()) > 10


def test_two_shipped_recipes_at_one_fire_come_to_their_end() -> None:
    recipes = [recipe_of_file("cross-peen-hammer"), recipe_of_file("poker-and-shovel")]
    check_ended(worked(recipes, Random(3), slips=6, name="two at one fire"))
