"""One workpiece as it stands, as a component of the planning problem: its steps, and how far it is.

Recipes know heat treatment step by step; the problem knows a locked sequence. A normalising or an
annealing is a heat and a rest; harden and the temper after it are one locked treatment.
"""

from __future__ import annotations

from forgelog.floor.planning.problem import Bench, Forge, Part, Rest, Standing, Step, Treat
from forgelog.floor.planning.soaks import heat_times
from forgelog.floor.settings import FloorSettings, LearntSeconds
from forgelog.floor.sums import heat_of, look_s, needed_s, section_of, stop_of
from forgelog.recipe import resolved
from forgelog.recipe.resolved import HEAT_KINDS
from forgelog.work.moments import Moment
from forgelog.work.queries import recipe_of, steps_of
from forgelog.work.state import FIRE, HAND, RESTING, State, Workpiece

NOW_S = 10_000_000
"""The present on the problem's scale: there is room for a hundred days before it."""
BOUT_S = 90
"""Bench work can be broken off at any time; for less it is not worth taking up."""
DAY_BOUT_S = 180
"""In a plan of days, which has many of them to play through."""
BENCH_S = {"gauge": 120.0, "fit": 900.0, "finish": 600.0}
"""Where the recipe names no minutes; other bench work half an hour. Common practice."""
OTHER_BENCH_S = 1800.0
LAY_S = 5
"""To take a piece out to cool. Common practice."""
QUENCH_S = 30
"""From the fire to quenched. Common practice."""
TEMPER_AIR_S = 120
"""A quenched piece is cleaned before it is tempered. Common practice."""
TEMPER_SLACK_S = 1800
WATCHED_S = 300
"""A temper in the fire or the oven for longer is not watched all the time. Common practice."""
BLOCKED_S = 600
"""What is blocked now is looked at again after so long."""


def jig_of(step: resolved.Step) -> str | None:
    """The jig that a step is worked on with its setting, if any: "hook-jig@60 mm".

    Tongs and hammers need no setting up. A jig at another setting is set up again.
    """
    for tool in step.tools:
        if tool.jig:
            return f"{tool.id}@{tool.setting}" if tool.setting else tool.id
    return None


def planned_heats(
    state: State, piece: Workpiece, step: resolved.Step, settings: FloorSettings
) -> int:
    """Heats that a step should take: learnt, else the recipe's for the method, else one.

    The pieces of a run are taken to be made in the order of their numbers.
    """
    key = (recipe_of(state, piece).id, piece.component, step.id, state.method)
    learnt = settings.learnt.get(key)
    if learnt is not None:
        run = place_in_run(state, piece) if learnt.early and not learnt.own else 0
        return max(1, learnt.at(run)[0])
    for name in (state.method, {"striker": "hand", "press": "power"}.get(state.method, ""), "hand"):
        if name in step.heats:
            return max(1, step.heats[name])
    return max([1, *step.heats.values()])


def place_in_run(state: State, piece: Workpiece) -> int:
    """The piece's number among those of its order and component, from 1."""
    return 1 + sum(
        other.serial < piece.serial
        for other in state.pieces.values()
        if other.order == piece.order and other.component == piece.component
    )


def _temper(step: resolved.Step, soak_s: int) -> tuple[Part, ...]:
    """A temper: watched where it is short, else put in, left alone, and taken out."""
    if soak_s <= WATCHED_S:
        return (Part(soak_s=soak_s, hand_s=LAY_S, name=step.do),)
    put_in = Part(soak_s=LAY_S, hand_s=0, air_s=soak_s, slack_s=TEMPER_SLACK_S, name=step.do)
    return (put_in, Part(soak_s=LAY_S, hand_s=LAY_S, name=step.do))


