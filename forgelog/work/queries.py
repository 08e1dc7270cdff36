"""Plain questions to the state: which recipe, which step, who else is in the set."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.work.state import (
    BENCH,
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    RESTING,
    SCRAPPED,
    Order,
    State,
    Workpiece,
)


def recipe_of(state: State, piece: Workpiece) -> Recipe:
    """The recipe that this piece follows."""
    return state.orders[piece.order].pins[piece.pin]


def component_of(state: State, piece: Workpiece) -> Component:
    """The component that this piece is to be."""
    for component in recipe_of(state, piece).components:
        if component.id == piece.component:
            return component
    raise KeyError(piece.component)


def steps_of(state: State, piece: Workpiece) -> tuple[Step, ...]:
    """All steps of the piece, in order."""
    return component_of(state, piece).steps


def step_of(state: State, piece: Workpiece) -> Step | None:
    """The step the piece stands at; None when all are done."""
    steps = steps_of(state, piece)
    return steps[piece.step] if piece.step < len(steps) else None


def step_index(steps: tuple[Step, ...], step_id: str) -> int | None:
    """Where the step stands in the recipe; None when it does not."""
    for index, step in enumerate(steps):
        if step.id == step_id:
            return index
    return None


def order_open(order: Order) -> bool:
    """Neither closed nor held."""
    return order.closed is None and order.held is None


def live(piece: Workpiece) -> bool:
    """Still being worked on: not finished, fitted or scrapped."""
    return piece.place not in (FINISHED, FITTED, SCRAPPED)


def pieces_of(state: State, order: str) -> Iterator[Workpiece]:
    """The workpieces of an order, scrapped ones too."""
    return (p for p in state.pieces.values() if p.order == order)


def in_hand(state: State) -> Workpiece | None:
    """The piece in the smith's hand; at most one."""
    for piece in state.pieces.values():
        if piece.place == HAND:
            return piece
    return None


def in_fire(state: State) -> list[Workpiece]:
    """Pieces in the fire, longest first."""
    found = [p for p in state.pieces.values() if p.place == FIRE]
    return sorted(found, key=lambda p: (p.since_s, p.id))


def resting(state: State) -> list[Workpiece]:
    """Pieces that rest, longest first."""
    found = [p for p in state.pieces.values() if p.place == RESTING]
    return sorted(found, key=lambda p: (p.since_s, p.id))


def on_bench(state: State) -> list[Workpiece]:
    """Pieces on the bench, running clock first."""
    found = [p for p in state.pieces.values() if p.place == BENCH]
    return sorted(found, key=lambda p: (not p.running, p.since_s, p.id))


def left_of(piece: Workpiece) -> int:
    """How many parts of a finished piece are still free: 1, or what is left of a handful."""
    return piece.lot - piece.used if piece.lot else 1


def parts_for(state: State, assembly: Workpiece) -> tuple[tuple[str, ...], str]:
    """Finished pieces that an assembly would take up now, and what is still missing.

    Pieces of the assembly's own set and mark go first; pieces already fitted are not taken, nor
    spares that have taken no slot.

    Returns:
        The ids (empty when something is missing; one of a handful as often as parts of it are
        taken) and the words of what is missing ("" if nothing): "2 nuts more".
    """
    component = component_of(state, assembly)
    taken: list[str] = []
    for need in component.needs:
        count = need.count
        ready = [
            p
            for p in state.pieces.values()
            if p.order == assembly.order
            and p.component == need.component
            and p.place == FINISHED
            and not p.fitted_in
            and not p.spare
        ]
        ready.sort(key=lambda p: (p.set != assembly.set, p.mark != assembly.mark, p.serial))
        have = sum(left_of(p) for p in ready)
        if have < count:
            name = next(
                (c.name for c in recipe_of(state, assembly).components if c.id == need.component),
                need.component,
            )
            return (), f"{count - have} {name} more"
        for p in ready:
            if count <= 0:
                break
            share = min(count, left_of(p))
            taken.extend([p.id] * share)
            count -= share
    return tuple(taken), ""


def place_of_session(state: State) -> int:
    """Where the record of the running session stands among all; -1 where there is none."""
    # It is most often the last of thousands.
    for index in range(len(state.sessions) - 1, -1, -1):
        if state.sessions[index].id == state.session:
            return index
    return -1
