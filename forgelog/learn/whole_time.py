"""Time of a whole order's work from the times of its steps, with a range that is not overdone.

What all steps share (this smith's common factor, what his first pieces take extra) does not average
out over an order; what is special to each step does in part, and the scatter of single pieces
nearly does. The ends of the steps' own ranges cannot simply be added.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.learn.heats import StepKey
from forgelog.learn.minutes import LearntTimes, how_early
from forgelog.learn.rule import STEP_SD
from forgelog.learn.student import quantile_90


class RunOfStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step on a run of pieces."""

    step: StepKey
    planned_s: float
    """Steady time of one piece as it is planned, above 0."""
    pieces: int = 1
    steady: bool = False
    """True where no piece of it is a first one: a handful that is worked off as one."""


class WholeTime(msgspec.Struct, frozen=True, kw_only=True):
    """Time of the whole run. The range is what it takes most often."""

    centre_s: float
    low_s: float
    high_s: float
    spread: float
    """Half of the range's width, logarithmic."""
    records: int
    """Pieces of the smith's own at these steps."""
    known: int
    """Steps that there is a record of."""
    steps: int
    first_s: float
    """Of the whole, what first pieces take more than steady ones."""


def whole_time(times: LearntTimes, runs: Sequence[RunOfStep]) -> WholeTime:
    """The time of all runs together.

    The ends are those of four orders in five if the stated spreads hold, as for a single step.

    Args:
        times: What was learnt.
        runs: Every step of the order once, at least one piece each.

    Raises:
        ValueError: a planned time is not positive.

    Source:
        The variance of a sum of parts that share a factor; our own application of the learning
        rule's stated spreads (learn/rule.py).
    """
    learnt = times.learnt
    total = shared = of_step = scatter = first = early = 0.0
    records = known = 0
    for run in runs:
        steady = times.ask(run.step, run.planned_s)
        measures = [0.0 if run.steady else how_early(k) for k in range(1, run.pieces + 1)]
        factors = [math.exp(steady.extra * measure) for measure in measures]
        long_s = steady.centre_s * sum(factors)
        seen = learnt.steps.get(run.step)
        open_share = 1.0 - (seen.kept if seen is not None else 0.0)
        known_early = seen.kept * seen.early if seen is not None else 0.0
        early += steady.centre_s * sum(
            factor * (measure - known_early)
            for factor, measure in zip(factors, measures, strict=True)
        )
        total += long_s
        shared += long_s * open_share
        of_step += long_s**2 * open_share
        scatter += sum((steady.centre_s * f) ** 2 for f in factors)
        first += steady.centre_s * sum(f - 1.0 for f in factors)
        records += steady.records
        known += steady.records > 0
    if not total:
        return WholeTime(
            centre_s=0, low_s=0, high_s=0, spread=0, records=0, known=0, steps=0, first_s=0
        )
    variance = learnt.common_var * shared**2 + STEP_SD**2 * of_step + learnt.noise**2 * scatter
    variance += learnt.extra_var * early**2 + 2.0 * learnt.both_cov * shared * early
    spread = quantile_90(learnt.df) * math.sqrt(variance) / total
    return WholeTime(
        centre_s=total,
        low_s=total * math.exp(-spread),
        high_s=total * math.exp(spread),
        spread=spread,
        records=records,
        known=known,
        steps=len(runs),
        first_s=first,
    )
