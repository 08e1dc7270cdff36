"""From the floor as it stands to the planning problem and how far the work on it is.

One workpiece is one component of the problem. Shop time has no nights that the floor knows of, so
the problem is one long day that began long ago.
"""

from __future__ import annotations

from datetime import date

import msgspec

from forgelog.floor.planning.problem import (
    Bench,
    Component,
    Fire,
    Forge,
    Order,
    Part,
    Piece,
    Problem,
    Rest,
    Run,
    Standing,
    Step,
    Tooling,
    Treat,
)
from forgelog.floor.planning.soaks import heat_times
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import heat_of, look_s, needed_s, section_of, stop_of
from forgelog.recipe import resolved
from forgelog.recipe.resolved import HEAT_KINDS
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    component_of,
    live,
    order_open,
    recipe_of,
    steps_of,
)
from forgelog.work.state import (
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    RESTING,
    State,
    Workpiece,
)

NOW_S = 10_000_000
"""The present on the problem's scale: there is room for a hundred days before it."""
DAY_S = 1_000_000_000
WORKING_DAY_S = 8 * 3600
"""Of work in one day, for dates. Common practice."""
BOUT_S = 30
"""Bench work can be broken off at any time, so it is planned in short bouts."""
BENCH_S = {"gauge": 120.0, "fit": 900.0, "finish": 600.0}
"""Where the recipe names no minutes; other bench work half an hour. Common practice."""
OTHER_BENCH_S = 1800.0
JIG_S = 90
"""To set up a jig at the anvil. Common practice."""
LAY_S = 5
"""To take a piece out to cool. Common practice."""
QUENCH_S = 30
"""From the fire to quenched. Common practice."""
TEMPER_AIR_S = 120
"""A quenched piece is cleaned before it is tempered. Common practice."""
TEMPER_SLACK_S = 1800
BLOCKED_S = 600
"""What is blocked now is looked at again after so long."""


class Floor(msgspec.Struct, frozen=True, kw_only=True):
    """The problem and the run, and where each recipe step is in the problem."""

    problem: Problem
    run: Run
    steps: dict[str, tuple[int, ...]]
    """By workpiece: for each step of the recipe its number in the problem."""


def planned_heats(
    state: State, piece: Workpiece, step: resolved.Step, settings: FloorSettings
) -> int:
    """Heats that a step should take: learnt, else the recipe's for the method, else one."""
    key = (recipe_of(state, piece).id, piece.component, step.id, state.method)
    learnt = settings.learnt.get(key)
    if learnt is not None:
        return max(1, learnt.heats)
    for name in (state.method, {"striker": "hand", "press": "power"}.get(state.method, ""), "hand"):
        if name in step.heats:
            return max(1, step.heats[name])
    return max([1, *step.heats.values()])


def floor_problem(
    state: State,
    now: Moment,
    settings: FloorSettings,
    *,
    blocked: frozenset[str] = frozenset(),
) -> Floor:
    """The problem of everything that is still to be done on the open orders.

    Args:
        state: What stands.
        now: Shop time.
        settings: Of this floor: learnt heats, the shop's own time to look.
        blocked: Workpieces that must not be taken up now.
    """
    orders: list[Order] = []
    standing: dict[str, Standing] = {}
    steps: dict[str, tuple[int, ...]] = {}
    jigs: dict[str, Tooling] = {}
    by_order: dict[str, list[Workpiece]] = {}
    for piece in state.pieces.values():
        if live(piece) and order_open(state.orders[piece.order]):
            by_order.setdefault(piece.order, []).append(piece)
    dated = sorted(
        by_order,
        key=lambda o: (state.orders[o].promised or "9999", state.orders[o].taken_s, o),
    )
    for name in dated:
        pieces = by_order[name]
        needs = _needs(state, name, pieces)
        made = []
        for piece in pieces:
            if piece.id not in needs:
                continue
            maker = _Maker(state, piece, now, settings)
            maker.work()
            steps[piece.id] = tuple(maker.at)
            jigs.update((t, Tooling(setup_s=JIG_S)) for t in maker.jigs)
            component = Component(
                id=piece.id,
                set=f"{piece.component}/{piece.pin}",
                needs=needs[piece.id],
                steps=tuple(maker.steps),
            )
            made.append(Piece(id=piece.id, components=(component,)))
            standing[piece.id] = maker.standing(piece.id in blocked)
        if made:
            order = state.orders[name]
            orders.append(Order(id=name, pieces=tuple(made), due_s=_due_s(order.promised, now)))
    problem = Problem(
        day_s=DAY_S,
        fire=Fire(
            places=max(1, state.fire.places),
            light_s=0 if state.fire.lit else DAY_S - 1,
            kind=state.fire.kind,
        ),
        orders=tuple(orders),
        tooling=jigs,
    )
    run = Run(now_s=NOW_S, standing=standing, tooling=_jig_standing(state))
    return Floor(problem=problem, run=run, steps=steps)


