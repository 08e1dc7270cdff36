"""What is still undone of an order, what spares it has, and what is left out, in words."""

from __future__ import annotations

from forgelog.recipe.plain import harmless
from forgelog.work.outstanding import left_out, spares_left, still_to_do
from forgelog.work.queries import steps_of
from forgelog.work.state import Order, State, Workpiece

MOST_PIECES = 12
"""So many undone pieces are told one by one."""
MOST_STEPS = 3


def undone_lines(state: State, order: Order) -> tuple[str, ...]:
    """What is still to be done: one line for all, then one a piece; nothing where all is done.

    Args:
        state: What stands.
        order: An open order.
    """
    if not order.pins:
        return ("nothing of it has been begun",)
    left = still_to_do(state, order)
    if not left:
        return ()
    steps = sum(len(one.steps) for one in left)
    first = f"{_counted(steps, 'step')} on {_counted(len(left), 'piece')} still to do"
    lines = [f"{harmless(one.slot)}: {_steps(one.steps)}" for one in left[:MOST_PIECES]]
    if len(left) > MOST_PIECES:
        lines.append(f"and {len(left) - MOST_PIECES} pieces more")
    return (first, *lines)


def spare_lines(state: State, order: Order) -> tuple[str, ...]:
    """The spares that took no slot, a line each: "hook left spare 1: 3 of 7 steps"."""
    return tuple(_spare(state, piece) for piece in spares_left(state, order))


def left_out_lines(state: State, order: Order) -> tuple[str, ...]:
    """Scrapped pieces that the customer gets no other for, a line each."""
    return tuple(
        f"{harmless(piece.slot)}: scrapped ({harmless(piece.scrapped_why)}), no other made"
        for piece in left_out(state, order)
    )


def spares_words(order: Order) -> tuple[str, ...]:
    """Spares that were asked for and are made at the first lay-out: "1 hook, left"."""
    if order.pins:
        return ()
    return tuple(
        harmless(f"{one.count} {one.component}" + (f", {one.mark}" if one.mark else ""))
        for one in order.spares
    )


def _spare(state: State, piece: Workpiece) -> str:
    steps = len(steps_of(state, piece))
    far = "finished" if piece.step >= steps else f"{piece.step} of {steps} steps"
    return f"{harmless(piece.slot)}: {far}"


def _steps(steps: tuple[str, ...]) -> str:
    shown = ", ".join(harmless(step) for step in steps[:MOST_STEPS])
    more = len(steps) - MOST_STEPS
    return f"{shown} and {more} more" if more > 0 else shown


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
