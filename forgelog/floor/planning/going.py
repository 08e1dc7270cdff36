"""The work under way, in a form that is quick to change: one row of figures a component.

`Figures` are worked out once a problem; `Going` is the present, changed by each deed.
"""

from __future__ import annotations

from forgelog.floor.planning.problem import (
    Bench,
    Component,
    Forge,
    Problem,
    Rest,
    Run,
    Standing,
    Treat,
)

FORGE, REST, BENCH, TREAT, DONE = range(5)
NEVER = 1 << 60


class Row:
    """One step of a component in plain figures; what a kind does not have is 0."""

    __slots__ = (
        "bout_s",
        "cold_s",
        "fade",
        "hand_s",
        "hold_s",
        "kind",
        "length_s",
        "parts",
        "reheat_s",
        "tooling",
        "until_fire_s",
        "whole",
    )

    def __init__(self, kind: int) -> None:
        self.kind = kind
        self.whole = 1
        self.cold_s = self.reheat_s = self.hand_s = self.hold_s = self.bout_s = 0
        self.fade = 1
        self.tooling: str | None = None
        self.parts: tuple[tuple[int, int, int, int], ...] = ()
        self.length_s = 0
        """Alone in an empty fire, from the step's start to its end."""
        self.until_fire_s = 0
        """Of heat treatment: from its start to the last draw."""


DONE_ROW = Row(DONE)


def _row(step: Forge | Rest | Bench | Treat, warm: bool) -> Row:
    if isinstance(step, Forge):
        row = Row(FORGE)
        row.whole, row.cold_s, row.reheat_s = step.heats, step.cold_s, step.reheat_s
        row.fade, row.hand_s, row.hold_s = step.fade, step.hand_s, step.hold_s
        row.tooling = step.tooling
        first_s = step.reheat_s if warm else step.cold_s
        row.length_s = first_s + (step.heats - 1) * step.reheat_s + step.heats * step.hand_s
    elif isinstance(step, Rest):
        row = Row(REST)
        row.length_s = step.rest_s
    elif isinstance(step, Bench):
        row = Row(BENCH)
        row.whole, row.bout_s = step.bouts, step.bout_s
        row.length_s = step.bouts * step.bout_s
    else:
        row = Row(TREAT)
        row.whole = len(step.parts)
        row.parts = tuple((p.soak_s, p.hand_s, p.air_s, p.slack_s) for p in step.parts)
        row.length_s = sum(p.soak_s + p.hand_s + p.air_s for p in step.parts)
        row.until_fire_s = row.length_s - step.parts[-1].hand_s - step.parts[-1].air_s
    return row


class Figures:
    """A problem in rows, with the chains that follow each step."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.day_s = problem.day_s
        self.light_s = problem.fire.light_s
        self.close_s = problem.day_s - problem.fire.close_s
        self.places = problem.fire.places
        self.setup_s = {name: t.setup_s for name, t in problem.tooling.items()}
        self.components: list[Component] = []
        self.order_of: list[int] = []
        self.due_s: list[int] = []
        self.weight: list[int] = []
        for number, order in enumerate(problem.orders):
            self.due_s.append(NEVER if order.due_s is None else order.due_s)
            self.weight.append(order.weight)
            for piece in order.pieces:
                self.components.extend(piece.components)
                self.order_of.extend(number for _ in piece.components)
        self.ids = [c.id for c in self.components]
        self.index = {name: i for i, name in enumerate(self.ids)}
        self.needs = [tuple(self.index[n] for n in c.needs) for c in self.components]
        self.feeds: list[list[int]] = [[] for _ in self.ids]
        for i, needs in enumerate(self.needs):
            for n in needs:
                self.feeds[n].append(i)
        self.rows: list[list[Row]] = []
        for component in self.components:
            rows: list[Row] = []
            for step in component.steps:
                rows.append(_row(step, bool(rows) and rows[-1].kind == FORGE))
            rows.append(DONE_ROW)
            self.rows.append(rows)
        self._chain: dict[int, int] = {}
        self.after: list[list[int]] = []
        """By component and step: seconds of the chain that follows the step's end."""
        for i in range(len(self.ids)):
            follow = max((self.chain(f) for f in self.feeds[i]), default=0)
            tails = [follow]
            for row in reversed(self.rows[i][:-1]):
                tails.append(tails[-1] + row.length_s)
            # tails[k] counted from the end; after step k stands tails[n - 1 - k].
            n = len(self.rows[i]) - 1
            self.after.append([tails[n - 1 - k] for k in range(n)] + [follow])

    def chain(self, i: int) -> int:
        """Seconds from the start of a component to the end of all that waits for it.

        Raises:
            ValueError: the needs go in a circle.
        """
        if i not in self._chain:
            self._chain[i] = -1
            own = sum(row.length_s for row in self.rows[i])
            self._chain[i] = own + max((self.chain(f) for f in self.feeds[i]), default=0)
        if self._chain[i] < 0:
            raise ValueError("needs go in a circle")
        return self._chain[i]


