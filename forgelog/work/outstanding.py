"""What of an order is still to be done before it can go to the customer."""

from __future__ import annotations

import msgspec

from forgelog.work.queries import live, pieces_of, steps_of
from forgelog.work.state import SCRAPPED, Order, State, Workpiece


class StillToDo(msgspec.Struct, frozen=True, kw_only=True):
    """A workpiece with steps still before it."""

    workpiece: str
    slot: str
    steps: tuple[str, ...]
    """What is to be done, in order."""


def still_to_do(state: State, order: Order) -> tuple[StillToDo, ...]:
    """Every workpiece of an order that is not finished; spares hold nothing up.

    Args:
        state: What stands.
        order: One whose workpieces have been made.
    """
    return tuple(
        StillToDo(
            workpiece=piece.id,
            slot=piece.slot,
            steps=tuple(step.do for step in steps_of(state, piece)[piece.step :]),
        )
        for piece in pieces_of(state, order.id)
        if live(piece) and not piece.spare
    )


def left_out(state: State, order: Order) -> tuple[Workpiece, ...]:
    """Scrapped pieces that nothing took the slot of: the customer gets as many fewer."""
    replaced = {p.remade_from for p in pieces_of(state, order.id)}
    return tuple(
        p
        for p in pieces_of(state, order.id)
        if p.place == SCRAPPED and p.id not in replaced and not p.spare
    )


def spares_left(state: State, order: Order) -> tuple[Workpiece, ...]:
    """Spares that took no slot, finished or not; scrapped ones are none."""
    return tuple(p for p in pieces_of(state, order.id) if p.spare and p.place != SCRAPPED)


def spares_for(state: State, gone: Workpiece) -> tuple[Workpiece, ...]:
    """Spares that could take the slot of a piece, those that are furthest first."""
    order = state.orders[gone.order]
    found = [
        p
        for p in spares_left(state, order)
        if (p.component, p.mark) == (gone.component, gone.mark) and p.id != gone.id
    ]
    return tuple(sorted(found, key=lambda p: (-p.step, p.serial)))
