"""What a press brings along that no key says: a jig is set, a tool of the shop is finished."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.floor.choices import Facts
from forgelog.work.apply import CannotBe, happened
from forgelog.work.facts import JigSet, Redone, ToolSeen, Undone
from forgelog.work.progress import progress_of
from forgelog.work.queries import step_of
from forgelog.work.state import BENCH, HAND, Order, State, Workpiece

READY = ("have", "proved")


def with_what_comes_along(state: State, facts: Facts) -> Facts:
    """The facts of a press, and behind them what follows from them.

    Args:
        state: What stands before the press, with what has run out by itself settled.
        facts: Of the press.

    Returns:
        The same facts where nothing follows, or where they cannot be: then `apply` says so.
    """
    if not facts or isinstance(facts[0], Undone | Redone):
        return facts
    try:
        after = happened(state, facts)
    except CannotBe:
        return facts
    return (*facts, *_jigs_set(state, after), *_tools_made(state, after))


def tools_made_by(state: State, order: Order) -> tuple[ToolSeen, ...]:
    """The tools that are there now that an order for the shop is finished.

    Nothing for a customer's order, for one that is not finished, and for what is there already.
    """
    if not order.for_shop or not order.pins or not progress_of(state, order).finished:
        return ()
    return tuple(
        ToolSeen(tool=tool, state="have")
        for tool in order.pins[-1].makes
        if state.tools.get(tool, ("", ""))[0] not in READY
    )


def _jigs_set(before: State, after: State) -> Iterator[JigSet]:
    """Of every step that has just been begun: its jigs, where they stood otherwise."""
    stands = dict(after.jigs)
    for piece in after.pieces.values():
        if not _at_work(piece) or _went_on(before.pieces.get(piece.id), piece):
            continue
        step = step_of(after, piece)
        for tool in step.tools if step is not None else ():
            if tool.jig and tool.setting and stands.get(tool.id) != tool.setting:
                stands[tool.id] = tool.setting
                assert step is not None
                yield JigSet(tool=tool.id, setting=tool.setting, workpiece=piece.id, step=step.id)


def _tools_made(before: State, after: State) -> Iterator[ToolSeen]:
    for order in after.orders.values():
        if order.for_shop and order.closed is None and not tools_made_by(before, order):
            yield from tools_made_by(after, order)


def _at_work(piece: Workpiece) -> bool:
    return piece.place == HAND or (piece.place == BENCH and piece.running)


def _went_on(was: Workpiece | None, piece: Workpiece) -> bool:
    """It was at this step already, in the same place."""
    return was is not None and _at_work(was) and was.step == piece.step
