"""What the rule weighs, all in seconds of the chain that is still to come."""

from __future__ import annotations

import msgspec

from forgelog.floor.planning.going import NEVER, Figures, Going


class Weights(msgspec.Struct, frozen=True, kw_only=True):
    """How the rule weighs its reasons. The longest chain first, then what these add."""

    warm: float = 600.0
    """For a piece that is still warm, against one that lies cold."""
    tool: float = 10.0
    """Against a set-up, for every second of it."""
    bench: float = -1500.0
    """For bench work: below 0 it is kept for when the fire has nothing to give."""
    treat: float = 0.0
    """For heat treatment, which wants the fire alone."""
    wait: float = 40.0
    """Against standing still, for every second of it."""
    aside: float = 4000.0
    """Against laying a piece aside that would burn."""
    hurry: float = 4000.0
    """How much longer a chain must be to break into a step that has its tooling set."""
    due: float = 0.0
    """For a piece whose order is near its date, times the order's weight."""
    near_s: float = 7200.0
    """From how long before the last moment a date counts."""
    stretch: float = 2.0
    """How many times its lonely chain a piece takes in company."""
    bias: dict[str, float] = {}
    """By component: found by a search, for one plan."""


class Care(msgspec.Struct, frozen=True, kw_only=True):
    """How much longer than planned the work may take before something goes wrong."""

    burn: float = 1.8
    """A stretch of hand work, as far as burning goes."""
    hard: float = 2.5
    """A stretch, as far as the closing of the fire and a locked heat treatment go."""
    treat: float = 1.35
    """A whole heat treatment, as far as the closing of the fire goes."""


EXACT = Care(burn=1.0, hard=1.0, treat=1.0)
"""For playing out planned durations."""


class Rule:
    """Weights made ready for one problem."""

    __slots__ = (
        "aside",
        "bench",
        "bias",
        "burn",
        "due",
        "figures",
        "hard",
        "hurry",
        "latest",
        "near_s",
        "push",
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
        self.bias = [weights.bias.get(name, 0.0) for name in figures.ids]
        self.latest = [figures.due_s[o] for o in figures.order_of]
        self.push = [
            weights.due * figures.weight[o] if figures.due_s[o] < NEVER else 0.0
            for o in figures.order_of
        ]

    def worth(self, going: Going, i: int) -> float:
        """How much a component presses: its chain, its bias and its date."""
        tail_s = going.tail_s(i)
        worth = tail_s + self.bias[i]
        push = self.push[i]
        if push:
            late_s = going.now + self.stretch * tail_s - self.latest[i] + self.near_s
            if late_s > 0:
                worth += push * min(1.0, late_s / self.near_s)
        return worth