class Going:
    """The present. Between two deeds nothing is in hand."""

    __slots__ = (
        "burnt",
        "done",
        "end",
        "figures",
        "finish",
        "fire",
        "fruitless",
        "hot",
        "live",
        "locked",
        "now",
        "put",
        "ready",
        "row",
        "seen",
        "step",
        "tooling",
        "waits",
        "warm",
    )

    def __init__(self, figures: Figures) -> None:
        n = len(figures.ids)
        self.figures = figures
        self.now = 0
        self.step = [0] * n
        self.done = [0] * n
        self.end = [-1] * n
        self.ready = [0] * n
        self.warm = [False] * n
        self.put = [0] * n
        self.hot = [0] * n
        """In the fire: when it is hot, by the sum until it is seen."""
        self.seen = [False] * n
        self.fire: list[int] = []
        self.finish = [-1] * n
        self.tooling: str | None = None
        self.burnt = [0] * n
        """How often each was burnt."""
        self.fruitless = 0
        """Pieces laid aside and set-ups since anything was worked."""
        self.locked = -1
        """The component between two parts of its heat treatment."""
        self.waits = [len(needs) for needs in figures.needs]
        """How many of the components that it needs are not finished."""
        self.live = list(range(n))
        self.row: list[Row] = [rows[0] for rows in figures.rows]
        for i in range(n):
            self.settle(i)

    def copy(self) -> Going:
        """Another present that may go its own way."""
        other = Going.__new__(Going)
        for name in Going.__slots__:
            value = getattr(self, name)
            setattr(other, name, list(value) if isinstance(value, list) else value)
        return other

    def settle(self, i: int) -> None:
        """Pass the rests that stand next; their end is kept in `ready`. Note when finished."""
        rows, day_s = self.figures.rows[i], self.figures.day_s
        while (row := rows[self.step[i]]).kind == REST:
            start = max(self.end[i], 0)
            night = (start // day_s + 1) * day_s
            self.ready[i] = max(self.ready[i], min(start + row.length_s, night))
            self.end[i] = self.ready[i]
            self.warm[i] = False
            self.step[i] += 1
        self.row[i] = row
        if row.kind == DONE and self.finish[i] < 0:
            self.finish[i] = max(self.end[i], self.ready[i])
            self.live.remove(i)
            for f in self.figures.feeds[i]:
                self.ready[f] = max(self.ready[f], self.finish[i])
                self.waits[f] -= 1

    def soak_s(self, i: int, at: int) -> int:
        """Planned soak of the next heat if it is put in at a moment."""
        row = self.row[i]
        if not self.warm[i]:
            return row.cold_s
        day_s = self.figures.day_s
        if self.end[i] // day_s != at // day_s:
            return row.cold_s
        return min(row.cold_s, row.reheat_s + (at - self.end[i]) // row.fade)

    def tail_s(self, i: int) -> int:
        """Seconds of the chain from the next heat, bout or part to the end of all that waits."""
        row = self.row[i]
        left = max(1, row.whole - self.done[i])
        after = self.figures.after[i][self.step[i]]
        if row.kind == FORGE:
            return after + left * (row.reheat_s + row.hand_s)
        if row.kind == BENCH:
            return after + left * row.bout_s
        return after + row.length_s

    def lay(self, i: int) -> None:
        """Put in the fire."""
        self.put[i] = self.now
        self.hot[i] = self.now + self.soak_s(i, self.now)
        self.seen[i] = False
        self.fire.append(i)

    def burns(self, i: int) -> int:
        """The last moment at which it may be drawn, by what is known."""
        return self.hot[i] + self.row[i].hold_s

    def one_done(self, i: int, end: int, over: bool) -> None:
        """A heat, bout or part ended; `over` when the step is done."""
        kind = self.row[i].kind
        self.fruitless = 0
        self.end[i] = end
        self.warm[i] = kind == FORGE
        if kind == TREAT:
            self.locked = -1 if over else i
        if over:
            self.step[i] += 1
            self.done[i] = 0
            self.settle(i)
        else:
            self.done[i] += 1

    def scrap(self, i: int) -> None:
        """Burnt: taken out and begun again."""
        self.fire.remove(i)
        self.burnt[i] += 1
        self.step[i] = self.done[i] = 0
        self.end[i], self.warm[i] = self.now, False
        self.row[i] = self.figures.rows[i][0]
        self.settle(i)


def going_from(figures: Figures, run: Run) -> Going:
    """The present out of what has happened.

    Raises:
        KeyError: a component that the problem does not have.
    """
    going = Going(figures)
    going.now = run.now_s
    going.tooling = run.tooling
    for name, standing in run.standing.items():
        _place(going, figures.index[name], standing)
    return going


def _place(going: Going, i: int, standing: Standing) -> None:
    if going.finish[i] >= 0:
        return
    rows = going.figures.rows[i]
    going.step[i], going.done[i] = standing.step, standing.done
    going.end[i] = -1 if standing.end_s is None else standing.end_s
    going.warm[i] = standing.warm
    going.ready[i] = max(going.ready[i], going.end[i])
    going.row[i] = rows[going.step[i]]
    going.settle(i)
    row = going.row[i]
    if row.kind == TREAT and going.done[i]:
        going.locked = i
    if standing.put_s is not None:
        going.put[i] = standing.put_s
        planned = standing.due_s
        if planned is None:
            planned = standing.put_s + going.soak_s(i, standing.put_s)
        going.seen[i] = standing.hot_s is not None
        going.hot[i] = max(planned, going.now) if standing.hot_s is None else standing.hot_s
        going.fire.append(i)
