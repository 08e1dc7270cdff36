"""What has changed between the recipe that an order works from and the recipe as it is now."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.work.state import FINISHED, FITTED, SCRAPPED, Order, State, Workpiece


class ChangedStep(msgspec.Struct, frozen=True, kw_only=True):
    """A step that differs, or one that is there only before or only now."""

    component: str
    """Id of the component."""
    component_name: str
    step: str
    """Id of the step; "" where it is the component itself that differs."""
    do: str
    """What the step says is to be done."""
    how: str
    """changed, new or gone."""
    fields: tuple[str, ...] = ()
    """Of a changed one, the fields of the record that differ."""


def changed_steps(before: Recipe, now: Recipe) -> tuple[ChangedStep, ...]:
    """Every component and step that is not the same in both, in the order of the recipe.

    Names, words and licence of the recipe's head are no process and are not looked at.

    Args:
        before: As the order has it pinned.
        now: As the file gives it at the order's sizes.
    """
    old = {c.id: c for c in before.components}
    new = {c.id: c for c in now.components}
    found: list[ChangedStep] = []
    for component in now.components:
        if component.id not in old:
            found.append(_whole(component, "new"))
        else:
            found.extend(_between(old[component.id], component))
    found.extend(_whole(c, "gone") for c in before.components if c.id not in new)
    return tuple(found)


def differing_fields(before: msgspec.Struct, now: msgspec.Struct) -> tuple[str, ...]:
    """Names of the fields in which two records of one kind differ."""
    return tuple(
        name for name in before.__struct_fields__ if getattr(before, name) != getattr(now, name)
    )


def next_step_in(piece: Workpiece, steps: tuple[Step, ...], now: Component | None) -> str | None:
    """The step at which a piece goes on when it goes over to a changed recipe.

    It is the step that it stands at, else the first later one that both know, else the one after
    the last that is done and known. None where the piece cannot go over.

    Args:
        piece: The workpiece.
        steps: Of the recipe that it follows now.
        now: Its component in the new recipe; None where that has it no more.
    """
    if now is None or not now.steps or piece.place in (FINISHED, FITTED, SCRAPPED):
        return None
    known = [step.id for step in now.steps]
    for step in steps[piece.step :]:
        if step.id in known:
            return step.id
    for step in reversed(steps[: piece.step]):
        if step.id in known:
            after = known.index(step.id) + 1
            return known[after] if after < len(known) else None
    return known[0]


def moved_pieces(state: State, order: Order, now: Recipe, *, begun_too: bool) -> dict[str, str]:
    """Which workpieces go over to a new recipe, and at which step they go on.

    Args:
        state: What stands.
        order: The order.
        now: The new recipe.
        begun_too: True for every piece from its next step; False for pieces not begun only.
    """
    components = {c.id: c for c in now.components}
    moved: dict[str, str] = {}
    for piece in state.pieces.values():
        if piece.order != order.id or (piece.begun and not begun_too):
            continue
        pinned = {c.id: c for c in order.pins[piece.pin].components}
        component = components.get(piece.component)
        step = next_step_in(piece, pinned[piece.component].steps, component)
        if step is not None:
            moved[piece.id] = step
    return moved


def finished_with(
    state: State, order: str, changed: Iterable[ChangedStep]
) -> dict[str, tuple[str, ...]]:
    """Workpieces that have finished a step which has changed since, and those steps' ids.

    One that was cut from another stock, or to another length, has the id "" before all others.

    Args:
        state: What stands.
        order: The order's id.
        changed: As `changed_steps` gives them.
    """
    by_component: dict[str, set[str]] = {}
    stock: set[str] = set()
    for one in changed:
        if one.how == "changed" and not one.step and "stock" in one.fields:
            stock.add(one.component)
        by_component.setdefault(one.component, set()).add(one.step)
    found: dict[str, tuple[str, ...]] = {}
    for piece in state.pieces.values():
        if piece.order != order or piece.place == SCRAPPED:
            continue
        steps = by_component.get(piece.component, set())
        done = tuple(dict.fromkeys(r.step for r in piece.done if r.step in steps))
        cut = piece.component in stock and piece.begun
        if done or cut:
            found[piece.id] = ("", *done) if cut else done
    return found


def _between(before: Component, now: Component) -> Iterable[ChangedStep]:
    heads = tuple(f for f in differing_fields(before, now) if f not in ("steps", "name"))
    if heads:
        yield ChangedStep(
            component=now.id,
            component_name=now.name,
            step="",
            do=now.name,
            how="changed",
            fields=heads,
        )
    old = {s.id: s for s in before.steps}
    for step in now.steps:
        if step.id not in old:
            yield _step(now, step, "new")
        elif old[step.id] != step:
            yield _step(now, step, "changed", differing_fields(old[step.id], step))
    known = {s.id for s in now.steps}
    for step in before.steps:
        if step.id not in known:
            yield _step(now, step, "gone")


def _step(component: Component, step: Step, how: str, fields: tuple[str, ...] = ()) -> ChangedStep:
    return ChangedStep(
        component=component.id,
        component_name=component.name,
        step=step.id,
        do=step.do,
        how=how,
        fields=fields,
    )


def _whole(component: Component, how: str) -> ChangedStep:
    return ChangedStep(
        component=component.id,
        component_name=component.name,
        step="",
        do=component.name,
        how=how,
    )
