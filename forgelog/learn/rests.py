"""How the rests were kept, from what the journal wrote down when each one ended.

Nothing is called skipped on a guess: only a rest that the journal calls so is skipped, and a rest
that still runs is not judged. Rests that ended by themselves with nothing to break them were kept.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import BROKEN, KEPT, SHORT, SKIPPED, UNSURE, VERDICTS, RestRow
from forgelog.work.state import State


class RestTally(msgspec.Struct, frozen=True, kw_only=True):
    """How many rests went how."""

    kept: int = 0
    unsure: int = 0
    short: int = 0
    skipped: int = 0
    broken: int = 0


def see_rests(
    state: State, orders: Iterable[str] | None = None, *, practice: bool = False
) -> tuple[RestRow, ...]:
    """Every judged rest, the most urgent first.

    A normalising cycle that was done again is judged by its last time. Any other rest keeps each
    of its verdicts, because work went on after each. A rest that the smith added without the
    recipe's asking was never needed, so it is left out.

    Args:
        state: What stands, settled at the moment of asking.
        orders: Ids of the orders that are wanted; None for all of them.
        practice: True for the practice sessions, False for real work; never both.
    """
    rests = make_rows(state, orders).rests
    return by_urgency(rest for rest in rests if rest.practice == practice)


def by_urgency(rests: Iterable[RestRow]) -> tuple[RestRow, ...]:
    """Lost normalising cycles first, skipped before short; what is over and kept rests last."""
    return tuple(sorted(rests, key=_urgency))


def tally_rests(seen: Iterable[RestRow]) -> RestTally:
    """Count the verdicts."""
    counts = dict.fromkeys(VERDICTS, 0)
    for rest in seen:
        counts[rest.verdict] += 1
    return RestTally(**counts)


_RANKS = {SKIPPED: 0, BROKEN: 1, SHORT: 2, UNSURE: 4, KEPT: 5}


def _urgency(rest: RestRow) -> tuple[bool, bool, bool, int, float]:
    rank = min(_RANKS[rest.verdict], 3) if rest.lost_cycle else _RANKS[rest.verdict]
    return (
        not (rest.lost_cycle and not rest.over),
        not (rest.faulty and rest.matters and not rest.over),
        not (rest.faulty and not rest.over),
        rank,
        -rest.started_s,
    )
