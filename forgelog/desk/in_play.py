"""What stands on the orders of one session: the floor sees these and no others."""

from __future__ import annotations

from collections.abc import Container, Iterable

import msgspec

from forgelog.book.sessions import SessionFile
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop, with_presses
from forgelog.floor.sums import degc_now
from forgelog.recipe.plain import harmless, quoted
from forgelog.trade.cooling import HAND_WARM_DEGC
from forgelog.work.apply import now
from forgelog.work.facts import AnyFact, Hot, LaidAside
from forgelog.work.fold import fold
from forgelog.work.moments import Stamp
from forgelog.work.only import narrowed, only_tools, order_of, orders_in
from forgelog.work.state import BENCH, FIRE, HAND, State, Workpiece

NOT_TODAY = "not at the fire in this session"
LEFT_LYING = "where it lay when the last session was cut off"


def in_play(shop: Shop, orders: Iterable[str], stamp: Stamp, *, checked: bool = True) -> State:
    """What stands on some orders, and on all else that is still hot.

    Other orders have a place in it only while something of theirs is hot: so that it is on the
    HOT list; they count as held.

    Args:
        shop: The book.
        orders: Ids of the orders.
        stamp: The clocks now.
        checked: True to refuse orders that cannot be worked on now.

    Raises:
        CannotDo: an order that is unknown, closed or held; none at all.
    """
    wanted = tuple(orders)
    if checked:
        for order in wanted:
            _workable(shop.state, order)
        if not wanted:
            raise CannotDo("choose an order first")
    moment = now(shop.state, stamp)
    hot = {
        order_of(workpiece)
        for workpiece in shop.state.hot
        if degc_now(shop.state, workpiece, moment) > HAND_WARM_DEGC
    } - set(wanted)
    seen = (*wanted, *hot)
    state = fold(kept for file in shop.files if (kept := _only(file, seen)) is not None)
    if not hot:
        return state
    held = {
        o: msgspec.structs.replace(order, held=NOT_TODAY) if o in hot else order
        for o, order in state.orders.items()
    }
    return msgspec.structs.replace(state, orders=held)


def left_lying(state: State, order: str = "") -> list[AnyFact]:
    """What a session that was cut off left in hand, in the fire or on the bench, as laid aside.

    What was in the fire may have been in it until now: it is taken to be as hot.

    Args:
        state: What stands on all open orders, in play or not.
        order: Only this order; "" for all.
    """
    return [
        LaidAside(workpiece=piece.id, where=LEFT_LYING, hot=_hot_from_fire(state, piece))
        for piece in state.pieces.values()
        if piece.place in (HAND, FIRE, BENCH) and order in ("", piece.order)
    ]


def _hot_from_fire(state: State, piece: Workpiece) -> Hot | None:
    """None for a piece that was not in the fire: it cools on from where it did."""
    if piece.place != FIRE:
        return None
    from forgelog.floor.acts import hot_of

    return hot_of(state, piece, state.moment)


def _only(file: SessionFile, orders: Container[str]) -> SessionFile | None:
    """The session with only what it says of these orders; None where that is nothing."""
    presses = [narrowed(p, orders, heads=False) for p in file.presses]
    header = file.header
    if orders_in(presses) or (header is not None and any(o in orders for o in header.orders)):
        return with_presses(file, presses)
    tools = [only_tools(p) for p in presses]
    return with_presses(file, tools) if any(p.facts for p in tools[1:]) else None


def _workable(state: State, order: str) -> None:
    found = state.orders.get(order)
    if found is None:
        raise CannotDo(f"there is no order {quoted(order)}")
    if found.closed is not None:
        raise CannotDo(f"order {quoted(found.label)} is closed ({harmless(found.closed)})")
    if found.held is not None:
        raise CannotDo(f"order {quoted(found.label)} is held ({harmless(found.held)})")
