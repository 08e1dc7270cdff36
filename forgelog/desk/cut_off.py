"""A session at the fire that was cut off: a power cut, a closed lid. Asked at every start."""

from __future__ import annotations

from forgelog.desk.shop import Shop
from forgelog.work.state import SessionRecord


def unfinished(shop: Shop) -> SessionRecord | None:
    """The last session of this device at the fire, where nobody ended it and work is left."""
    newest = shop.last_at_fire
    for record in shop.state.sessions:
        if record.id == newest and not record.ended:
            states = [shop.state.orders.get(o) for o in record.orders]
            return record if any(o is not None and o.closed is None for o in states) else None
    return None
