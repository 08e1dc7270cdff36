"""Which heat of about how many, and whose figure that is."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from forgelog.floor.settings import LearntHeats
from tests.floor.planning.test_from_state import problem_of
from tests.floor.recipes import hooks
from tests.floor.shop import Shop

LEARNT = LearntHeats(heats=3, low=2, high=4, records=7, early=((5, 3, 7), (4, 3, 5)))


def _shop(**changes: Any) -> Shop:
    shop = Shop(hooks(2))
    recipe = shop.state.orders["o1"].pins[0]
    key = (recipe.id, "hook", recipe.components[0].steps[0].id, "hand")
    learnt = {key: msgspec.structs.replace(LEARNT, **changes)}
    shop.settings = msgspec.structs.replace(shop.settings, learnt=learnt)
    return shop


def test_the_first_piece_of_a_run_is_told_its_own_heats() -> None:
    view = _shop().view()
    assert view.heats == "heat 1 of about 5"
    assert view.heats_from == "3 to 7 most often, from 7 of yours"


def test_the_second_piece_is_told_less_once_the_first_is_done() -> None:
    shop = _shop()
    for key in ("space", "space"):
        shop.press(key, 200.0)
    shop.press("enter", 20.0)
    shop.choose(shop.piece("hook", 2))
    assert shop.view().heats == "heat 1 of about 4"


def test_the_plan_knows_that_the_first_piece_takes_more() -> None:
    order = problem_of(_shop()).problem.orders[0]
    assert [piece.components[0].steps[0].heats for piece in order.pieces] == [5, 4]


def test_a_figure_that_was_taken_up_holds_for_every_piece_and_says_whose_it_is() -> None:
    shop = _shop(heats=4, own=True)
    view = shop.view()
    assert view.heats == "heat 1 of about 4"
    assert view.heats_from == "your own figure (2 to 4 most often)"
    steps = problem_of(shop).problem.orders[0].pieces[0].components[0].steps
    assert steps[0].heats == 4


@pytest.mark.parametrize(("run", "heats"), [(0, 3), (1, 5), (2, 4), (3, 3), (99, 3)])
def test_pieces_beyond_the_early_ones_are_alike(run: int, heats: int) -> None:
    assert LEARNT.at(run)[0] == heats


def test_a_figure_without_records_is_the_smiths_alone() -> None:
    own = LearntHeats(heats=4, low=4, high=4, records=0, own=True)
    assert own.from_words() == "your own figure"
