"""Minutes that a step should take, learnt with the piece's place in its run.

The first piece of a run takes about twice the steady time, the fifth or sixth is steady (common
practice). Dividing by that curve keeps short runs from making the steady time look long.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.learn.heats import StepKey
from forgelog.learn.rule import Extra, Learnt, learn


class TimeRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The time of one step of one piece."""

    step: StepKey
    taken_s: float
    planned_s: float
    """Steady time as it was planned then."""
    run: int = 1
    """The piece's number at this step in its run, from 1."""


class SteadyTime(msgspec.Struct, frozen=True, kw_only=True):
    """Time of a piece once the run is steady. The range is what it takes most often."""

    centre_s: float
    low_s: float
    high_s: float
    records: int

    def run_s(self, first: int, last: int) -> float:
        """Time of the pieces `first` to `last` of a run, both counted, seconds."""
        return self.centre_s * sum(run_factor(k) for k in range(first, last + 1))


class LearntTimes(msgspec.Struct, frozen=True, kw_only=True):
    """What all records of time teach."""

    learnt: Learnt

    def ask(self, step: StepKey, planned_s: float) -> SteadyTime:
        """Steady time of a step; works for a step that was never made.

        Raises:
            ValueError: `planned_s` is not positive.
        """
        if not planned_s > 0.0:
            raise ValueError(f"planned time must be above 0 s, not {planned_s:g}")
        expected = self.learnt.expect(step)
        return SteadyTime(
            centre_s=planned_s * math.exp(expected.mean),
            low_s=planned_s * math.exp(expected.mean - expected.reach),
            high_s=planned_s * math.exp(expected.mean + expected.reach),
            records=expected.records,
        )


def run_factor(k: int) -> float:
    """How many times the steady time the k-th piece of a run takes.

    >>> [round(run_factor(k), 2) for k in range(1, 7)]
    [2.0, 1.35, 1.19, 1.12, 1.09, 1.07]

    Raises:
        ValueError: `k` is below 1.

    Source:
        Form of J. R. de Jong, Ergonomics 1 (1957) 51, from memory; the figures are common practice.
    """
    if k < 1:
        raise ValueError(f"pieces of a run count from 1, not {k}")
    return float(1.0 + k**-1.5)


def learn_times(records: Sequence[TimeRecord]) -> LearntTimes:
    """Learn from records of time.

    Args:
        records: Oldest first.

    Raises:
        ValueError: a time is not positive, or a place in the run is below 1.
    """
    for record in records:
        if not (record.taken_s > 0.0 and record.planned_s > 0.0):
            raise ValueError(
                f"times must be above 0 s: {record.taken_s:g} taken, {record.planned_s:g} planned"
            )
    return LearntTimes(
        learnt=learn(
            (record.step, math.log(record.taken_s / (run_factor(record.run) * record.planned_s)))
            for record in records
        )
    )
