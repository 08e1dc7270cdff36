"""Playing the rule out, on planned durations or in a world of other ones, to a log of actions."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from forgelog.floor.planning.decide import choose
from forgelog.floor.planning.deeds import ASIDE, BOUT, HEAT, PART, PUT, SCRAP, SETUP, WAIT, Move
from forgelog.floor.planning.going import BENCH, FORGE, REST, Figures, Going
from forgelog.floor.planning.rule import Rule

Action = dict[str, object]
Chooser = Callable[[Going, Rule], Move]
MOST_DEEDS = 200_000
"""A play-out that takes more deeds than this goes round in a circle."""


class PlayError(Exception):
    """A play-out that does not end, or a rule that asks for what cannot be done."""


class StepTruth(msgspec.Struct, frozen=True, kw_only=True):
    """True counts and durations of one step; what its kind does not have is left out."""

    hand_s: tuple[int, ...] = ()
    soak_pct: tuple[int, ...] = ()
    bout_s: tuple[int, ...] = ()
    soak_s: tuple[int, ...] = ()


class World(msgspec.Struct, frozen=True, kw_only=True):
    """What the work would really take. Never shown to the rule."""

    components: dict[str, tuple[StepTruth, ...]]


class Span(msgspec.Struct, frozen=True):
    """A stretch in which one component had one thing done to it."""

    i: int
    step: int
    doing: str
    """hand, bench, fire, rest or setup."""
    from_s: int
    to_s: int
    tooling: str = ""


class Played(msgspec.Struct, kw_only=True):
    """A play-out and what it came to."""

    actions: list[Action]
    spans: list[Span]
    """The same as stretches, with the rests; in the order in which they ended or began to rest."""
    finish_s: list[int]
    """By component: when it was finished; the end of the play-out where it was not."""
    order_s: list[int]
    """By order."""
    makespan_s: int
    tardiness: int
    """Weighted seconds."""
    hands_s: int
    helped_s: int
    """Of the helper."""
    setups: int
    laid_aside: int
    burnt: int
    decisions: int

    @property
    def idle_share(self) -> float:
        """Share of the time in which the hands had nothing to do."""
        return (self.makespan_s - self.hands_s) / self.makespan_s if self.makespan_s else 0.0


def play(
    going: Going,
    rule: Rule,
    world: World | None = None,
    *,
    chooser: Chooser = choose,
    log: bool = True,
    stop_s: int | None = None,
    helper: bool = False,
) -> Played:
    """Play from the present to the end. The present is changed.

    Args:
        going: Where it begins.
        rule: The weights.
        world: True durations; None for the planned ones.
        chooser: What decides.
        log: Whether to keep the actions.
        stop_s: Give up when it has gone on for longer; the makespan is then what it came to.
        helper: A second pair of hands does bench work, the longest chain first, and nothing else.

    Raises:
        PlayError: it does not end.
    """
    player = _Player(going, world, log=log)
    for _ in range(MOST_DEEDS):
        if not going.live or (stop_s is not None and going.now > stop_s):
            return player.result()
        player.look()
        if helper:
            player.help()
            if not going.live:
                return player.result()
        player.do(chooser(going, rule))
    raise PlayError("the play-out does not end")


class _Player:
    def __init__(self, going: Going, world: World | None, *, log: bool) -> None:
        figures = going.figures
        self.g = going
        self.figures: Figures = figures
        self.truth = [world.components[name] for name in figures.ids] if world else None
        self.true_hot = list(going.hot)
        self.helper_free = going.now
        self.log = log
        self.actions: list[Action] = []
        self.spans: list[Span] = []
        if log:
            for i in going.live:
                if going.ready[i] > going.now:
                    step = max(0, going.step[i] - 1)
                    self.spans.append(Span(i, step, "rest", going.now, going.ready[i]))
        self.hands_s = self.setups = self.asides = self.burnt = self.decisions = 0
        self.helped_s = 0

    def look(self) -> None:
        """See which pieces are hot."""
        g = self.g
        for i in g.fire:
            if not g.seen[i] and self.true_hot[i] <= g.now:
                g.seen[i] = True
                g.hot[i] = self.true_hot[i]

    def help(self) -> None:
        """The helper, if free, takes up the bench work with the longest chain behind it."""
        g, now = self.g, self.g.now
        if now < self.helper_free:
            return
        best, best_s = -1, -1
        for i in g.live:
            if g.row[i].kind == BENCH and not g.waits[i] and g.ready[i] <= now and i != g.locked:
                tail_s = g.tail_s(i)
                if tail_s > best_s:
                    best, best_s = i, tail_s
        if best < 0:
            return
        day_end = now - now % self.figures.day_s + self.figures.day_s
        end, over = now, False
        while not over and end < day_end:
            bout_s, over = self.bout(best)
            end += bout_s
            self.helped_s += bout_s
            g.ready[best] = max(g.ready[best], end)
            g.one_done(best, end, over)
        self.helper_free = end

    def note(self, action: Action) -> None:
        if self.log:
            self.actions.append(action)

    def span(self, i: int, doing: str, from_s: int, to_s: int, tooling: str = "") -> None:
        if self.log and to_s > from_s:
            self.spans.append(Span(i, self.g.step[i], doing, from_s, to_s, tooling))

    def done(self, i: int, doing: str, end: int, over: bool) -> None:
        """A heat, bout or part ended; the rests that follow begin."""
        g = self.g
        self.span(i, doing, g.now, end)
        g.now = end
        step = g.step[i]
        g.one_done(i, end, over)
        if self.log and over and g.ready[i] > end:
            rows = self.figures.rows[i]
            if rows[step + 1].kind == REST:
                self.spans.append(Span(i, step + 1, "rest", end, g.ready[i]))

    def do(self, move: Move) -> None:
        g, now, i = self.g, self.g.now, move.i
        self.decisions += 1
        for j in move.asides:
            self.aside(j)
        kind = move.do
        if kind == PUT:
            g.lay(i)
            self.true_hot[i] = g.hot[i]
            if self.truth is not None:
                pct = self.truth[i][g.step[i]].soak_pct[g.done[i]]
                self.true_hot[i] = now - (-(g.hot[i] - now) * pct // 100)
            self.note({"t": now, "do": "put", "component": self.figures.ids[i]})
        elif kind == HEAT:
            hand_s, over = self.hand(i)
            g.fire.remove(i)
            self.span(i, "fire", g.put[i], now)
            end = now + hand_s
            self.hands_s += hand_s
            self.note({"t": now, "do": "heat", "component": self.figures.ids[i], "end": end})
            self.done(i, "hand", end, over)
        elif kind == BOUT:
            bout_s, over = self.bout(i)
            end = now + bout_s
            self.hands_s += bout_s
            self.note({"t": now, "do": "bench", "component": self.figures.ids[i], "end": end})
            self.done(i, "bench", end, over)
        elif kind == PART:
            self.part(i)
        elif kind == SETUP:
            end = now + self.figures.setup_s[move.tooling]
            self.span(max(0, i), "setup", now, end, move.tooling)
            self.hands_s += end - now
            g.now = end
            self.setups += 1
            g.fruitless += 1
            self.note({"t": now, "do": "setup", "tooling": move.tooling, "end": end})
            g.tooling = move.tooling
        elif kind == ASIDE:
            self.aside(i)
        elif kind == SCRAP:
            self.burnt += 1
            self.span(i, "fire", g.put[i], now)
            g.scrap(i)
            self.note({"t": now, "do": "scrap", "component": self.figures.ids[i]})
        elif kind == WAIT:
            until = move.until
            if now < self.helper_free < until:
                until = self.helper_free
            for j in g.fire:
                if not g.seen[j] and now < self.true_hot[j] < until:
                    until = self.true_hot[j]
            if until <= now:
                raise PlayError("it waits for nothing")
            g.now = until

    def aside(self, i: int) -> None:
        self.asides += 1
        self.g.fruitless += 1
        self.g.fire.remove(i)
        self.span(i, "fire", self.g.put[i], self.g.now)
        self.note({"t": self.g.now, "do": "aside", "component": self.figures.ids[i]})

    def hand(self, i: int) -> tuple[int, bool]:
        g = self.g
        row, done = g.row[i], g.done[i]
        if row.kind != FORGE or not g.seen[i]:
            raise PlayError("drawn before it is hot")
        if self.truth is None:
            return row.hand_s, done + 1 >= row.whole
        true = self.truth[i][g.step[i]].hand_s
        return true[done], done + 1 >= len(true)

    def bout(self, i: int) -> tuple[int, bool]:
        g = self.g
        row, done = g.row[i], g.done[i]
        if self.truth is None:
            return row.bout_s, done + 1 >= row.whole
        true = self.truth[i][g.step[i]].bout_s
        return true[done], done + 1 >= len(true)

    def part(self, i: int) -> None:
        g, now = self.g, self.g.now
        n = g.done[i]
        soak_s, hand_s = g.row[i].parts[n][0], g.row[i].parts[n][1]
        if self.truth is not None:
            true = self.truth[i][g.step[i]]
            soak_s, hand_s = true.soak_s[n], true.hand_s[n]
        drawn = now + soak_s
        end = drawn + hand_s
        self.hands_s += end - now
        if n and not g.row[i].parts[n - 1][1]:
            # Put in, left alone and now taken out: it was in the fire all the while.
            self.span(i, "fire", g.end[i], now)
        self.span(i, "fire", now, drawn)
        g.now = drawn
        self.note(
            {
                "t": now,
                "do": "treat",
                "component": self.figures.ids[i],
                "drawn": drawn,
                "end": end,
            }
        )
        self.done(i, "hand", end, n + 1 >= g.row[i].whole)

    def result(self) -> Played:
        g, figures = self.g, self.figures
        finish = [0] * len(figures.due_s)
        for i, order in enumerate(figures.order_of):
            end = g.finish[i] if g.finish[i] >= 0 else g.now
            finish[order] = max(finish[order], end)
        late = sum(
            weight * max(0, end - due)
            for weight, end, due in zip(figures.weight, finish, figures.due_s, strict=True)
        )
        return Played(
            actions=self.actions,
            spans=self.spans,
            finish_s=[end if end >= 0 else g.now for end in g.finish],
            order_s=finish,
            makespan_s=max([g.now if not g.live else 0, *finish]),
            tardiness=late,
            hands_s=self.hands_s,
            helped_s=self.helped_s,
            setups=self.setups,
            laid_aside=self.asides,
            burnt=self.burnt,
            decisions=self.decisions,
        )
