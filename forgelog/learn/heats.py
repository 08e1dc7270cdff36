"""Heats that a step should take, learnt from the pieces that the smith has made."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.learn.rule import Learnt, learn

StepKey = tuple[str, str, str, str]
"""Recipe, component, step, method: a step by hand and under the hammer are two steps."""


class HeatRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The heats of one step of one piece."""

    step: StepKey
    taken: int
    planned: int
    """As the recipe had it then."""
    workpiece: str = ""
    session: str = ""
    ended_s: float = 0.0
    run: int = 1
    """The piece's number at this step in its run, from 1."""
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

    def ask(self, step: StepKey, planned: int) -> Heats:
        """Heats of the next piece of a step; works for a step that was never made.

        Args:
            step: Which step, by which method.
            planned: Heats that the recipe plans for it now, at least 1.

        Raises:
            ValueError: `planned` is below 1.
        """
        if planned < 1:
            raise ValueError(f"planned heats must be 1 or more, not {planned}")
        expected = self.learnt.expect(step)
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


def whole_heats(heats: float) -> int:
    """The nearest whole heat, halves up, and never less than one.

    >>> whole_heats(2.5), whole_heats(0.2)
    (3, 1)
    """
    return max(1, math.floor(heats + 0.5))


def learn_heats(records: Sequence[HeatRecord]) -> LearntSteps:
    """Learn from records of heats.

    Args:
        records: Oldest first; an older record of a step weighs less with each younger one.

    Raises:
        ValueError: heats taken or planned are below 1.
    """
    for record in records:
        if record.taken < 1 or record.planned < 1:
            raise ValueError(
                f"heats are counted from 1: {record.taken} taken of {record.planned} planned"
            )
    return LearntSteps(
        learnt=learn((record.step, math.log(record.taken / record.planned)) for record in records)
    )
