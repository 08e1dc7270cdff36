"""The learning rule: how far a smith's own figures lie from the plan, and how surely.

Heats and minutes are learnt by the same rule. Each record is y = ln(taken / planned); it is the
sum of what this smith does on all steps (`common`), what is special to the step, and scatter.
What a step lacks in records it borrows from the others; old records fade; a single odd one is
held to a short lever.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable

import msgspec

from forgelog.learn.student import quantile_90

COMMON_SD = 0.50
"""Of the smith's common factor about the plan, logarithmic. A stated prior, not measured."""
STEP_SD = 0.45
"""Of one step about the smith's common factor. A stated prior, not measured."""
NOISE_SD = 0.25
"""Of one piece about its step. A stated prior, not measured."""
NOISE_DF = 8.0
"""Degrees of freedom that the stated noise is worth."""
FADE = 0.90
"""What a record keeps of its weight with each younger one of the same step."""
ROUNDS = 20
LEVER = 2.0
"""A record further off than so many noise sd has its weight cut back to that distance."""


class Expected(msgspec.Struct, frozen=True, kw_only=True):
    """What the next piece's ln(taken / planned) should be."""

    mean: float
    reach: float
    """Most often (four in five, if the stated priors hold) it lies within mean +- reach."""
    records: int
    """Of how many pieces of this very step."""


class StepLearnt(msgspec.Struct, frozen=True, kw_only=True):
    """What one step adds to the smith's common factor."""

    own: float
    kept: float
    """Weight of the step's own records against the prior, 0 to 1."""
    records: int


class Learnt(msgspec.Struct, frozen=True, kw_only=True):
    """What was learnt from all records of one kind."""

    common: float
    common_var: float
    noise: float
    df: float
    steps: dict[Hashable, StepLearnt]

    def expect(self, step: Hashable) -> Expected:
        """What the next piece of a step should take; also of a step that was never made."""
        seen = self.steps.get(step, _UNSEEN)
        open_share = 1.0 - seen.kept
        var = STEP_SD**2 * open_share + open_share**2 * self.common_var
        return Expected(
            mean=self.common + seen.own,
            reach=quantile_90(self.df) * math.sqrt(var + self.noise**2),
            records=seen.records,
        )


_UNSEEN = StepLearnt(own=0.0, kept=0.0, records=0)


class _Pile:
    """The records of one step: distinct values of y with the weight that age leaves them."""

    __slots__ = ("at", "count", "kept", "mean", "own", "values", "weight")

    def __init__(self, logs: list[float]) -> None:
        self.count = len(logs)
        weights: dict[float, float] = {}
        age_weight = 1.0
        for y in reversed(logs):
            weights[y] = weights.get(y, 0.0) + age_weight
            age_weight *= FADE
        self.values = list(weights.items())
        self.weight = self.mean = self.own = self.kept = 0.0

    def weigh(self, centre: float, lever: float) -> float:
        """Weighted mean and weight about `centre`; returns the sum of squares about the mean."""
        weight = first = second = 0.0
        for y, aged in self.values:
            off = y - centre
            far = off if off >= 0.0 else -off
            if far > lever:
                aged *= lever / far
            weight += aged
            first += aged * off
            second += aged * off * off
        self.weight = weight
        self.mean = centre + first / weight
        return max(0.0, second - first * first / weight)


def learn(records: Iterable[tuple[Hashable, float]]) -> Learnt:
    """Learn from records of (step, ln(taken / planned)), oldest first.

    Args:
        records: Step and logarithm of taken over planned, in order of age.

    Source:
        Partial pooling after C. N. Morris, JASA 78 (1983) 47, and A. Gelman et al., Bayesian Data
        Analysis; weights after P. J. Huber, Ann. Math. Stat. 35 (1964) 73; all from memory.
    """
    logs: dict[Hashable, list[float]] = {}
    for step, y in records:
        logs.setdefault(step, []).append(y)
    piles = {step: _Pile(of_step) for step, of_step in logs.items()}
    noise, common, precision, df = NOISE_SD, 0.0, 1.0 / COMMON_SD**2, NOISE_DF
    lever = math.inf
    for _ in range(ROUNDS if piles else 0):
        before = (noise, common)
        squares = weight = pull = 0.0
        precision = 1.0 / COMMON_SD**2
        for pile in piles.values():
            squares += pile.weigh(common + pile.own, lever)
            weight += pile.weight
            var = STEP_SD**2 + noise**2 / pile.weight
            pull += pile.mean / var
            precision += 1.0 / var
            pile.kept = STEP_SD**2 / var
        common = pull / precision
        moved = 0.0
        for pile in piles.values():
            own = pile.kept * (pile.mean - common)
            moved = max(moved, abs(own - pile.own))
            pile.own = own
        df = NOISE_DF + max(0.0, weight - len(piles))
        noise = math.sqrt((NOISE_DF * NOISE_SD**2 + squares) / df)
        lever = LEVER * noise
        if moved == 0.0 and before == (noise, common):
            break
    return Learnt(
        common=common,
        common_var=1.0 / precision,
        noise=noise,
        df=df,
        steps={
            step: StepLearnt(own=pile.own, kept=pile.kept, records=pile.count)
            for step, pile in piles.items()
        },
    )
