"""Work without a recipe: the recipe of the order grows as the smith says what was done.

A component begins with one open step. Saying what it is puts the step in its place and another
open one after it, so that the next piece of the same component follows what the first one showed.
"""

from __future__ import annotations

from forgelog.recipe.resolved import Component, Recipe, Step, Stock
from forgelog.trade.sections import Section, area_mm2
from forgelog.work.changes import CannotBe, piece_at, put, replace, settled_place
from forgelog.work.facts import StepSaid
from forgelog.work.queries import component_of, recipe_of
from forgelog.work.state import WAITING, State

OPEN_SAYS = "Forge it as you mean to. When it is done, ENTER asks what it was and writes it down."


def open_step(number: int, heat: tuple[float, float] | None = None) -> Step:
    """The open step that is the component's so-manieth, from 1.

    Args:
        number: From 1.
        heat: Where to start and to stop forging, degC; None where it is not known.
    """
    start_degc, stop_degc = heat or (None, None)
    return Step(
        id=f"step-{number}",
        kind="forge",
        do="free work",
        done="it is done",
        says=OPEN_SAYS,
        open=True,
        start_degc=start_degc,
        stop_degc=stop_degc,
    )


def free_component(
    component: str,
    name: str,
    section: Section,
    each: int,
    cut_mm: float | None,
    heat: tuple[float, float] | None = None,
) -> Component:
    """A component of which nothing is known but its bar.

    Args:
        component: Its id.
        name: What the smith calls it.
        section: The bar.
        each: How many in a set, 1 or more.
        cut_mm: The length that was cut, where it is known.
        heat: Where the steel is started and stopped, degC; None where it is not known.
    """
    volume_mm3 = area_mm2(section) * (cut_mm or 0.0)
    return Component(
        id=component,
        name=name,
        marks=("",) * each,
        each=each,
        stock=Stock(section=section, volume_mm3=volume_mm3, sum_mm=0.0, cut_mm=cut_mm),
        steps=(open_step(1, heat),),
    )


def step_said(state: State, fact: StepSaid) -> State:
    """The open step is said, or a said one is said anew; or there is nothing more to do."""
    piece = piece_at(state, fact.workpiece)
    component = component_of(state, piece)
    steps = component.steps
    at = next((i for i, s in enumerate(steps) if s.open), None)
    if fact.step is None:
        if at is None:
            raise CannotBe(f"{piece.id} has no open step")
        return _ended(_with_steps(state, fact.workpiece, steps[:at]), fact.workpiece, at)
    if fact.step.open:
        raise CannotBe("a step that is said is open no more")
    known = next((i for i, s in enumerate(steps) if s.id == fact.step.id), None)
    if known is None:
        raise CannotBe(f"{piece.id} has no step {fact.step.id}")
    if known == at:
        again = replace(steps[at], id=f"step-{at + 2}")
        return _with_steps(state, piece.id, (*steps[:at], fact.step, again))
    if recipe_of(state, piece).process_hash:
        raise CannotBe(f"{piece.id} follows a recipe")
    return _with_steps(state, piece.id, (*steps[:known], fact.step, *steps[known + 1 :]))


def _with_steps(state: State, workpiece: str, steps: tuple[Step, ...]) -> State:
    """The recipe that the piece follows, with other steps of its component."""
    piece = state.pieces[workpiece]
    order = state.orders[piece.order]
    pinned = order.pins[piece.pin]
    components = tuple(
        replace(c, steps=steps) if c.id == piece.component else c for c in pinned.components
    )
    recipe: Recipe = replace(pinned, components=components)
    pins = (*order.pins[: piece.pin], recipe, *order.pins[piece.pin + 1 :])
    return replace(  # type: ignore[no-any-return]
        state, orders={**state.orders, order.id: replace(order, pins=pins)}
    )


def _ended(state: State, workpiece: str, at: int) -> State:
    """Pieces of the component that waited for the open step are finished."""
    said = state.pieces[workpiece]
    for piece in list(state.pieces.values()):
        alike = (piece.order, piece.component, piece.pin) == (said.order, said.component, said.pin)
        if alike and piece.step == at and piece.place == WAITING and piece.begun:
            state = put(state, settled_place(state, piece))
    return state
