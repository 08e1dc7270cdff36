"""The workpieces of an order, made from its recipe."""

from __future__ import annotations

from collections.abc import Container

from forgelog.recipe.resolved import Component, Recipe
from forgelog.work.facts import NewPiece
from forgelog.work.ids import workpiece_id
from forgelog.work.state import Order, Workpiece


def make_pieces(
    order: str,
    recipe: Recipe,
    count: int,
    *,
    after: int = 0,
    only: Container[str] | None = None,
) -> tuple[NewPiece, ...]:
    """Every workpiece that an order starts with, set by set.

    Small alike parts are one workpiece for the whole order, a lot with a counter. Assemblies are
    workpieces too: they take up their parts when those are finished.

    Args:
        order: The order's id.
        recipe: At the order's sizes.
        count: How many sets, 1 or more.
        after: Highest serial that the order has given out already.
        only: Ids of the components to make; None for all.
    """
    made: list[NewPiece] = []
    slots: dict[str, int] = {}

    def add(component: Component, mark: str, set_number: int, lot: int) -> None:
        serial = after + len(made) + 1
        place = f"{component.name} {mark}".strip()
        slots[place] = slots.get(place, 0) + 1
        made.append(
            NewPiece(
                id=workpiece_id(order, component.id, serial),
                component=component.id,
                serial=serial,
                mark=mark,
                set=set_number,
                slot=f"{place} {slots[place]}",
                lot=lot,
            )
        )

    wanted = [c for c in recipe.components if only is None or c.id in only]
    for component in wanted:
        if component.lot:
            add(component, "", 1, component.each * count)
    for set_number in range(1, count + 1):
        for component in wanted:
            if component.lot:
                continue
            for number in range(component.each):
                add(component, _mark(component, number), set_number, 0)
    return tuple(made)


def again(order: Order, piece: Workpiece, *, after: int | None = None) -> NewPiece:
    """A new workpiece in the slot of one that was scrapped, with a serial of its own.

    Args:
        order: Its order.
        piece: The scrapped one.
        after: Highest serial given out so far, where it is more than the order knows of.
    """
    serial = (order.serials if after is None else after) + 1
    return NewPiece(
        id=workpiece_id(piece.order, piece.component, serial),
        component=piece.component,
        serial=serial,
        mark=piece.mark,
        set=piece.set,
        slot=piece.slot,
        lot=piece.lot,
        remade_from=piece.id,
        spare=piece.spare,
    )


def make_spares(
    order: str, component: Component, mark: str, count: int, *, after: int, before: int = 0
) -> tuple[NewPiece, ...]:
    """Workpieces beyond the slots of an order.

    Args:
        order: The order's id.
        component: What they are to be.
        mark: Their hand or variant; "" where all are alike.
        count: How many.
        after: Highest serial that the order has given out already.
        before: How many such spares were made before; they are numbered on.
    """
    place = f"{component.name} {mark}".strip()
    return tuple(
        NewPiece(
            id=workpiece_id(order, component.id, after + number),
            component=component.id,
            serial=after + number,
            mark=mark,
            slot=f"{place} spare {before + number}",
            spare=True,
        )
        for number in range(1, count + 1)
    )


def make_all(order: Order, recipe: Recipe) -> tuple[NewPiece, ...]:
    """Every workpiece of an order at its first lay-out: its slots, then the spares it is to have.

    Args:
        order: Before it has any workpiece.
        recipe: At the order's sizes.
    """
    made = make_pieces(order.id, recipe, order.count)
    components = {c.id: c for c in recipe.components}
    before: dict[tuple[str, str], int] = {}
    for wanted in order.spares:
        component = components.get(wanted.component)
        if component is None:
            continue
        key = wanted.component, wanted.mark
        made += make_spares(
            order.id,
            component,
            wanted.mark,
            wanted.count,
            after=len(made),
            before=before.get(key, 0),
        )
        before[key] = before.get(key, 0) + wanted.count
    return made


def _mark(component: Component, number: int) -> str:
    return component.marks[number] if number < len(component.marks) else ""
