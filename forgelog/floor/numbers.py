"""The digits that choose a piece: fire first, then what rests, then the bench and what is hot."""

from __future__ import annotations

from forgelog.work.queries import in_fire, live, on_bench, resting
from forgelog.work.state import State


def numbered(state: State) -> tuple[str, ...]:
    """Workpieces that the digits 1 to 9 choose, in order."""
    pieces = [p.id for p in (*in_fire(state), *resting(state), *on_bench(state))]
    hot = [
        p.id for p in state.pieces.values() if p.id in state.hot and live(p) and p.id not in pieces
    ]
    return tuple((pieces + hot)[:9])
