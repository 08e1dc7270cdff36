"""What the rule weighs, all in seconds of the chain that is still to come."""

from __future__ import annotations

import msgspec

from forgelog.floor.planning.going import NEVER, Figures, Going


class Weights(msgspec.Struct, frozen=True, kw_only=True):
    """How the rule weighs its reasons. The longest chain first, then what these add."""

    warm: float = 4000.0
    """For a piece that is still warm, against one that lies cold."""
    tool: float = 12.0
    """Against a set-up, for every second of it."""
    bench: float = -900.0
    """For bench work: below 0 it is kept for when the fire has nothing to give."""
    treat: float = -900.0
    """For heat treatment, which wants the fire alone."""
    wait: float = 65.0
    """Against standing still, for every second of it."""
    aside: float = 22000.0
    """Against laying a piece aside that would burn."""
    hurry: float = 14000.0
    """How much longer a chain must be to break into a step that has its tooling set."""
    due: float = 0.0
    """For a piece whose order is near its date, times the order's weight."""
    near_s: float = 7200.0
    """From how long before the last moment a date counts."""
    first: float = 0.0
    """For the order that was promised soonest; the later ones get less, by their place."""
    stretch: float = 2.0
    """How many times its lonely chain a piece takes in company."""
    early: float = -3400.0
    """For a set-up, against heats and bench work that might come first."""
    bias: dict[str, float] = {}
    """By component, or component/step number: found by a search, for one plan."""


BY_DATE = Weights(due=10_000.0, near_s=20_000.0, stretch=1.5)
"""Leans on what is near its date."""
BOTH = Weights(due=1000.0, near_s=20_000.0, stretch=3.0)
"""Finishes everything soon, with an eye on the dates."""
FLOOR = Weights(due=4000.0, near_s=86_400.0, stretch=3.0, wait=400.0, bench=-20_000.0, aside=1.0e6)
"""The same at the fire, where dates are days away: nothing is laid aside that can be worked in
time, and the bench waits until nothing in the fire is nearly hot."""


class Care(msgspec.Struct, frozen=True, kw_only=True):
    """How much longer than planned the work may take before something goes wrong."""

    burn: float = 1.7
    """A stretch of hand work, as far as burning goes."""
    put: float = 1.6
    """The same when a piece is about to go in: what is then in danger is laid aside later."""
    hard: float = 2.5
    """A stretch, as far as the closing of the fire and a locked heat treatment go."""
    treat: float = 1.35
    """A whole heat treatment, as far as the closing of the fire goes."""
    soon: float = 0.8
    """The share of its soak after which a piece may be hot already, as far as a set-up goes."""
    again: float = 0.0
    """How much longer than planned the heats of all others in the fire may take until a piece's
    turn comes again; 0 where a piece goes back into the fire only when the rule says so. Above 0
    no piece goes in before its jig is set."""


AT_FIRE = Care(again=1.4)
"""At the fire, where a key puts a piece back after each heat without asking."""
EXACT = Care(burn=1.0, put=1.0, hard=1.0, treat=1.0, soon=1.0)
"""For playing out planned durations."""


class Rule:
    """Weights made ready for one problem."""

    __slots__ = (
        "again",
        "aside",
        "bench",
        "bias",
        "burn",
        "due",
        "early",
        "figures",
        "hard",
        "hurry",
        "latest",
        "near_s",
        "push",
        "put_care",
        "soon",
        "stretch",
        "tool",
        "treat",
        "treat_care",
        "wait",
        "warm",
    )

    def __init__(self, figures: Figures, weights: Weights, care: Care) -> None:
        self.figures = figures
        self.warm, self.tool, self.bench = weights.warm, weights.tool, weights.bench
        self.treat, self.wait, self.aside = weights.treat, weights.wait, weights.aside
        self.hurry, self.due, self.near_s = weights.hurry, weights.due, weights.near_s
        self.stretch = weights.stretch
        self.burn, self.hard, self.treat_care = care.burn, care.hard, care.treat
        self.put_care, self.soon, self.again = care.put, care.soon, care.again
        self.early = weights.early
        bias = weights.bias
        sooner = _sooner(figures, weights.first)
        self.bias = [
            [
                sooner[o] + bias.get(name, 0.0) + bias.get(f"{name}/{k}", 0.0)
                for k in range(len(rows))
            ]
            for name, rows, o in zip(figures.ids, figures.rows, figures.order_of, strict=True)
        ]
        self.latest = [figures.due_s[o] for o in figures.order_of]
        self.push = [
            weights.due * figures.weight[o] if figures.due_s[o] < NEVER else 0.0
            for o in figures.order_of
        ]
        # Dates outweigh chains; standing still and laying aside have to keep up with them.
        most = max(self.push, default=0.0)
        self.aside += most
        self.wait *= 1.0 + most / 20_000.0

    def worth(self, going: Going, i: int) -> float:
        """How much a component presses: its chain, its bias and its date."""
        tail_s = going.tail_s(i)
        worth = tail_s + self.bias[i][going.step[i]]
        push = self.push[i]
        if push:
            late_s = going.now + self.stretch * tail_s - self.latest[i] + self.near_s
            if late_s > 0:
                worth += push * min(1.0, late_s / self.near_s)
        return worth


def _sooner(figures: Figures, first: float) -> list[float]:
    """By order: all of `first` for the nearest date, nothing for the last and for those without."""
    dates = sorted({due for due in figures.due_s if due < NEVER})
    if not first or not dates:
        return [0.0] * len(figures.due_s)
    undated = any(due >= NEVER for due in figures.due_s)
    steps = max(1, len(dates) - 1 + undated)
    return [
        first * (1.0 - dates.index(due) / steps) if due < NEVER else 0.0 for due in figures.due_s
    ]