class PieceSteps:
    """Turns the steps of one workpiece into steps of the problem."""

    def __init__(
        self,
        state: State,
        piece: Workpiece,
        now: Moment,
        settings: FloorSettings,
        present_s: int = NOW_S,
        bout_s: int = BOUT_S,
    ) -> None:
        self.present_s = present_s
        self.bout_s = bout_s
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

    def stop_before(self, index: int) -> None:
        """Cut off what begins with this step of the recipe."""
        end = self.at[index]
        self.steps = self.steps[:end]
        self.at = [min(at, end) for at in self.at]
        self.jigs = {s.tooling for s in self.steps if isinstance(s, Forge) and s.tooling}

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
        own = self._learnt(step)
        if own is not None:
            hand_s = max(1, round(own.seconds))
        if step.follows and before is not None and before.kind == "forge":
            heats = max(1, heats - 1)
        heats *= max(1, self.piece.lot)
        jig = jig_of(step)
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
        soak_s = self._times(step)[0]
        after = self.recipe[index + 1] if index + 1 < len(self.recipe) else None
        if step.kind == "temper":
            parts = _temper(step, soak_s)
        elif after is None or after.kind != "temper":
            parts = (Part(soak_s=soak_s, hand_s=QUENCH_S, name=step.do),)
        else:
            quenched = Part(
                soak_s=soak_s,
                hand_s=QUENCH_S,
                air_s=TEMPER_AIR_S,
                slack_s=TEMPER_SLACK_S,
                name=step.do,
            )
            parts = (quenched, *_temper(after, self._times(after)[0]))
        self.steps.append(Treat(parts=parts, name=step.do))

    def _bench(self, step: resolved.Step) -> None:
        own = self._learnt(step)
        planned_s = step.minutes_s or BENCH_S.get(step.kind, OTHER_BENCH_S)
        whole_s = max(1.0, own.seconds) if own is not None else planned_s
        bouts = 1 if step.kind == "gauge" else max(1, round(whole_s / self.bout_s))
        self.steps.append(Bench(bouts=bouts, bout_s=round(whole_s / bouts), name=step.do))

    def _learnt(self, step: resolved.Step) -> LearntSeconds | None:
        if not self.settings.times:
            return None
        recipe = recipe_of(self.state, self.piece).id
        return self.settings.times.get((recipe, self.piece.component, step.id, self.state.method))

    def standing(self, blocked: bool) -> Standing:
        """How far the piece is."""
        piece = self.piece
        if piece.step >= len(self.recipe):
            return Standing(step=len(self.steps), end_s=self.present_s)
        at = self.at[piece.step]
        if at >= len(self.steps):
            return Standing(step=len(self.steps), end_s=self.present_s)
        step = self.recipe[piece.step]
        done = piece.heats if step.kind == "forge" else 0
        end_s: int | None = None
        warm = False
        put_s: int | None = None
        due_s: int | None = None
        hot_s: int | None = None
        if piece.last_heat_s is not None:
            end_s = self._at(piece.last_heat_s)
            warm = step.kind == "forge"
        if piece.place == RESTING and piece.rest is not None:
            # It is over when it is over; so no night before it cuts it short.
            end_s, warm = self._at(piece.rest.started_s + piece.rest.needed_s), False
            if piece.rest.step:
                over, done = piece.step + 1, 0
                at = self.at[over] if over < len(self.at) else len(self.steps)
        elif isinstance(self.steps[at], Treat) and step.kind == "temper":
            treat = self.steps[at]
            done = 1 if isinstance(treat, Treat) and treat.name != step.do else 0
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
            due_s = self.present_s + round(left_s)
            hot_s = due_s if left_s <= 0 else None
        if piece.place == HAND:
            end_s, warm = self.present_s, step.kind == "forge"
        if blocked:
            end_s, warm = self.present_s + BLOCKED_S, False
        if piece.place == FIRE and isinstance(self.steps[at], Treat):
            # Its soak runs; the floor says when to look, and nothing is planned for it until then.
            left_s = look_s(self.state, piece, self.settings) - (self.now.rest_s - piece.since_s)
            end_s, done = self.present_s + max(1, round(left_s)), 0
        return Standing(
            step=at, done=done, end_s=end_s, warm=warm, put_s=put_s, due_s=due_s, hot_s=hot_s
        )

    def _at(self, moment_s: float) -> int:
        return max(0, self.present_s + round(moment_s - self.now.rest_s))
