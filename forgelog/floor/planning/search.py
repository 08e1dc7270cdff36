"""Betters a plan for whole days: the rule is played out again and again with other weights.

Every trial changes a few weights or leans on a few components, and is kept when the plan is no
worse than it was lately (late acceptance). Counted in trials, never in time, and its own number
series stands in for chance: the same seed gives the same plan.
"""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from forgelog.floor.planning.going import BENCH, FORGE, TREAT, Figures, Going
from forgelog.floor.planning.play import Played, play
from forgelog.floor.planning.rule import EXACT, Care, Rule, Weights

GOALS = ("makespan", "tardiness")
MEMORY = 25
"""A plan is compared with the one kept so many trials ago."""
QUIET = 250
"""After so many trials without a better plan it begins again from elsewhere."""
AFRESH = 0.7
"""In the last part of the trials it begins again from the best plan only."""
LONG = 1500
"""A shorter search begins again from the best plan only."""
_SPREAD = {
    "warm": 600.0,
    "tool": 8.0,
    "bench": 2000.0,
    "treat": 2500.0,
    "wait": 30.0,
    "aside": 3000.0,
    "hurry": 4000.0,
    "early": 1500.0,
}
_LEAST = {"tool": 0.0, "wait": 1.0, "aside": 0.0, "warm": 0.0}


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """The best plan found: its weights, and what they come to on planned durations."""

    weights: Weights
    played: Played
    trials: int


class Series:
    """Numbers without order, the same for the same seed (a linear congruential series).

    Source: D. E. Knuth, MMIX multiplier and increment (from memory).
    """

    def __init__(self, seed: int) -> None:
        self._now = (seed * 2 + 1) & 0xFFFFFFFFFFFFFFFF
        for _ in range(8):
            self.below(2)

    def below(self, limit: int) -> int:
        """A whole number from 0 to one below the limit."""
        self._now = (self._now * 6364136223846793005 + 1442695040888963407) & 0xFFFFFFFFFFFFFFFF
        return ((self._now >> 33) * limit) >> 31

    def share(self) -> float:
        """From 0 to below 1."""
        return self.below(1 << 30) / (1 << 30)

    def about(self, spread: float) -> float:
        """About 0, rarely beyond twice the spread (the sum of four shares)."""
        return (sum(self.share() for _ in range(4)) - 2.0) * 1.7 * spread


LIGHT = Weights(
    warm=600.0,
    tool=10.0,
    bench=-1500.0,
    treat=0.0,
    wait=40.0,
    aside=4000.0,
    hurry=4000.0,
    early=0.0,
)
"""Leans less on its reasons: the chain counts for more."""


def starts(figures: Figures, goal: str) -> list[Weights]:
    """Weights worth trying first."""
    replace = msgspec.structs.replace
    if goal == "makespan":
        return [
            Weights(),
            LIGHT,
            replace(LIGHT, tool=20.0, hurry=20_000.0),
            replace(LIGHT, tool=3.0, hurry=1000.0),
            replace(LIGHT, treat=3000.0),
            replace(LIGHT, warm=3000.0, wait=100.0),
            replace(LIGHT, aside=1000.0, wait=15.0),
            Weights(bench=-4000.0),
            Weights(bench=0.0, wait=100.0),
        ]
    found = []
    for by in (_by_date, _by_weight, _by_both):
        ranks = by(figures)
        for lean in (8000.0, 30_000.0):
            bias = {name: lean * ranks[figures.order_of[i]] for i, name in enumerate(figures.ids)}
            found.append(replace(LIGHT, bias=bias))
            found.append(replace(LIGHT, bias=bias, bench=0.0))
            found.append(Weights(bias=bias))
    for due in (2000.0, 6000.0, 20_000.0):
        found.append(replace(LIGHT, due=due))
        found.append(replace(LIGHT, due=due, near_s=20_000.0))
    return [*found, Weights(), LIGHT]


def _ranks(keys: list[float]) -> list[float]:
    """The smallest key gets the highest rank, 1 at the most."""
    order = sorted(range(len(keys)), key=lambda o: (keys[o], o))
    ranks = [0.0] * len(keys)
    for place, o in enumerate(order):
        ranks[o] = (len(keys) - place) / len(keys)
    return ranks


def _order_hands_s(figures: Figures) -> list[float]:
    total = [0.0] * len(figures.due_s)
    for i, rows in enumerate(figures.rows):
        total[figures.order_of[i]] += sum(
            r.whole * (r.hand_s + r.bout_s) + sum(p[0] + p[1] for p in r.parts) for r in rows
        )
    return total


def _by_date(figures: Figures) -> list[float]:
    return _ranks([float(d) for d in figures.due_s])


