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
    total = common = extra = of_step = scatter = first = 0.0
    records = known = 0
    for run in runs:
        steady = times.ask(run.step, run.planned_s)
        seen = learnt.steps.get(run.step)
        kept, early = (seen.kept, seen.early) if seen is not None else (0.0, 0.0)
        places = [0.0] * run.pieces
        if not run.steady:
            places = [how_early(k) for k in range(1, run.pieces + 1)]
        pieces = [steady.centre_s * math.exp(learnt.extra * x) for x in places]
        long_s = sum(pieces)
        total += long_s
        common += long_s * (1.0 - kept)
        extra += sum(p * (x - kept * early) for p, x in zip(pieces, places, strict=True))
        of_step += long_s**2 * (1.0 - kept)
        scatter += sum(p**2 for p in pieces)
        first += long_s - steady.centre_s * run.pieces
        records += steady.records
        known += steady.records > 0
    if not total:
        return WholeTime(
            centre_s=0, low_s=0, high_s=0, spread=0, records=0, known=0, steps=0, first_s=0
        )
    shared = (
        learnt.common_var * common**2
        + learnt.extra_var * extra**2
        + 2.0 * learnt.both_cov * common * extra
    )
    variance = max(0.0, shared) + STEP_SD**2 * of_step + learnt.noise**2 * scatter
    # One piece most often takes the middle of its scatter; many together take its mean.
    evens_out = math.exp((1.0 - scatter / total**2) * learnt.noise**2 / 2.0)
    spread = quantile_90(learnt.df) * math.sqrt(variance) / total
    return WholeTime(
        centre_s=total * evens_out,
        low_s=total * evens_out * math.exp(-spread),
        high_s=total * evens_out * math.exp(spread),
        spread=spread,
        records=records,
        known=known,
        steps=len(runs),
        first_s=first * evens_out,
    )
