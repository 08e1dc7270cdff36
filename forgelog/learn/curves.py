"""Heats of a step over the pieces: the curve, its range, and whether it surely leans.

An interval holds four in five, if the scatter is as the records have it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import msgspec

from forgelog.learn.heats import StepKey
from forgelog.learn.rows import StepRow
from forgelog.learn.student import quantile_90, two_sided_p

LEAST_POINTS = 4
"""Fewer pieces make no curve."""
FALSE_SHARE = 0.10
"""Of the steps that are said to lean, at most so many do so by chance."""
LEAST_SCATTER = 0.05
"""Scatter of ln heats below which whole counts say nothing: one heat in twenty."""


class Mean(msgspec.Struct, frozen=True, kw_only=True):
    """A middle with its interval, of so many records."""

    centre: float
    low: float
    high: float
    records: int


class Curve(msgspec.Struct, frozen=True, kw_only=True):
    """Heats of one step over the pieces, oldest first."""

    step: StepKey
    row: StepRow
    """The youngest, for its words."""
    heats: tuple[int, ...]
    planned: int | None
    """As the recipe had it for the youngest."""
    fitted: tuple[float, ...]
    """The curve at each piece; empty where there are too few."""
    low: tuple[float, ...]
    high: tuple[float, ...]
    doubling: Mean | None
    """What heats are multiplied by when the number of pieces doubles: 0.8 is a fifth fewer."""
    p: float
    """Share of steps without any trend whose heats would lean as much; 1 of too few pieces."""
    sure: bool = False
    """Whether it leans surely, with all other steps looked at beside it."""


def learning_curves(steps: Iterable[StepRow]) -> tuple[Curve, ...]:
    """Heats of every forging step over the pieces, those with the most pieces first.

    Args:
        steps: Oldest first, all of real work or all of practice.

    Source:
        Ordinary least squares of ln heats on ln number, after T. P. Wright, J. Aeronautical
        Sciences 3 (1936) 122, from memory.
    """
    by_key: dict[StepKey, list[StepRow]] = {}
    for row in steps:
        if teaches(row):
            by_key.setdefault(row.key, []).append(row)
    curves = _judged([_curve(key, rows) for key, rows in by_key.items()])
    return tuple(sorted(curves, key=lambda curve: -len(curve.heats)))


def _judged(curves: Sequence[Curve]) -> list[Curve]:
    """The curves with those marked that lean surely.

    Among many steps some lean by chance alone: of those that are marked at most one in ten does.

    Source:
        Y. Benjamini, Y. Hochberg, J. Royal Statistical Society B 57 (1995) 289, from memory.
    """
    ranked = sorted(curve.p for curve in curves if curve.doubling is not None)
    passed = [p for rank, p in enumerate(ranked, 1) if p <= FALSE_SHARE * rank / len(ranked)]
    bound = max(passed, default=-1.0)
    return [msgspec.structs.replace(curve, sure=curve.p <= bound) for curve in curves]


def teaches(row: StepRow) -> bool:
    """Whether its heats are those of one sound piece."""
    return bool(row.forged and row.heats and not (row.scrapped or row.again or row.lot))


def _curve(key: StepKey, rows: Sequence[StepRow]) -> Curve:
    heats = tuple(row.heats or 1 for row in rows)
    count = len(heats)
    fitted: list[float] = []
    low: list[float] = []
    high: list[float] = []
    doubling = None
    p = 1.0
    if count >= LEAST_POINTS:
        xs = [math.log(n) for n in range(1, count + 1)]
        ys = [math.log(taken) for taken in heats]
        mean_x, mean_y = math.fsum(xs) / count, math.fsum(ys) / count
        sum_xx = math.fsum((x - mean_x) ** 2 for x in xs)
        slope = math.fsum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys, strict=True)) / sum_xx
        lines = [mean_y + slope * (x - mean_x) for x in xs]
        squares = math.fsum((y - line) ** 2 for y, line in zip(ys, lines, strict=True))
        scatter = max(LEAST_SCATTER, math.sqrt(squares / (count - 2)))
        reach = quantile_90(count - 2) * scatter
        for x, line in zip(xs, lines, strict=True):
            spread = reach * math.sqrt(1.0 / count + (x - mean_x) ** 2 / sum_xx)
            fitted.append(math.exp(line))
            low.append(math.exp(line - spread))
            high.append(math.exp(line + spread))
        off = reach / math.sqrt(sum_xx)
        p = two_sided_p(slope * math.sqrt(sum_xx) / scatter, count - 2)
        doubling = Mean(
            centre=2.0**slope, low=2.0 ** (slope - off), high=2.0 ** (slope + off), records=count
        )
    return Curve(
        step=key,
        row=rows[-1],
        heats=heats,
        planned=rows[-1].planned,
        fitted=tuple(fitted),
        low=tuple(low),
        high=tuple(high),
        doubling=doubling,
        p=p,
    )