def _by_weight(figures: Figures) -> list[float]:
    hands = _order_hands_s(figures)
    return _ranks([h / max(1, w) for h, w in zip(hands, figures.weight, strict=True)])


def _by_both(figures: Figures) -> list[float]:
    hands = _order_hands_s(figures)
    return _ranks(
        [
            min(d, 1 << 30) / 2 + h / max(1, w)
            for d, h, w in zip(figures.due_s, hands, figures.weight, strict=True)
        ]
    )


def never() -> bool:
    """The search runs to its end."""
    return False


def search(
    figures: Figures,
    start: Going | None = None,
    *,
    goal: str = "makespan",
    trials: int = 1000,
    seed: int = 1,
    care: Care = EXACT,
    first: tuple[Weights, ...] = (),
    stop: Callable[[], bool] = never,
) -> Plan:
    """The best plan found in so many trials.

    Args:
        figures: Of the problem.
        start: Where it begins; None for the very beginning.
        goal: makespan or tardiness; the other decides between equals.
        trials: How many play-outs.
        seed: Of the series that stands in for chance.
        care: How carefully the plan is to be worked; EXACT for planned durations.
        first: Further weights to begin with.
        stop: Asked after every play-out: true ends the search with the best plan so far.

    Raises:
        ValueError: there is no such goal.
    """
    if goal not in GOALS:
        raise ValueError(f'the goal is "makespan" or "tardiness", not "{goal}"')
    begin = start or Going(figures)
    series = Series(seed)

    def value(weights: Weights, stop_s: int | None) -> tuple[int, int]:
        played = play(begin.copy(), Rule(figures, weights, care), log=False, stop_s=stop_s)
        pair = (played.makespan_s, played.tardiness)
        return pair if goal == "makespan" else pair[::-1]

    best: tuple[int, int] | None = None
    kept = Weights()
    tried = 0
    begun = [*first, *starts(figures, goal)]
    for weights in begun:
        if tried >= max(1, trials) or (tried and stop()):
            break
        tried += 1
        got = value(weights, None)
        if best is None or got < best:
            best, kept = got, weights
    assert best is not None
    now, now_value = kept, best
    past = [best] * MEMORY
    groups = _groups(figures)
    quiet = 0
    while tried < trials and not stop():
        tried += 1
        other = _changed(now, groups, figures, series)
        worst = max(past[tried % MEMORY], now_value)
        stop_s = int(worst[0] * 1.02) + 60 if goal == "makespan" else None
        got = value(other, stop_s)
        if got <= worst:
            now, now_value = other, got
        past[tried % MEMORY] = now_value
        quiet += 1
        if got < best:
            best, kept, quiet = got, other, 0
        elif quiet > QUIET:
            now, now_value, quiet = kept, best, 0
            if trials >= LONG and tried < AFRESH * trials:
                now = begun[series.below(len(begun))]
                now_value = value(now, None)
                tried += 1
            past = [now_value] * MEMORY
    played = play(begin.copy(), Rule(figures, kept, care))
    return Plan(weights=kept, played=played, trials=tried)


def _groups(figures: Figures) -> list[list[str]]:
    """Components that may be leaned on together: each alone, a piece, a set, an order."""
    groups = [[name] for name in figures.ids]
    groups += [
        [f"{name}/{k}"]
        for name, rows in zip(figures.ids, figures.rows, strict=True)
        for k, row in enumerate(rows)
        if row.kind in (FORGE, BENCH, TREAT)
    ]
    for order in figures.problem.orders:
        sets: dict[str, list[str]] = {}
        for piece in order.pieces:
            if len(piece.components) > 1:
                groups.append([c.id for c in piece.components])
            for c in piece.components:
                sets.setdefault(c.set, []).append(c.id)
        groups.extend(names for names in sets.values() if len(names) > 1)
        groups.append([c.id for piece in order.pieces for c in piece.components])
    return groups


def _changed(
    weights: Weights, groups: list[list[str]], figures: Figures, series: Series
) -> Weights:
    """A neighbour: some weights or some leanings changed."""
    changes: dict[str, float] = {}
    bias = dict(weights.bias)
    if series.share() < 0.35:
        names = sorted(_SPREAD)
        for _ in range(1 + series.below(2)):
            name = names[series.below(len(names))]
            moved = getattr(weights, name) + series.about(_SPREAD[name])
            changes[name] = max(_LEAST.get(name, -1.0e9), moved)
    else:
        scale = (300.0, 1000.0, 4000.0)[series.below(3)]
        for _ in range(1 + series.below(3)):
            group = groups[series.below(len(groups))]
            lean = series.about(scale)
            for name in group:
                bias[name] = bias.get(name, 0.0) + lean
    return msgspec.structs.replace(weights, bias=bias, **changes)
