"""What stands on orders that are done with; of those the shop's own state has no pieces."""

from __future__ import annotations

from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.shop import Shop
from forgelog.work.changes import replace
from forgelog.work.state import State


def state_with(shop: Shop, *orders: str) -> State:
    """What stands on all open orders, and on some that are closed.

    Args:
        shop: The book.
        orders: Ids of orders, open or closed; one that there is not is passed over.
    """
    state = shop.state
    closed = [o for o in orders if o not in state.orders or state.orders[o].closed is not None]
    if not closed:
        return state

    def ask(index: Index) -> State:
        known, pieces = dict(state.orders), dict(state.pieces)
        sessions = {session.id: session for session in state.sessions}
        for order in closed:
            if (found := index.order(order)) is not None:
                known[order] = found[0]
                pieces |= {piece.id: piece for piece in found[1]}
                sessions |= {record.id: record for record in index.records(order)}
        by_age = sorted(sessions.values(), key=lambda record: (record.began_s, record.id))
        return replace(  # type: ignore[no-any-return]
            state, orders=known, pieces=pieces, sessions=tuple(by_age)
        )

    return ask_index(shop, ask)
