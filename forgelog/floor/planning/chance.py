"""When the work will be done, most often: the advice played out in worlds with the learnt spreads.

What a smith needs more or fewer heats for goes together: part of the spread is the day's, part the
step's, part the piece's own. The worlds come from a number series, so the same book gives the same
answer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import msgspec

from forgelog.floor.planning.from_state import Floor, StepKey
from forgelog.floor.planning.going import FORGE, Figures, Going, going_from
from forgelog.floor.planning.piece_steps import LAY_S
from forgelog.floor.planning.play import StepTruth, World, play
from forgelog.floor.planning.rule import Care, Rule, Weights
from forgelog.floor.planning.search import Series
from forgelog.floor.settings import LearntHeats, LearntSeconds

COMMON, OF_STEP, OF_PIECE = 0.5, 0.6, 0.62
"""How the spread is shared out; their squares make 1. A stated prior, not measured."""
UNLEARNT = 0.5
"""Log-spread of heats that the journal has taught nothing of. A stated prior, not measured."""
LEAST = 0.15
BENCH = 0.35
"""Log-spread of bench work. A stated prior, not measured."""
SOAK_PCT, HAND_PCT = (85, 125), (70, 115)
"""A soak and a bout at the anvil against the sum. Common practice."""
HIGH_Z = 1.2816
"""Four in five lie within so many spreads of a normal law."""
MOST_DAYS = 120


class Likely(msgspec.Struct, frozen=True, kw_only=True):
    """When one order is done, seconds on the problem's scale; most often from low to high."""

    low_s: int
    middle_s: int
    high_s: int


def spread_of(learnt: LearntHeats | None) -> float:
    """The log-spread of a step's heats, from the range that is shown.

    Args:
        learnt: What the journal has taught; None for nothing.
    """
    if learnt is None:
        return UNLEARNT
    # Shown heats are whole: the range that was learnt is half a heat narrower at either end.
    low = max(0.5, learnt.low + 0.5 if learnt.low < learnt.heats else learnt.low)
    high = max(low, learnt.high - 0.5 if learnt.high > learnt.heats else learnt.high)
    return max(LEAST, math.log(high / low) / (2.0 * HIGH_Z))


def likely(
    floor: Floor,
    learnt: Mapping[StepKey, LearntHeats],
    weights: Weights,
    *,
    times: Mapping[StepKey, LearntSeconds] | None = None,
    worlds: int = 40,
    seed: int = 1,
) -> dict[str, Likely]:
    """When each order is done, played out with the guard on.

    Args:
        floor: What stands.
        learnt: Heats as the journal has taught them.
        weights: Of the plan.
        times: Minutes as the journal has taught them.
        worlds: How many, at least 1.
        seed: Of the series that stands in for chance.
    """
    figures = Figures(floor.problem)
    begin = going_from(figures, floor.run)
    rule = Rule(figures, weights, Care())
    stop_s = begin.now + MOST_DAYS * figures.day_s
    ends: list[list[int]] = [[] for _ in floor.problem.orders]
    for n in range(max(1, worlds)):
        world = world_of(floor, figures, begin, learnt, Series(seed * 1_000_003 + n), times)
        played = play(begin.copy(), rule, world, log=False, stop_s=stop_s)
        for order, end in enumerate(played.order_s):
            ends[order].append(end)
    return {
        order.id: Likely(
            low_s=_at_share(ends[k], 0.1),
            middle_s=_at_share(ends[k], 0.5),
            high_s=_at_share(ends[k], 0.9),
        )
        for k, order in enumerate(floor.problem.orders)
    }


def world_of(
    floor: Floor,
    figures: Figures,
    begin: Going,
    learnt: Mapping[StepKey, LearntHeats],
    series: Series,
    times: Mapping[StepKey, LearntSeconds] | None = None,
) -> World:
    """One way in which the work may go.

    Args:
        floor: What stands.
        figures: Of its problem.
        begin: The present: what has been worked already stays.
        learnt: Heats as the journal has taught them.
        series: Where chance comes from.
        times: Minutes as the journal has taught them.
    """
    times = times or {}
    common = series.about(1.0)
    of_step: dict[StepKey, float] = {}
    components: dict[str, tuple[StepTruth, ...]] = {}
    for i, name in enumerate(figures.ids):
        truths: list[StepTruth] = []
        for k, row in enumerate(figures.rows[i][:-1]):
            key = floor.keys.get(name, {}).get(k, ("", name, str(k), ""))
            if key not in of_step:
                of_step[key] = series.about(1.0)
            z = COMMON * common + OF_STEP * of_step[key] + OF_PIECE * series.about(1.0)
            done = begin.done[i] if k == begin.step[i] else 0
            heats = row.whole
            if row.kind == FORGE and row.hand_s > LAY_S:
                heats = max(done + 1, round(row.whole * math.exp(spread_of(learnt.get(key)) * z)))
            if row.parts:
                hands = tuple(part[1] for part in row.parts)
                truth = StepTruth(hand_s=hands, soak_s=tuple(part[0] for part in row.parts))
            elif row.kind == FORGE:
                truth = StepTruth(
                    hand_s=tuple(_share(series, row.hand_s, HAND_PCT) for _ in range(heats)),
                    soak_pct=tuple(_whole(series, SOAK_PCT) for _ in range(heats)),
                )
            else:
                own = times.get(key)
                longer = math.exp((own.spread if own is not None else BENCH) * z)
                bout_s = max(1, round(row.bout_s * longer))
                truth = StepTruth(bout_s=(bout_s,) * row.whole)
            truths.append(truth)
        components[name] = tuple(truths)
    return World(components=components)


def _whole(series: Series, ends: tuple[int, int]) -> int:
    return ends[0] + series.below(ends[1] - ends[0] + 1)


def _share(series: Series, seconds: int, ends: tuple[int, int]) -> int:
    return max(1, seconds * _whole(series, ends) // 100)


def _at_share(values: Sequence[int], share: float) -> int:
    found = sorted(values)
    return found[min(len(found) - 1, int(share * len(found)))]
