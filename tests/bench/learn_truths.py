"""How well heats are learnt where the truth is none of the rule's own: simulated shops.

    python -m tests.bench.learn_truths [SMITHS]

Nothing here was measured at a fire. A simulated smith makes two components of four forging steps,
piece after piece, in orders of one to eight pieces and days of two to six. What a step takes is
drawn from the assumptions of its truth, which share nothing with the rule but the whole heats:

- the smith's own factor about the plan has heavy tails (Student's t, 4 degrees of freedom), the
  step's is double exponential: most plans are near, some are far off;
- a run is learnt: the k-th piece takes (1 + a k^-p) times as much; a differs by smith and by step,
  p by smith (0.6 to 2.2), so it is not the curve of the rule;
- one day in ten is a bad day: 1.35 times as much all day;
- the first piece of a day finds a cold fire: up to one heat more on its first step;
- a crowded fire: so much more for each further piece in it; one to four lie in it;
- thicker bars take more than their plan, after a long time away the first piece does;
- one piece in twenty-five is an odd one: 1.5 to 3 times as much;
- heats are counted whole: to the nearest, or upwards where a heat begun is a heat.

The truths are those of `TRUTHS`; the last is the rule's own prior. For each: mean absolute error of
the next piece in whole heats, of the rule, of the plain rule (without the place in the run), of
the median of the last five and of the plan; how often the shown range holds; how often an ordinary
piece (no bad day, no odd one) is flagged, and how often an odd one is. Then each further thing
that the journal knows, alone in place of the piece's number in its run.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
from collections.abc import Callable, Sequence
from typing import NamedTuple

from forgelog.learn.heats import (
    FIRST_EXTRA,
    HeatRecord,
    LearntSteps,
    StepKey,
    how_early,
    whole_heats,
)
from forgelog.learn.rule import COMMON_SD, NOISE_SD, STEP_SD, Extra, learn

STEPS = 8
PAST = (0, 1, 2, 3, 5, 8)
SEED = 1877


class Truth(NamedTuple):
    """What is assumed of a shop. Shares are 0 to 1."""

    name: str
    prior: bool = False
    """Drawn from the rule's own prior, with nothing else in it."""
    noise: float = 0.20
    extra: float = 0.40
    """Median of what the first piece of a run takes more."""
    bad_day: float = 0.10
    cold_fire: float = 0.5
    crowd: float = 0.06
    section: float = 0.15
    away: float = 0.15
    odd: float = 0.04
    upward: bool = False


TRUTHS = (
    Truth("a shop that learns each run"),
    Truth("learns much", extra=0.9),
    Truth("heats counted upwards, crowded fire", upward=True, crowd=0.12),
    Truth("pieces scatter much", noise=0.40),
    Truth("nothing but steps: no run is learnt", extra=0.0, cold_fire=0.0, crowd=0.0, away=0.0),
    Truth("the rule's own prior", prior=True),
)


class Made(NamedTuple):
    """One piece at one step, with all that the journal knows of it."""

    record: HeatRecord
    first_of_day: bool
    in_fire: int
    area_mm2: float
    away_days: float
    ordinary: bool
    odd: bool


class Row(NamedTuple):
    """Errors are mean absolute errors of the next piece in whole heats; shares are 0 to 1."""

    past: int
    rule: float
    plain: float
    median: float | None
    plan: float
    in_range: float
    flagged: float | None
    """Of ordinary pieces."""
    found: float | None
    """Of odd pieces."""

    @property
    def gain(self) -> float:
        """Share by which the rule's error is less than that of the median."""
        return 1.0 - self.rule / self.median if self.median else 0.0


Known = Callable[[Made], float]
"""What is known of a piece beside its count, as one figure; 0 where it makes no difference."""

KNOWN: dict[str, tuple[Known, Extra]] = {
    "piece of the run": (lambda m: how_early(m.record.run), FIRST_EXTRA),
    "first of the day": (lambda m: float(m.first_of_day), Extra(sd=0.15)),
    "pieces in the fire": (lambda m: math.log(m.in_fire), Extra(sd=0.10)),
    "section": (lambda m: math.log(m.area_mm2 / 144.0), Extra(sd=0.15)),
    "heats planned": (lambda m: math.log(m.record.planned / 3.0), Extra(sd=0.10)),
    "days since last made": (lambda m: math.log1p(m.away_days / 30.0), Extra(sd=0.10)),
    "nothing": (lambda m: 0.0, Extra()),
}


