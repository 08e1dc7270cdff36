"""The end of the day and of the fire, as facts: everything has a place to lie."""

from __future__ import annotations

from forgelog.floor.acts import TOO_SHORT_S, hot_of
from forgelog.floor.rest_acts import Facts
from forgelog.work.facts import (
    AnyFact,
    FireWentOut,
    Hot,
    LaidAside,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire
from forgelog.work.state import BENCH, FIRE, HAND, State, Workpiece


def clear_away(state: State, now: Moment, where: str) -> Facts:
    """Everything in hand, in the fire and on the bench is laid aside, with a word where."""
    facts: list[AnyFact] = []
    for piece in state.pieces.values():
        if piece.place == HAND:
            facts.append(
                LaidAside(
                    workpiece=piece.id,
                    where=where,
                    hot=hot_of(state, piece, now),
                    counted=_long_enough(piece, now),
                )
            )
        elif piece.place == FIRE:
            hot = hot_of(state, piece, now)
            facts.append(LaidAside(workpiece=piece.id, where=where, hot=hot))
        elif piece.place == BENCH:
            facts.append(LaidAside(workpiece=piece.id, where=where))
    return tuple(facts)


def fire_out(state: State, now: Moment) -> Facts:
    """The fire is out; what was in it cools there."""
    hot: dict[str, Hot] = {}
    for piece in in_fire(state):
        leaves = hot_of(state, piece, now)
        if leaves is not None:
            hot[piece.id] = Hot(degc=leaves.degc, section=leaves.section, medium="bed")
    return (FireWentOut(hot=hot),)


def _long_enough(piece: Workpiece, now: Moment) -> bool:
    return piece.open is None or now.work_s - piece.open.stretch_work_s >= TOO_SHORT_S
