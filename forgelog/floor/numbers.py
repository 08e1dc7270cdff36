"""The digits that choose a piece: fire first, then what rests, then the bench and what is hot."""

from __future__ import annotations

from forgelog.floor.sums import degc_now
from forgelog.trade.cooling import HAND_WARM_DEGC
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire, live, on_bench, resting
from forgelog.work.state import State


def numbered(state: State, now: Moment) -> tuple[str, ...]:
    """Workpieces that the digits 1 to 9 choose now, in order."""
    pieces = [p.id for p in (*in_fire(state), *resting(state), *on_bench(state))]
    hot = [
        p.id
        for p in state.pieces.values()
        if p.id in state.hot
        and live(p)
        and p.id not in pieces
        and degc_now(state, p.id, now) > HAND_WARM_DEGC
    ]
    return tuple((pieces + hot)[:9])
