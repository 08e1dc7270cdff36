"""Minutes in hand, in the fire and at the bench, by step and method, with an honest range.

What a quote asks: `know_minutes(rows).minutes_for(key, first, count)`. The place in the run is
divided out of every record, and put back for the pieces that are asked about. The bar's section and
the planned heats are in the yardstick that a record is measured by, so a step whose bar or plan was
changed keeps what was learnt.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.learn.minutes import LearntTimes, RunTime, TimeRecord, learn_times
from forgelog.learn.records import HAND_S_A_HEAT, bench_times, hand_times, teaches
from forgelog.learn.rows import StepRow
from forgelog.learn.rule import Extra, StepKey
from forgelog.recipe.resolved import Step
from forgelog.trade.errors import SumError
from forgelog.trade.heating import reheat_s
from forgelog.trade.sections import Section

ENOUGH_RECORDS = 1
"""With fewer pieces of the smith's own at a step nothing is told: not enough yet."""
FIRE_S_A_HEAT = 120.0
"""Yardstick for the time in the fire of one planned heat where the bar is not known, s."""
REHEAT_DEGC = (700.0, 1150.0)
"""From and to where a heat is thought to bring the bar, for the yardstick alone."""

FIRE_EXTRA = Extra(mean=0.2, sd=0.35)
"""Power of the curve of first pieces for the time in the fire: they want a heat more, but no heat
takes longer to come. A stated prior, not measured."""


class PieceMinutes(msgspec.Struct, frozen=True, kw_only=True):
    """Time of some pieces of a run at one step. None where there is not enough yet."""

    hand: RunTime | None = None
    """At the anvil or hammer."""
    fire: RunTime | None = None
    """In the fire, of each piece for itself: where three lie in it, three run at once."""
    bench: RunTime | None = None
    """Cold work."""


class _Plan(msgspec.Struct, frozen=True, kw_only=True):
    """What a step is measured by now."""

    heats: int | None = None
    minutes_s: float | None = None
    section: Section | None = None


class KnownMinutes(msgspec.Struct, frozen=True, kw_only=True):
    """What the journal knows of time."""

    hand: LearntTimes
    fire: LearntTimes
    bench: LearntTimes
    plans: dict[StepKey, _Plan]
    """The newest of each step."""

    def minutes_for(
        self, key: StepKey, first: int = 1, count: int = 1, step: Step | None = None
    ) -> PieceMinutes:
        """Time of the pieces `first` to `first` + `count` - 1 of a run, together.

        Args:
            key: Recipe, component, step, method; the method makes no difference at the bench.
            first: Number of the first of them in its run, from 1.
            count: How many, at least 1.
            step: The step as it is planned now (an order's own sizes and bar); None for the plan
                by which it was made last.

        Returns:
            The times that the journal can answer for. All None is an answer: not enough yet.

        Raises:
            ValueError: `first` or `count` is below 1.
        """
        plan = self.plans.get(key, _Plan()) if step is None else _plan_of(step, key[3])
        cold = (*key[:3], "")
        if step is None and plan.minutes_s is None:
            plan = msgspec.structs.replace(plan, minutes_s=self.plans.get(cold, _Plan()).minutes_s)
        hand = fire = None
        if plan.heats:
            hand = _enough(self.hand.run(key, HAND_S_A_HEAT * plan.heats, first, count))
            fire_s = fire_yardstick_s(plan.section) * plan.heats
            fire = _enough(self.fire.run(key, fire_s, first, count))
        bench = None
        if plan.minutes_s:
            bench = _enough(self.bench.run(cold, plan.minutes_s, first, count))
        return PieceMinutes(hand=hand, fire=fire, bench=bench)


def know_minutes(steps: Iterable[StepRow]) -> KnownMinutes:
    """What the rows of steps teach of time.

    Args:
        steps: Oldest first, real work or practice, never both.
    """
    steps = tuple(steps)
    plans: dict[StepKey, _Plan] = {}
    for row in steps:
        key = row.key if row.forged else (*row.place, "")
        plans[key] = _Plan(heats=row.planned_now, minutes_s=row.minutes_s, section=row.section)
    return KnownMinutes(
        hand=learn_times(hand_times(steps)),
        fire=learn_times(fire_times(steps), FIRE_EXTRA),
        bench=learn_times(bench_times(steps)),
        plans=plans,
    )


def fire_times(done: Iterable[StepRow]) -> list[TimeRecord]:
    """Records of the time in the fire of forging steps, against a yardstick of bar and plan."""
    return [
        TimeRecord(
            step=d.key,
            taken_s=d.fire_s,
            planned_s=fire_yardstick_s(d.section) * d.planned,
            run=d.run,
        )
        for d in done
        if d.fire_s > 0.0 and d.planned and d.heats and teaches(d)
    ]


def fire_yardstick_s(section: Section | None) -> float:
    """Time in the fire that one heat of a bar is measured by, s; no prediction of a time."""
    if section is None:
        return FIRE_S_A_HEAT
    try:
        return reheat_s(section, *REHEAT_DEGC)
    except SumError:
        return FIRE_S_A_HEAT


def _plan_of(step: Step, method: str) -> _Plan:
    return _Plan(heats=step.heats.get(method), minutes_s=step.minutes_s, section=step.section)


def _enough(time: RunTime) -> RunTime | None:
    return time if time.records >= ENOUGH_RECORDS else None
