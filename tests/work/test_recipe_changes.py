from __future__ import annotations

import pytest

from forgelog.recipe.resolved import Component, Step
from forgelog.work.recipe_changes import next_step_in
from forgelog.work.state import Workpiece


def steps(*ids: str) -> tuple[Step, ...]:
    return tuple(Step(id=i, kind="forge", do=i, done=i) for i in ids)


def component(*ids: str) -> Component:
    return Component(id="pin", name="pin", steps=steps(*ids))


@pytest.mark.parametrize(
    ("at", "now", "goes_on_at"),
    [
        (1, ("draw", "bend", "file"), "bend"),  # nothing of its way has changed
        (1, ("draw", "upset", "bend", "file"), "bend"),  # a new step before it is not gone back to
        (1, ("draw", "file"), "file"),  # its step is gone: the next one that both know
        (2, ("draw", "bend", "oil"), "oil"),  # its last step is another now
        (2, ("draw", "bend"), None),  # nothing is left for it to do
        (0, ("cut", "weld"), "cut"),  # all is new
    ],
)
def test_where_a_piece_goes_on(at: int, now: tuple[str, ...], goes_on_at: str | None) -> None:
    piece = Workpiece(id="o/pin/1", order="o", component="pin", serial=1, step=at)
    assert next_step_in(piece, steps("draw", "bend", "file"), component(*now)) == goes_on_at


@pytest.mark.parametrize("place", ["finished", "fitted", "scrapped"])
def test_what_is_done_with_does_not_go_over(place: str) -> None:
    piece = Workpiece(id="o/pin/1", order="o", component="pin", serial=1, place=place)
    assert next_step_in(piece, steps("draw"), component("draw")) is None


def test_a_piece_whose_component_is_gone_keeps_its_recipe() -> None:
    piece = Workpiece(id="o/pin/1", order="o", component="pin", serial=1)
    assert next_step_in(piece, steps("draw"), None) is None
