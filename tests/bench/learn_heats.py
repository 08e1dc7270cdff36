"""How well heats are learnt: simulated smiths, the same ones on every run.

    python -m tests.bench.learn_heats

Each smith makes 5 steps. The truth is drawn from the stated prior, so the table shows what the
rule does when its assumptions hold; the second part doubles the scatter of the pieces, which the
rule does not know. Nothing here was measured at a fire.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
from typing import NamedTuple

from forgelog.learn.heats import HeatRecord, StepKey, learn_heats, whole_heats
from forgelog.learn.rule import COMMON_SD, NOISE_SD, STEP_SD

STEPS = 5
PAST = (0, 1, 2, 3, 5, 8)
SEED = 1877


class Row(NamedTuple):
    """Errors are mean absolute errors of the next piece in whole heats; shares are 0 to 1."""

    past: int
    model: float
    median: float | None
    plan: float
    in_range: float
    flagged: float | None


def simulate(noise_sd: float = NOISE_SD, *, smiths: int = 500, seed: int = SEED) -> list[Row]:
    """Let simulated smiths make steps again and again, and foretell each next piece."""
    rng = random.Random(seed)
    shops = [_Smith(rng, noise_sd) for _ in range(smiths)]
    return [_row(shops, past) for past in PAST]


class _Smith:
    def __init__(self, rng: random.Random, noise_sd: float) -> None:
        common = rng.gauss(0.0, COMMON_SD)
        self.plans = [draw_plan(rng) for _ in range(STEPS)]
        own = [common + rng.gauss(0.0, STEP_SD) for _ in range(STEPS)]
        self.taken = [
            [
                whole_heats(plan * math.exp(factor + rng.gauss(0.0, noise_sd)))
                for _ in range(max(PAST) + 1)
            ]
            for plan, factor in zip(self.plans, own, strict=True)
        ]


def draw_plan(rng: random.Random) -> int:
    """A planned number of heats, 1 to 12, median 3."""
    return min(12, whole_heats(3.0 * math.exp(rng.gauss(0.0, 0.5))))


def _key(step: int) -> StepKey:
    return ("simulated", "piece", f"step {step}", "hand")


def _row(shops: list[_Smith], past: int) -> Row:
    model: list[int] = []
    median: list[int] = []
    plan: list[int] = []
    held = flags = 0
    for smith in shops:
        learnt = learn_heats(
            [
                HeatRecord(step=_key(i), taken=smith.taken[i][k], planned=smith.plans[i])
                for k in range(past)
                for i in range(STEPS)
            ]
        )
        for i, planned in enumerate(smith.plans):
            earlier, truth = smith.taken[i][:past], smith.taken[i][past]
            heats = learnt.ask(_key(i), planned)
            model.append(abs(heats.shown - truth))
            plan.append(abs(planned - truth))
            held += heats.shown_low <= truth <= heats.shown_high
            if earlier:
                median.append(abs(whole_heats(statistics.median(earlier[-5:])) - truth))
            pieces = [HeatRecord(step=_key(i), taken=t, planned=planned) for t in (*earlier, truth)]
            judged = learnt.judge(pieces[-1], pieces[:-1])
            flags += judged is not None and judged.flagged
    count = len(model)
    return Row(
        past=past,
        model=statistics.fmean(model),
        median=statistics.fmean(median) if median else None,
        plan=statistics.fmean(plan),
        in_range=held / count,
        flagged=flags / count if past >= 2 else None,
    )


def simulate_new_step(others: int, *, smiths: int = 2000, seed: int = SEED) -> float:
    """Mean absolute error of a step never made, when so many others have been made twice."""
    rng = random.Random(seed)
    errors: list[int] = []
    for _ in range(smiths):
        common = rng.gauss(0.0, COMMON_SD)
        records: list[HeatRecord] = []
        for i in range(others):
            planned, factor = draw_plan(rng), common + rng.gauss(0.0, STEP_SD)
            records += [
                HeatRecord(
                    step=_key(i),
                    taken=whole_heats(planned * math.exp(factor + rng.gauss(0.0, NOISE_SD))),
                    planned=planned,
                )
                for _ in range(2)
            ]
        planned = draw_plan(rng)
        off = common + rng.gauss(0.0, STEP_SD) + rng.gauss(0.0, NOISE_SD)
        truth = whole_heats(planned * math.exp(off))
        errors.append(abs(learn_heats(records).ask(_key(others), planned).shown - truth))
    return statistics.fmean(errors)


def main() -> None:
    """Print the tables."""
    out = sys.stdout.write
    for noise_sd in (NOISE_SD, 2 * NOISE_SD):
        out(f"\npieces scatter with a log-sd of {noise_sd:.2f} (the rule assumes {NOISE_SD:.2f})\n")
        out("past pieces  model  median of 5  plan  in range  flagged\n")
        for row in simulate(noise_sd):
            median = f"{row.median:11.2f}" if row.median is not None else "          -"
            flagged = f"{row.flagged:7.0%}" if row.flagged is not None else "      -"
            out(
                f"{row.past:11d}  {row.model:5.2f}  {median}  {row.plan:4.2f}"
                f"  {row.in_range:8.0%}  {flagged}\n"
            )
    out("\na step never made; other steps made twice each: error in whole heats\n")
    for others in (0, 1, 3, 8):
        out(f"{others:11d}  {simulate_new_step(others):5.2f}\n")


if __name__ == "__main__":
    main()