def _due_s(promised: str, now: Moment) -> int | None:
    """When an order is due, on the problem's scale, a working day for each day."""
    if not promised:
        return None
    try:
        day = date.fromisoformat(promised)
    except ValueError:
        return None
    today = int(now.rest_s // 86_400) + date(1970, 1, 1).toordinal()
    return NOW_S + max(-30, day.toordinal() - today + 1) * WORKING_DAY_S


def _jig(step: resolved.Step) -> str | None:
    """The jig that a step is worked on, if any; tongs and hammers need no setting up."""
    for tool in step.tools:
        if tool.jig:
            return tool.id
    return None


def _jig_standing(state: State) -> str | None:
    """What stands at the anvil: no key tells it, so the last piece that wanted a jig does.

    A piece that went into the fire for a jig counts: the jig is set up while it soaks.
    """
    last_s, found = -1.0, None
    for piece in state.pieces.values():
        steps = steps_of(state, piece)
        if piece.place in (FIRE, HAND) and piece.step < len(steps):
            at_s, worked = piece.since_s, piece.step
        elif piece.last_heat_s is not None:
            at_s, worked = piece.last_heat_s, piece.step if piece.heats else piece.step - 1
            while worked >= 0 and (worked >= len(steps) or steps[worked].kind != "forge"):
                worked -= 1
        else:
            continue
        jig = _jig(steps[worked]) if worked >= 0 else None
        if jig is not None and at_s > last_s:
            last_s, found = at_s, jig
    return found


def _needs(state: State, order: str, pieces: list[Workpiece]) -> dict[str, tuple[str, ...]]:
    """For each live piece the live pieces that it waits for; a piece that can get none is left out.

    Parts of an assembly's own set and mark go first, as when they are taken up.
    """
    stock = [
        p
        for p in state.pieces.values()
        if p.order == order and (live(p) or p.place == FINISHED) and p.place != FITTED
    ]
    left = {p.id: (p.lot - p.used if p.lot else 1) for p in stock}
    found: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        component = component_of(state, piece)
        if not component.needs or piece.parts or piece.step:
            found[piece.id] = ()
            continue
        waits: list[str] = []
        enough = True
        for need in component.needs:
            wanted = need.count
            parts = [p for p in stock if p.component == need.component and left[p.id] > 0]
            parts.sort(key=lambda p: (p.set != piece.set, p.mark != piece.mark, p.serial))
            for part in parts:
                if wanted <= 0:
                    break
                share = min(wanted, left[part.id])
                left[part.id] -= share
                wanted -= share
                if live(part):
                    waits.append(part.id)
            enough = enough and wanted <= 0
        if enough:
            found[piece.id] = tuple(waits)
    # What waits for a piece that was left out can not be made either.
    while True:
        gone = [i for i, waits in found.items() if any(w not in found for w in waits)]
        if not gone:
            return found
        for i in gone:
            del found[i]


class _Maker:
    """Turns the steps of one workpiece into steps of the problem."""

    def __init__(
        self, state: State, piece: Workpiece, now: Moment, settings: FloorSettings
    ) -> None:
        self.state = state
        self.piece = piece
        self.now = now
        self.settings = settings
        self.recipe = steps_of(state, piece)
        self.steps: list[Step] = []
        self.at: list[int] = []
        self.jigs: set[str] = set()

    def work(self) -> None:
        """Fill `steps` and `at`."""
        for index, step in enumerate(self.recipe):
            before = self.recipe[index - 1] if index else None
            if step.kind == "temper" and before is not None and before.kind == "harden":
                self.at.append(len(self.steps) - 1)
                continue
            self.at.append(len(self.steps))
            if step.kind == "forge":
                self._forge(step, before)
            elif step.kind == "rest":
                self.steps.append(Rest(rest_s=self._rest_s(step, index)))
            elif step.kind in ("harden", "temper"):
                self._treat(step, index)
            elif step.kind in HEAT_KINDS:
                self._cycle(step, index)
            else:
                self._bench(step)
        if not self.steps:
            self.steps.append(Rest(rest_s=0))

    def _times(self, step: resolved.Step) -> tuple[int, int, int, int, int]:
        state = self.state
        times = heat_times(
            section_of(state, self.piece, step),
            heat_of(step),
            min(stop_of(step), heat_of(step)),
            state.method,
            state.fire.kind,
            state.air_degc,
        )
        soak_s = round(step.soak_s or 0.0)
        if self.settings.look_s is not None:
            own = round(self.settings.look_s)
            return own, own, times.fade, times.hand_s, times.hold_s
        cold_s, again_s = times.cold_s + soak_s, times.reheat_s + soak_s
        return cold_s, again_s, times.fade, times.hand_s, times.hold_s

    def _forge(self, step: resolved.Step, before: resolved.Step | None) -> None:
        cold_s, again_s, fade, hand_s, hold_s = self._times(step)
        heats = planned_heats(self.state, self.piece, step, self.settings)
        if step.follows and before is not None and before.kind == "forge":
            heats = max(1, heats - 1)
        heats *= max(1, self.piece.lot)
        jig = _jig(step)
        if jig is not None:
            self.jigs.add(jig)
        self.steps.append(
            Forge(
                heats=heats,
                cold_s=cold_s,
                reheat_s=min(again_s, cold_s),
                fade=fade,
                hand_s=hand_s,
                hold_s=hold_s,
                tooling=jig,
                name=step.do,
            )
        )

    def _rest_s(self, step: resolved.Step, index: int) -> int:
        rest = self.piece.rest
        if index == self._resting() and rest is not None:
            return max(0, round(rest.needed_s))
        if step.rest is None:
            return 0
        worked = next(
            (s for s in reversed(self.recipe[:index]) if s.kind in ("forge", *HEAT_KINDS)), step
        )
        section = section_of(self.state, self.piece, worked)
        start = stop_of(worked) if worked.kind == "forge" else heat_of(worked)
        return max(0, round(needed_s(section, start, step.rest, self.state.air_degc)))

    def _resting(self) -> int:
        """The index of the step that rests now, or -1."""
        piece = self.piece
        return piece.step if piece.place == RESTING and piece.rest is not None else -1

    def _cycle(self, step: resolved.Step, index: int) -> None:
        cold_s, again_s, fade, _, hold_s = self._times(step)
        self.steps.append(
            Forge(
                heats=1,
                cold_s=cold_s,
                reheat_s=min(again_s, cold_s),
                fade=fade,
                hand_s=LAY_S,
                hold_s=hold_s,
                name=step.do,
            )
        )
        self.steps.append(Rest(rest_s=self._rest_s(step, index)))

    def _treat(self, step: resolved.Step, index: int) -> None:
        cold_s = self._times(step)[0]
        after = self.recipe[index + 1] if index + 1 < len(self.recipe) else None
        if step.kind == "temper" or after is None or after.kind != "temper":
            hand_s = LAY_S if step.kind == "temper" else QUENCH_S
            parts: tuple[Part, ...] = (Part(soak_s=cold_s, hand_s=hand_s, name=step.do),)
        else:
            parts = (
                Part(
                    soak_s=cold_s,
                    hand_s=QUENCH_S,
                    air_s=TEMPER_AIR_S,
                    slack_s=TEMPER_SLACK_S,
                    name=step.do,
                ),
                Part(soak_s=self._times(after)[0], hand_s=LAY_S, name=after.do),
            )
        self.steps.append(Treat(parts=parts, name=step.do))

    def _bench(self, step: resolved.Step) -> None:
        whole_s = step.minutes_s or BENCH_S.get(step.kind, OTHER_BENCH_S)
        bouts = 1 if step.kind == "gauge" else max(1, round(whole_s / BOUT_S))
        self.steps.append(Bench(bouts=bouts, bout_s=round(whole_s / bouts), name=step.do))

    def standing(self, blocked: bool) -> Standing:
        """How far the piece is."""
        piece = self.piece
        if piece.step >= len(self.recipe):
            return Standing(step=len(self.steps), end_s=NOW_S)
        at = self.at[piece.step]
        step = self.recipe[piece.step]
        done = piece.heats if step.kind == "forge" else 0
        end_s: int | None = None
        warm = False
        put_s: int | None = None
        hot_s: int | None = None
        if piece.last_heat_s is not None:
            end_s = self._at(piece.last_heat_s)
            warm = step.kind == "forge"
        if piece.place == RESTING and piece.rest is not None:
            end_s, warm, done = self._at(piece.rest.started_s), False, 0
            if isinstance(self.steps[at], Forge):
                at += 1
            if not isinstance(self.steps[at], Rest):
                # A rest that the smith added: it is over when it is over.
                end_s = self._at(piece.rest.started_s + piece.rest.needed_s)
        elif isinstance(self.steps[at], Treat) and step.kind == "temper":
            treat = self.steps[at]
            done = len(treat.parts) - 1 if isinstance(treat, Treat) else 0
            end_s = self._at(piece.since_s)
        elif isinstance(self.steps[at], Bench):
            bench = self.steps[at]
            worked_s = piece.work_s
            if piece.running:
                worked_s += self.now.work_s - piece.bench_work_s
            if isinstance(bench, Bench):
                done = min(bench.bouts - 1, int(worked_s // bench.bout_s))
        if piece.place == FIRE and isinstance(self.steps[at], Forge):
            put_s = self._at(piece.since_s)
            left_s = look_s(self.state, piece, self.settings) - (self.now.rest_s - piece.since_s)
            hot_s = NOW_S + round(left_s) if left_s <= 0 else None
        if piece.place == HAND:
            end_s, warm = NOW_S, step.kind == "forge"
        if blocked:
            end_s, warm = NOW_S + BLOCKED_S, False
        if piece.place == FIRE and isinstance(self.steps[at], Treat):
            # Its soak runs; the floor says when to look, and nothing is planned for it until then.
            left_s = look_s(self.state, piece, self.settings) - (self.now.rest_s - piece.since_s)
            end_s, done = NOW_S + max(1, round(left_s)), 0
        return Standing(step=at, done=done, end_s=end_s, warm=warm, put_s=put_s, hot_s=hot_s)

    def _at(self, moment_s: float) -> int:
        return max(0, NOW_S + round(moment_s - self.now.rest_s))
