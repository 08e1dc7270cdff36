"""The learning rule: how far a smith's own figures lie from the plan, and how surely.

Heats and minutes are learnt by the same rule. Each record is y = ln(taken / planned); it is the
sum of what this smith does on all steps (`common`), what is special to the step, what the early
pieces of a run take extra (`extra`, times how early the piece was), and scatter. What a step lacks
in records it borrows from the others; old records fade; a single odd one is held to a short lever.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Protocol, TypeVar

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
MOST_RECORDS = 40
"""Of one step; the next older one would weigh less than two parts in a hundred of the last."""
ROUNDS = 20
STILL = 1e-11
"""Once a round moves nothing by more than this, further rounds are spared."""
LEVER = 2.0
"""A record further off than so many noise sd has its weight cut back to that distance."""


StepKey = tuple[str, str, str, str]
"""Recipe, component, step, method: a step by hand and under the hammer are two steps."""


class OfStep(Protocol):
    """A record of a step."""

    @property
    def step(self) -> StepKey:
        """Which step, by which method."""


R = TypeVar("R", bound=OfStep)


class Extra(msgspec.Struct, frozen=True, kw_only=True):
    """What is thought of the early pieces of a run before there is a record. Logarithmic."""

    mean: float = 0.0
    sd: float = 0.2


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
    early: float
    """How early in their runs its records were, weighted mean."""
    records: int


class Learnt(msgspec.Struct, frozen=True, kw_only=True):
    """What was learnt from all records of one kind."""

    common: float
    common_var: float
    extra: float
    """What a piece takes extra, times how early in its run it is; logarithmic."""
    extra_var: float
    both_cov: float
    """Covariance of `common` and `extra`: of the same records, more of one is less of the other."""
    noise: float
    df: float
    steps: dict[StepKey, StepLearnt]

    def expect(self, step: StepKey, early: float = 0.0, *, scatter: float = 1.0) -> Expected:
        """What the next piece of a step should take; also of a step that was never made.

        Args:
            step: Which.
            early: How early in its run the piece is, in the measure of the records; 0 once the
                run is steady.
            scatter: Share of one piece's scatter that is left: 1 of one piece, less of several
                together.
        """
        seen = self.steps.get(step, _UNSEEN)
        u = 1.0 - seen.kept
        x = early - seen.kept * seen.early
        var = u * u * self.common_var + x * x * self.extra_var + 2.0 * u * x * self.both_cov
        var = max(0.0, var) + STEP_SD**2 * u
        return Expected(
            mean=self.common + seen.own + self.extra * early,
            reach=quantile_90(self.df) * math.sqrt(var + (scatter * self.noise) ** 2),
            records=seen.records,
        )


_UNSEEN = StepLearnt(own=0.0, kept=0.0, early=0.0, records=0)


class Pile(msgspec.Struct, frozen=True, kw_only=True):
    """The last records of one step: distinct (y, early) with the weight that age leaves them.

    Most records lie within the lever, and their sums about any centre follow from sums that are
    taken once; only those at both ends are looked at one by one. An index keeps piles, so that
    learning need not go through the records of the steps that nothing has changed.
    """

    count: int
    """Of all records, older ones too."""
    off: float
    """Mean y: the y of `values` are measured from it, so that sums of squares keep their digits."""
    values: tuple[tuple[float, float, float], ...]
    """y, early and weight, by y."""
    sums: tuple[float, float, float, float, float, float]
    """Of the weights, and of them times y, early, y y, early y and early early."""
    least: float
    """Least early of them all."""
    most: float


def pile_up(youngest_first: Sequence[tuple[float, float]], count: int = 0) -> Pile:
    """The pile of a step.

    Args:
        youngest_first: ln(taken / planned) of each record and how early in its run it was; at
            least one, of which the first `MOST_RECORDS` count.
        count: Of how many records there are, where not all are handed in.
    """
    weights: dict[tuple[float, float], float] = {}
    age_weight = 1.0
    for record in youngest_first[:MOST_RECORDS]:
        weights[record] = weights.get(record, 0.0) + age_weight
        age_weight *= FADE
    off = sum(aged * y for (y, _), aged in weights.items()) / sum(weights.values())
    values = tuple(sorted((y - off, x, aged) for (y, x), aged in weights.items()))
    w = wy = wx = wyy = wxy = wxx = 0.0
    for y, x, aged in values:
        w += aged
        wy += aged * y
        wyy += aged * y * y
        wx += aged * x
        wxy += aged * x * y
        wxx += aged * x * x
    return Pile(
        count=max(count, len(youngest_first)),
        off=off,
        values=values,
        sums=(w, wy, wx, wyy, wxy, wxx),
        least=min(x for _, x, _ in values),
        most=max(x for _, x, _ in values),
    )


class _Weighed:
    """A pile as it is weighed, round after round."""

    __slots__ = ("early", "kept", "mean", "own", "pile", "spread", "tilt", "weight")

    def __init__(self, pile: Pile) -> None:
        self.pile = pile
        self.weight = self.mean = self.early = self.own = self.kept = 0.0
        self.spread = self.tilt = 0.0

    def weigh(self, centre: float, extra: float, lever: float) -> float:
        """Weigh the records about `centre` + `extra` x early, and take their means.

        `spread` is then the sum of squares of `early` about its mean, and `tilt` the sum of
        products with what the records lie off.

        Returns:
            The sum of squares of y - extra x early about its mean.
        """
        pile = self.pile
        weight, wy, early, wyy, wxy, square = pile.sums
        about = centre - pile.off
        first = wy - about * weight - extra * early
        product = wxy - about * early - extra * square
        second = wyy - about * (wy + first) - extra * (wxy + product)
        values, least, most = pile.values, extra * pile.least, extra * pile.most
        if least > most:
            least, most = most, least
        below, above = about + most - lever, about + least + lever
        if values[0][0] < below or values[-1][0] > above:
            low = bisect_left(values, (below,))
            high = max(low, bisect_left(values, (above,)))
            for y, x, aged in (*values[:low], *values[high:]):
                off = y - about - extra * x
                far = off if off >= 0.0 else -off
                if far > lever:
                    less = aged * (lever / far - 1.0)
                    weight += less
                    first += less * off
                    second += less * off * off
                    early += less * x
                    square += less * x * x
                    product += less * x * off
        self.weight = weight
        self.early = early / weight
        off_mean = first / weight
        self.mean = centre + off_mean + extra * self.early
        self.spread = max(0.0, square - early * self.early)
        self.tilt = product - early * off_mean + extra * self.spread
        return max(0.0, second - first * off_mean)


def learn(
    records: Iterable[R],
    measure: Callable[[R], tuple[float, float]],
    prior: Extra | None = None,
    counts: Mapping[StepKey, int] | None = None,
) -> Learnt:
    """Learn from records, oldest first.

    Args:
        records: In order of age.
        measure: Gives of a record ln(taken / planned), and how early in its run it was: 0 where
            that is not known or makes no difference. Asked of each step's last records only.
        prior: What is thought of early pieces beforehand.
        counts: Of how many records each step has, where only its last ones are handed in: an
            index need keep no more than the last `MOST_RECORDS` of each step, and their count.
    """
    last: dict[StepKey, list[R]] = {}
    for record in records:
        of_step = last.get(record.step)
        if of_step is None:
            last[record.step] = [record]
        else:
            of_step.append(record)
    piles: dict[StepKey, Pile] = {}
    for step, of_step in last.items():
        youngest = [measure(record) for record in reversed(of_step[-MOST_RECORDS:])]
        piles[step] = pile_up(youngest, max(len(of_step), (counts or {}).get(step, 0)))
    return learn_piles(piles, prior)


def learn_piles(of_steps: Mapping[StepKey, Pile], prior: Extra | None = None) -> Learnt:
    """Learn from the records of each step, piled up already.

    Args:
        of_steps: By step.
        prior: What is thought of early pieces beforehand.

    Source:
        Partial pooling after C. N. Morris, JASA 78 (1983) 47, and A. Gelman et al., Bayesian Data
        Analysis, with one slope common to all steps; weights after P. J. Huber, Ann. Math. Stat.
        35 (1964) 73; all from memory.
    """
    prior = prior or Extra()
    piles = {step: _Weighed(pile) for step, pile in of_steps.items()}
    noise, df, lever = NOISE_SD, NOISE_DF, math.inf
    common, extra = 0.0, prior.mean
    common_var, extra_var, both_cov = COMMON_SD**2, prior.sd**2, 0.0
    for _ in range(ROUNDS if piles else 0):
        before = (noise, common, extra)
        squares = weight = 0.0
        # The sums of squares and products of the two things common to all steps, each step's own
        # part taken out.
        cc, ce, ee = 1.0 / COMMON_SD**2, 0.0, 1.0 / prior.sd**2
        cy, ey = 0.0, prior.mean / prior.sd**2
        for pile in piles.values():
            squares += pile.weigh(common + pile.own, extra, lever)
            weight += pile.weight
            var = STEP_SD**2 + noise**2 / pile.weight
            pile.kept = STEP_SD**2 / var
            cc += 1.0 / var
            ce += pile.early / var
            ee += pile.early**2 / var + pile.spread / noise**2
            cy += pile.mean / var
            ey += pile.early * pile.mean / var + pile.tilt / noise**2
        whole = cc * ee - ce * ce
        common, extra = (cy * ee - ey * ce) / whole, (ey * cc - cy * ce) / whole
        common_var, extra_var, both_cov = ee / whole, cc / whole, -ce / whole
        moved = 0.0
        for pile in piles.values():
            own = pile.kept * (pile.mean - common - extra * pile.early)
            moved = max(moved, abs(own - pile.own))
            pile.own = own
        df = NOISE_DF + max(0.0, weight - len(piles))
        noise = math.sqrt((NOISE_DF * NOISE_SD**2 + squares) / df)
        lever = LEVER * noise
        after = (noise, common, extra)
        if max(moved, *(abs(a - b) for a, b in zip(after, before, strict=True))) < STILL:
            break
    return Learnt(
        common=common,
        common_var=common_var,
        extra=extra,
        extra_var=extra_var,
        both_cov=both_cov,
        noise=noise,
        df=df,
        steps={
            step: StepLearnt(
                own=pile.own,
                kept=pile.kept,
                early=pile.early,
                records=pile.pile.count,
            )
            for step, pile in piles.items()
        },
    )
