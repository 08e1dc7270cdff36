"""A session at the fire that was cut off: a power cut, a closed lid. Asked at every start."""

from __future__ import annotations

from forgelog.desk.shop import Shop
from forgelog.work.state import SessionRecord


def unfinished(shop: Shop) -> SessionRecord | None:
    """The last session of this device at the fire, where nobody ended it and work is left."""
    state = shop.state
    went_on = {r.continues for r in state.sessions}
    mine = [
        r
        for r in state.sessions
        if r.kind == "floor" and r.device == shop.device.id and r.id not in went_on
    ]
    if not mine or mine[-1].ended or _later(shop, mine[-1]):
        return None
    orders = [state.orders.get(o) for o in mine[-1].orders]
    return mine[-1] if any(o is not None and o.closed is None for o in orders) else None


def _later(shop: Shop, record: SessionRecord) -> bool:
    """Whether this device was at the fire again since, on orders that are closed by now."""
    read = {r.id for r in shop.state.sessions}
    return any(
        h.session > record.id and h.session not in read
        for h in shop.headers.values()
        if h is not None and h.kind == "floor" and h.device == shop.device.id
    )