def make_shop(truth: Truth, rng: random.Random) -> list[list[Made]]:
    """What one smith makes: for each step its pieces, oldest first."""
    if truth.prior:
        common = rng.gauss(0.0, COMMON_SD)
        own = [rng.gauss(0.0, STEP_SD) for _ in range(STEPS)]
    else:
        common = _heavy(rng, 0.25)
        own = [rng.choice((-1.0, 1.0)) * rng.expovariate(1.0 / 0.30) for _ in range(STEPS)]
    plans = [min(12, whole_heats(3.0 * math.exp(rng.gauss(0.0, 0.5)))) for _ in range(STEPS)]
    areas = [rng.choice((78.0, 144.0, 240.0, 400.0)) for _ in range(STEPS)]
    smiths_extra = truth.extra * math.exp(rng.gauss(0.0, 0.5))
    extras = [
        math.sqrt(smiths_extra * truth.extra * math.exp(rng.gauss(0.0, 0.5))) for _ in range(STEPS)
    ]
    power = rng.uniform(0.6, 2.2)
    made: list[list[Made]] = [[] for _ in range(STEPS)]
    run = left = day_left = 0
    away = 0.0
    bad = False
    for _ in range(max(PAST) + 1):
        if left == 0:
            left, run, day_left = rng.choice((1, 2, 2, 4, 4, 6, 8)), 0, 0
            away = rng.expovariate(1.0 / 40.0)
        run, left = run + 1, left - 1
        first = day_left == 0
        if first:
            day_left, bad = rng.randint(2, 6), rng.random() < truth.bad_day and not truth.prior
        day_left -= 1
        in_fire = rng.choice((1, 2, 2, 3, 3, 4))
        for s in range(STEPS):
            odd = rng.random() < truth.odd and not truth.prior
            cold = first and s in (0, STEPS // 2)
            heats = plans[s] * math.exp(
                common + own[s] + rng.gauss(0.0, NOISE_SD if truth.prior else truth.noise)
            )
            gone = away if run == 1 else 0.0
            if not truth.prior:
                heats *= 1.0 + extras[s] * run**-power
                heats *= 1.35 if bad else 1.0
                heats *= 1.0 + truth.crowd * (in_fire - 1)
                heats *= (areas[s] / 144.0) ** truth.section
                heats *= 1.0 + truth.away * min(1.0, gone / 90.0)
                heats += truth.cold_fire * 2.0 * rng.random() if cold else 0.0
                heats *= rng.uniform(1.5, 3.0) if odd else 1.0
            made[s].append(
                Made(
                    record=HeatRecord(
                        step=("simulated", "piece", f"step {s}", "hand"),
                        taken=max(1, math.ceil(heats - 0.15))
                        if truth.upward
                        else whole_heats(heats),
                        planned=plans[s],
                        run=run,
                    ),
                    first_of_day=cold,
                    in_fire=in_fire,
                    area_mm2=areas[s],
                    away_days=gone,
                    ordinary=not (bad or odd),
                    odd=odd,
                )
            )
    return made


def _heavy(rng: random.Random, sd: float) -> float:
    """Student's t of 4 degrees of freedom, times `sd`."""
    return sd * rng.gauss(0.0, 1.0) / math.sqrt(rng.gammavariate(2.0, 2.0) / 4.0)


def make_shops(truth: Truth, smiths: int, seed: int = SEED) -> list[list[list[Made]]]:
    """Several smiths of one truth, the same ones on every run."""
    rng = random.Random(f"{seed} {truth.name}")
    return [make_shop(truth, rng) for _ in range(smiths)]


class _Taught(NamedTuple):
    """A piece as `learn` wants it: what is known of it is one figure."""

    step: StepKey
    y: float
    x: float


def learn_with(made: Sequence[Made], known: str) -> LearntSteps:
    """The rule, with one thing known beside the count in place of the number in the run."""
    figure, prior = KNOWN[known]
    records = [
        _Taught(m.record.step, math.log(m.record.taken / m.record.planned), figure(m)) for m in made
    ]
    return LearntSteps(learnt=learn(records, lambda r: (r.y, r.x), prior))


def foretell(shops: list[list[list[Made]]], past: int) -> Row:
    """Let every smith have made so many pieces of each step, and foretell the next."""
    errors: dict[str, list[int]] = {"rule": [], "plain": [], "median": [], "plan": []}
    held = flags = ordinary = found = odd = 0
    for made in shops:
        before = [m for k in range(past) for m in (step[k] for step in made)]
        learnt, plain = learn_with(before, "piece of the run"), learn_with(before, "nothing")
        for step in made:
            record, key = step[past].record, step[past].record.step
            heats = learnt.ask(key, record.planned, record.run)
            errors["rule"].append(abs(heats.shown - record.taken))
            errors["plain"].append(abs(plain.ask(key, record.planned).shown - record.taken))
            errors["plan"].append(abs(record.planned - record.taken))
            held += heats.shown_low <= record.taken <= heats.shown_high
            earlier = [m.record for m in step[:past]]
            if earlier:
                middle = statistics.median(r.taken for r in earlier[-5:])
                errors["median"].append(abs(whole_heats(middle) - record.taken))
            judged = learnt.judge(record, earlier)
            flagged = judged is not None and judged.flagged
            ordinary, odd = ordinary + step[past].ordinary, odd + step[past].odd
            flags += flagged and step[past].ordinary
            found += flagged and step[past].odd
    mean = {name: statistics.fmean(of) if of else None for name, of in errors.items()}
    return Row(
        past=past,
        rule=mean["rule"] or 0.0,
        plain=mean["plain"] or 0.0,
        median=mean["median"],
        plan=mean["plan"] or 0.0,
        in_range=held / len(errors["rule"]),
        flagged=flags / ordinary if past >= 2 and ordinary else None,
        found=found / odd if past >= 2 and odd else None,
    )


def error_with(shops: list[list[list[Made]]], past: int, known: str) -> float:
    """Mean absolute error with one thing known beside the count."""
    figure, _ = KNOWN[known]
    errors: list[int] = []
    for made in shops:
        learnt = learn_with([m for k in range(past) for m in (s[k] for s in made)], known).learnt
        for step in made:
            record = step[past].record
            expected = learnt.expect(record.step, figure(step[past]))
            shown = whole_heats(record.planned * math.exp(expected.mean))
            errors.append(abs(shown - record.taken))
    return statistics.fmean(errors)


def other_method(smiths: int, alike: float, seed: int = SEED) -> tuple[float, float, float]:
    """A step made three times by hand, then for the first time under the power hammer.

    Args:
        smiths: How many.
        alike: Correlation of what a step takes by one method and by the other.
        seed: Of the series.

    Returns:
        Mean absolute errors: of the rule, which takes the smith's common factor alone over to the
        other method; of the hand's factor carried over whole; of the plan.
    """
    rng = random.Random(f"{seed} {alike}")
    errors: tuple[list[int], list[int], list[int]] = ([], [], [])
    for _ in range(smiths):
        common = _heavy(rng, 0.25)
        records: list[HeatRecord] = []
        asked: list[tuple[int, int]] = []
        for s in range(STEPS):
            hand, other = _heavy(rng, 0.30), _heavy(rng, 0.30)
            power = alike * hand + math.sqrt(1.0 - alike**2) * other
            planned = min(12, whole_heats(4.0 * math.exp(rng.gauss(0.0, 0.5))))
            plan = max(1, planned // 2)
            for _ in range(3):
                taken = whole_heats(planned * math.exp(common + hand + rng.gauss(0.0, 0.2)))
                records.append(HeatRecord(step=_key(s, "hand"), taken=taken, planned=planned))
            truth = whole_heats(plan * math.exp(common + power + rng.gauss(0.0, 0.2)))
            asked.append((plan, truth))
        learnt = LearntSteps(
            learnt=learn(records, lambda r: (math.log(r.taken / r.planned), 0.0), FIRST_EXTRA)
        )
        for s, (plan, truth) in enumerate(asked):
            errors[0].append(abs(learnt.ask(_key(s, "power"), plan).shown - truth))
            errors[1].append(abs(learnt.ask(_key(s, "hand"), plan).shown - truth))
            errors[2].append(abs(plan - truth))
    first, second, third = (statistics.fmean(e) for e in errors)
    return first, second, third


def _key(step: int, method: str) -> StepKey:
    return ("simulated", "piece", f"step {step}", method)


def main(words: list[str]) -> None:
    """Print the tables."""
    smiths = int(words[0]) if words else 300
    out = sys.stdout.write
    for truth in TRUTHS:
        shops = make_shops(truth, smiths)
        out(f"\n{truth.name} ({smiths} simulated smiths, {STEPS} steps)\n")
        out("past  rule  plain rule  median of 5  gain  plan  in range  flagged  odd found\n")
        for past in PAST:
            row = foretell(shops, past)
            median = f"{'-':>11}  {'-':>4}"
            if row.median:
                median = f"{row.median:11.2f}  {row.gain:4.0%}"
            flags = (
                f"{'-' if share is None else format(share, '.0%'):>{wide}}"
                for share, wide in ((row.flagged, 7), (row.found, 9))
            )
            out(
                f"{past:4d}  {row.rule:4.2f}  {row.plain:10.2f}  {median}  {row.plan:4.2f}"
                f"  {row.in_range:8.0%}  {'  '.join(flags)}\n"
            )
        out(f"{'known beside the count, alone':30}" + "".join(f"{p:>6}" for p in PAST) + "\n")
        for known in KNOWN:
            figures = "".join(f"{error_with(shops, past, known):6.2f}" for past in PAST)
            out(f"  {known:28}{figures}\n")
    out("\nthe other method, never used on the step before; three pieces by hand: error in heats\n")
    out("alike  rule  hand's factor whole  plan\n")
    for alike in (0.0, 0.5, 0.8):
        rule, whole, plan = other_method(smiths, alike)
        out(f"{alike:5.1f}  {rule:4.2f}  {whole:19.2f}  {plan:4.2f}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
