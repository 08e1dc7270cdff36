"""Heats that a step should take, learnt from the pieces that the smith has made."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from forgelog.learn.rule import MOST_RECORDS, Extra, Learnt, Pile, learn, learn_piles, pile_up
from forgelog.learn.rule import StepKey as StepKey
from forgelog.learn.unusual import Unusual, judge_piece

FIRST_EXTRA = Extra(mean=0.15, sd=0.20)
"""What the first piece of a run is thought to take extra in heats, logarithmic: about a sixth, once
to half again. A stated prior, not measured; the smith's own pieces turn it into his own figure."""


class HeatRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The heats of one step of one piece."""

    step: StepKey
    taken: int
    planned: int
    """As the recipe had it then."""
    workpiece: str = ""
    session: str = ""
    ended_s: float = 0.0
    run: int = 0
    """The piece's number at this step in its run, from 1; 0 where it is not known."""
    shared: bool = False
    """A heat counted here was counted in a neighbour step too."""
    corrected: bool = False


class Heats(msgspec.Struct, frozen=True, kw_only=True):
    """Heats that the next piece should take. The range is what it takes most often.

    It is no exact chance: the ends are those of four pieces in five if the stated spreads hold,
    and whole heats rounded at both ends hold more than that.
    """

    centre: float
    low: float
    high: float
    shown: int
    shown_low: int
    shown_high: int
    records: int
    """Of how many of the smith's own pieces at this step; 0: from other steps, or the plan."""


class LearntSteps(msgspec.Struct, frozen=True, kw_only=True):
    """What all records of heats teach."""

    learnt: Learnt

    def ask(self, step: StepKey, planned: int, run: int = 0) -> Heats:
        """Heats of the next piece of a step; works for a step that was never made.

        Args:
            step: Which step, by which method.
            planned: Heats that the recipe plans for it now, at least 1.
            run: The piece's number at this step in its run, from 1; 0 for one of a run that has
                become steady.

        Raises:
            ValueError: `planned` is below 1.
        """
        if planned < 1:
            raise ValueError(f"planned heats must be 1 or more, not {planned}")
        expected = self.learnt.expect(step, how_early(run))
        centre = planned * math.exp(expected.mean)
        low = planned * math.exp(expected.mean - expected.reach)
        high = planned * math.exp(expected.mean + expected.reach)
        return Heats(
            centre=centre,
            low=low,
            high=high,
            shown=whole_heats(centre),
            shown_low=whole_heats(low),
            shown_high=whole_heats(high),
            records=expected.records,
        )

    def judge(self, record: HeatRecord, earlier: Sequence[HeatRecord]) -> Unusual | None:
        """Whether a piece is unusual beside earlier ones of its step; None with too few of them.

        Args:
            record: Of the piece.
            earlier: Of earlier pieces at the same step, oldest first; the last ones count.
        """
        last = (*earlier[-MOST_RECORDS:], record)
        return judge_piece(
            record.taken,
            [r.taken for r in last[:-1]],
            paces=[math.exp(self.learnt.extra * how_early(r.run)) for r in last],
            noise=self.learnt.noise,
        )


def how_early(run: int) -> float:
    """What part of a first piece's extra the piece takes: 1, a half, a third, and so on.

    >>> how_early(1), how_early(2), how_early(0)
    (1.0, 0.5, 0.0)
    """
    return 1.0 / run if run > 0 else 0.0


def whole_heats(heats: float) -> int:
    """The nearest whole heat, halves up, and never less than one.

    >>> whole_heats(2.5), whole_heats(0.2)
    (3, 1)
    """
    return max(1, math.floor(heats + 0.5))


def learn_heats(
    records: Iterable[HeatRecord], counts: Mapping[StepKey, int] | None = None
) -> LearntSteps:
    """Learn from records of heats.

    Args:
        records: Oldest first; an older record of a step weighs less with each younger one.
        counts: As for `rule.learn`, where only the last records of each step are handed in.

    Raises:
        ValueError: heats taken or planned are below 1.
    """
    return LearntSteps(learnt=learn(records, _measure, FIRST_EXTRA, counts))


def pile_heats(records: Sequence[HeatRecord], count: int = 0) -> Pile:
    """The records of one step piled up, for `learn_piled_heats`.

    Args:
        records: Its last ones, oldest first; at least one.
        count: Of all its records, where not all are handed in.
    """
    return pile_up([_measure(record) for record in reversed(records)], count)


def learn_piled_heats(piles: Mapping[StepKey, Pile]) -> LearntSteps:
    """Learn from the records of heats of each step, piled up already."""
    return LearntSteps(learnt=learn_piles(piles, FIRST_EXTRA))


def _measure(record: HeatRecord) -> tuple[float, float]:
    if record.taken < 1 or record.planned < 1:
        raise ValueError(
            f"heats are counted from 1: {record.taken} taken of {record.planned} planned"
        )
    return math.log(record.taken / record.planned), how_early(record.run)
