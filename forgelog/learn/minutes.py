"""Minutes that a step should take, learnt with the piece's place in its run.

The first piece of a run takes about twice the steady time, the fifth or sixth is steady (common
practice). Dividing by that curve, at a power that the smith's own pieces teach, keeps short runs
from making the steady time look long.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from forgelog.learn.heats import StepKey
from forgelog.learn.rule import Extra, Learnt, Pile, learn, learn_piles, pile_up

STEADY_RUN = 10
"""A piece of this number in its run stands for a steady one."""
FIRST_EXTRA = Extra(mean=1.0, sd=0.35)
"""Power of the curve: 1 is the curve itself (common practice), 0 a smith whose first piece takes no
longer. The smith's own pieces turn it into his own figure; the spread is stated, not measured."""


class TimeRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The time of one step of one piece."""

    step: StepKey
    taken_s: float
    planned_s: float
    """Steady time as it was planned then."""
    run: int = 1
    """The piece's number at this step in its run, from 1."""


class RunTime(msgspec.Struct, frozen=True, kw_only=True):
    """Time of some pieces of a run together. The range is what they take most often."""

    centre_s: float
    low_s: float
    high_s: float
    records: int
    """From so many pieces of the smith's own at this step."""


class SteadyTime(msgspec.Struct, frozen=True, kw_only=True):
    """Time of a piece once the run is steady. The range is what it takes most often."""

    centre_s: float
    low_s: float
    high_s: float
    records: int
    extra: float = 1.0
    """Power of `run_factor` by which this smith's early pieces take longer; 1 as commonly said."""

    def run_s(self, first: int, last: int) -> float:
        """Time of the pieces `first` to `last` of a run, both counted, seconds."""
        return self.centre_s * math.fsum(
            run_factor(k) ** self.extra for k in range(first, last + 1)
        )


class LearntTimes(msgspec.Struct, frozen=True, kw_only=True):
    """What all records of time teach."""

    learnt: Learnt

    def ask(self, step: StepKey, planned_s: float) -> SteadyTime:
        """Steady time of a step; works for a step that was never made.

        Raises:
            ValueError: `planned_s` is not positive.
        """
        expected = self.learnt.expect(step)
        centre_s = _planned(planned_s) * math.exp(expected.mean)
        return SteadyTime(
            centre_s=centre_s,
            low_s=centre_s * math.exp(-expected.reach),
            high_s=centre_s * math.exp(expected.reach),
            records=expected.records,
            extra=self.learnt.extra,
        )

    def run(self, step: StepKey, planned_s: float, first: int, count: int) -> RunTime:
        """Time of `count` pieces together, from the `first` of a run on.

        What is not known of the step is common to all of them; their scatter evens out, so the
        range of ten pieces is narrower than that of one.

        Args:
            step: Which.
            planned_s: Steady time of one piece as it is planned now, > 0.
            first: Number of the first of them in the run, from 1.
            count: How many, at least 1.

        Raises:
            ValueError: a figure is out of its range.
        """
        if count < 1:
            raise ValueError(f"a run has at least 1 piece, not {count}")
        planned_s = _planned(planned_s)
        measures = [how_early(k) for k in range(first, first + count)]
        pieces = [planned_s * math.exp(self.learnt.expect(step, x).mean) for x in measures]
        total_s = sum(pieces)
        # One piece most often takes the middle of its scatter; many together take its mean.
        evens_out = 1.0 - sum((piece / total_s) ** 2 for piece in pieces)
        early = sum(x * piece / total_s for x, piece in zip(measures, pieces, strict=True))
        whole = self.learnt.expect(step, early, scatter=math.sqrt(1.0 - evens_out))
        centre_s = total_s * math.exp(evens_out * self.learnt.noise**2 / 2.0)
        return RunTime(
            centre_s=centre_s,
            low_s=centre_s * math.exp(-whole.reach),
            high_s=centre_s * math.exp(whole.reach),
            records=whole.records,
        )


def _planned(planned_s: float) -> float:
    if not planned_s > 0.0:
        raise ValueError(f"planned time must be above 0 s, not {planned_s:g}")
    return planned_s


def how_early(run: int) -> float:
    """How early in its run a piece is, as `learn` wants it: the logarithm of `run_factor`."""
    return math.log(run_factor(run))


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


def learn_times(
    records: Iterable[TimeRecord],
    first_extra: Extra = FIRST_EXTRA,
    counts: Mapping[StepKey, int] | None = None,
) -> LearntTimes:
    """Learn from records of time.

    Args:
        records: Oldest first.
        first_extra: What is thought of early pieces beforehand.
        counts: As for `rule.learn`, where only the last records of each step are handed in.

    Raises:
        ValueError: a time is not positive, or a place in the run is below 1.
    """
    return LearntTimes(learnt=learn(records, _measure, first_extra, counts))


def pile_times(records: Sequence[TimeRecord], count: int = 0) -> Pile:
    """The records of one step piled up, for `learn_piled_times`.

    Args:
        records: Its last ones, oldest first; at least one.
        count: Of all its records, where not all are handed in.
    """
    return pile_up([_measure(record) for record in reversed(records)], count)


def learn_piled_times(piles: Mapping[StepKey, Pile]) -> LearntTimes:
    """Learn from the records of time of each step, piled up already."""
    return LearntTimes(learnt=learn_piles(piles, FIRST_EXTRA))


def _measure(record: TimeRecord) -> tuple[float, float]:
    if not (record.taken_s > 0.0 and record.planned_s > 0.0):
        raise ValueError(
            f"times must be above 0 s: {record.taken_s:g} taken, {record.planned_s:g} planned"
        )
    return math.log(record.taken_s / record.planned_s), how_early(record.run)
