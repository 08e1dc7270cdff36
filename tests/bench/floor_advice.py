"""The floor's advice played out over the project's own recipes, beside the plain order of reasons.

    python tests/bench/floor_advice.py [--worlds N] [--seed S]

A made-up smith does what stands first in the advice, press by press, through the real facts of the
floor. Heats last what the sums say times a factor drawn about 1; a step takes about its planned
heats; a jig costs 90 s to set up; a piece is hot when the floor says LOOK and burns when the sum
says so (it is counted, and the work goes on). "plain" is the fixed order: hot pieces, rests that
are due, fire room, bench. Nothing here was measured at a fire.

Measured over two worlds, three places in the fire: the rule burns nothing, with one recipe or with
all five at once, where the plain order burns 27 pieces (a burnt piece costs no time here), in 23.8
hours against 24.3.

Speed is shown of one thing: 30 pieces under way with some 600 heats to go, the first 400 decisions
of a smith. Measured on one of two cores that eight others used: see the last line that it prints.
"""

from __future__ import annotations

import argparse
import math
import random
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import msgspec

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).parents[2]))

from forgelog.floor import acts, advice
from forgelog.floor.advice import Advice, advise, next_step, rest_left_s, wants_heat
from forgelog.floor.planning.from_state import JIG_S, floor_problem
from forgelog.floor.planning.going import FORGE, Figures
from forgelog.floor.planning.piece_steps import jig_of, planned_heats
from forgelog.floor.planning.soaks import heat_times
from forgelog.floor.settings import FloorSettings, LearntHeats
from forgelog.floor.sums import heat_of, look_s, section_of, stop_of
from forgelog.recipe.resolved import Recipe, Step
from forgelog.work.apply import settle
from forgelog.work.facts import BenchBegun
from forgelog.work.moments import Moment
from forgelog.work.queries import in_hand, live, recipe_of, step_of, steps_of
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, State, Workpiece
from tests.floor.shop import RECIPES, Shop, recipe_of_file

Adviser = Callable[[State, Moment, FloorSettings], tuple[Advice, ...]]
PRESS_S = 2.0
BOUT_S = 30.0
"""At the bench the smith looks up so often."""
MOST_PRESSES = 20_000


def plain(state: State, now: Moment, settings: FloorSettings) -> tuple[Advice, ...]:
    """The fixed order of reasons, over the same pieces."""
    may = advice._may_be_taken(state, now, settings)
    return tuple(sorted(may.found, key=lambda a: advice._old_key(state, a)))


class Went(NamedTuple):
    """How a day went."""

    hours: float
    idle: float
    burnt: int
    jigs: int
    asides: int
    worst_ms: float


class Smith:
    """Does what stands first."""

    def __init__(self, recipes: list[Recipe], adviser: Adviser, seed: int, places: int) -> None:
        self.shop = Shop(*recipes, places=places)
        self.adviser = adviser
        self.rng = random.Random(seed)
        self.heats: dict[tuple[str, str], int] = {}
        self.jig: str | None = None
        self.burnt = self.jigs = self.asides = 0
        self.idle_s = 0.0
        self.took_ms: list[float] = []

    def factor(self, workpiece: str, step: str, what: str) -> float:
        """The same for the same piece and step, whoever advises."""
        rng = random.Random(f"{self.seed}/{workpiece}/{step}/{what}")
        return min(1.8, max(0.6, math.exp(rng.gauss(0.0, 0.22))))

    seed = 0

    def day(self) -> Went:
        """Until everything is finished.

        Raises:
            AssertionError: it does not come to an end.
        """
        shop = self.shop
        began = shop.now.rest_s
        for _ in range(MOST_PRESSES):
            shop.state = settle(shop.state, shop.now)
            if not any(live(p) for p in shop.state.pieces.values()):
                hours = (shop.now.rest_s - began) / 3600
                return Went(
                    hours=hours,
                    idle=self.idle_s / 3600 / hours,
                    burnt=self.burnt,
                    jigs=self.jigs,
                    asides=self.asides,
                    worst_ms=sorted(self.took_ms)[len(self.took_ms) * 99 // 100],
                )
            self.next()
        raise AssertionError("the day does not end")

    def next(self) -> None:
        """One deed."""
        shop = self.shop
        held = in_hand(shop.state)
        if held is not None:
            self.work(held)
            return
        began = time.perf_counter()
        found = self.adviser(shop.state, shop.now, shop.settings)
        self.took_ms.append((time.perf_counter() - began) * 1000)
        if not found:
            self.stand_still()
            return
        piece = shop.state.pieces[found[0].piece]
        step = next_step(shop.state, piece)
        assert step is not None
        if "set up its jig" in found[0].why and jig_of(step) not in (None, self.jig):
            self.set_up(step)
        elif piece.place == FIRE and "lay it aside" in found[0].why:
            shop.wait(PRESS_S)
            shop.tell(*acts.take_out(shop.state, piece, shop.now))
            drawn = shop.state.pieces[piece.id]
            if drawn.place == HAND:
                shop.tell(*acts.heat_over(shop.state, drawn, shop.now, to="aside"))
                self.asides += 1
        elif piece.place == FIRE:
            self.draw(piece, step)
        elif wants_heat(step):
            shop.wait(PRESS_S)
            shop.tell(*acts.put_in(shop.state, piece, shop.now))
            if jig_of(step) not in (None, self.jig):
                self.set_up(step)
        elif step.kind == "gauge":
            shop.wait((step.minutes_s or 120.0) * self.factor(piece.id, step.id, "gauge"))
            shop.tell(*acts.fits(shop.state, piece, shop.now, shop.settings))
        else:
            self.bench(piece, step)

    def set_up(self, step: Step) -> None:
        """A jig on the anvil."""
        self.jig = jig_of(step)
        self.jigs += 1
        self.shop.wait(JIG_S)

    def draw(self, piece: Workpiece, step: Step) -> None:
        """Out of the fire, or look again when it is not hot."""
        shop = self.shop
        left_s = look_s(shop.state, piece, shop.settings) - (shop.now.rest_s - piece.since_s)
        if left_s > 0:
            self.stand_still()
            return
        if jig_of(step) not in (None, self.jig):
            self.set_up(step)
        left_s = look_s(shop.state, piece, shop.settings) - (shop.now.rest_s - piece.since_s)
        times = heat_times(
            section_of(shop.state, piece, step),
            heat_of(step),
            min(stop_of(step), heat_of(step)),
            shop.state.method,
            shop.state.fire.kind,
            shop.state.air_degc,
        )
        if -left_s > times.hold_s + (step.soak_s or 0.0):
            self.burnt += 1
        shop.wait(PRESS_S)
        shop.tell(*acts.take_out(shop.state, piece, shop.now))

    def work(self, piece: Workpiece) -> None:
        """At the anvil, to the end of this heat."""
        shop = self.shop
        step = step_of(shop.state, piece)
        assert step is not None
        if step.kind != "forge":
            shop.wait(30.0)
            shop.tell(*acts.finish(shop.state, piece, shop.now, shop.settings))
            return
        section = section_of(shop.state, piece, step)
        stop = min(stop_of(step), heat_of(step))
        times = heat_times(
            section, heat_of(step), stop, shop.state.method, shop.state.fire.kind, 20.0
        )
        shared = piece.open is not None and piece.open.steps > 0
        share = 0.5 if shared else 1.0
        shop.wait(share * times.hand_s * self.factor(piece.id, step.id, f"heat {piece.heats}"))
        planned = planned_heats(shop.state, piece, step, shop.settings)
        spread = random.Random(f"{self.seed}/{piece.id}/{step.id}").random()
        true = max(1, planned + (1 if spread < 0.2 else -1 if spread > 0.86 else 0))
        if piece.heats + 1 >= true:
            shop.tell(*acts.finish(shop.state, piece, shop.now, shop.settings))
        else:
            shop.tell(*acts.heat_over(shop.state, piece, shop.now))

    def bench(self, piece: Workpiece, step: Step) -> None:
        """A bout at the bench; the step is done when its time is up."""
        shop = self.shop
        if piece.place != BENCH:
            shop.wait(PRESS_S)
            shop.tell(*acts.begin_cold(shop.state, piece, shop.now))
        elif not piece.running:
            shop.tell(BenchBegun(workpiece=piece.id, step=step.id))
        piece = shop.state.pieces[piece.id]
        whole_s = (step.minutes_s or 600.0) * self.factor(piece.id, step.id, "bench")
        done_s = piece.work_s + shop.now.work_s - piece.bench_work_s
        shop.wait(max(1.0, min(BOUT_S, whole_s - done_s)))
        if done_s + BOUT_S >= whole_s:
            piece = shop.state.pieces[piece.id]
            shop.tell(*acts.finish(shop.state, piece, shop.now, shop.settings))

    def stand_still(self) -> None:
        """Until something is hot or rested."""
        shop = self.shop
        lefts = [
            look_s(shop.state, p, shop.settings) - (shop.now.rest_s - p.since_s)
            for p in shop.state.pieces.values()
            if p.place == FIRE
        ]
        lefts += [
            rest_left_s(p, shop.now) for p in shop.state.pieces.values() if p.place == RESTING
        ]
        ahead = [s for s in lefts if s > 0]
        places = {p.id: (p.place, p.step) for p in shop.state.pieces.values() if live(p)}
        assert ahead, f"nothing to wait for: {places}"
        wait_s = min(ahead) + 0.5
        self.idle_s += wait_s
        shop.wait(wait_s)


def went(names: list[str], adviser: Adviser, seed: int, places: int) -> Went:
    """A day over some recipes."""
    smith = Smith([recipe_of_file(n) for n in names], adviser, seed, places)
    smith.seed = seed
    return smith.day()


PIECES = ("leaf-coat-hooks",) * 4 + ("cross-peen-hammer",)
DECISIONS = 400


def speed(seed: int, places: int) -> None:
    """Print how long a decision takes with 30 pieces under way and twice the planned heats."""
    smith = Smith([recipe_of_file(n) for n in PIECES], advise, seed, places)
    smith.seed = seed
    shop = smith.shop
    learnt: dict[tuple[str, str, str, str], LearntHeats] = {}
    for piece in shop.state.pieces.values():
        for step in steps_of(shop.state, piece):
            if step.kind == "forge":
                heats = 2 * planned_heats(shop.state, piece, step, shop.settings)
                key = (recipe_of(shop.state, piece).id, piece.component, step.id, shop.state.method)
                learnt[key] = LearntHeats(heats=heats, low=heats, high=heats, records=9)
    shop.settings = msgspec.structs.replace(shop.settings, learnt=learnt)
    known = Figures(floor_problem(shop.state, shop.now, shop.settings).problem)
    heats = sum(row.whole for rows in known.rows for row in rows if row.kind == FORGE)
    while len(smith.took_ms) < DECISIONS:
        shop.state = settle(shop.state, shop.now)
        smith.next()
    took = sorted(smith.took_ms)
    print(
        f"{len(known.ids)} pieces under way, {heats} heats to go, {len(took)} decisions: "
        f"p50 {took[len(took) // 2]:.1f} ms, p99 {took[len(took) * 99 // 100]:.1f} ms, "
        f"slowest {took[-1]:.1f} ms"
    )


def main(argv: list[str]) -> int:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--worlds", type=int, default=2)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--places", type=int, default=3)
    parser.add_argument("--speed", action="store_true", help="the speed of a decision alone")
    a = parser.parse_args(argv)
    if a.speed:
        speed(a.seed, a.places)
        return 0
    names = sorted(p.stem for p in RECIPES.glob("*.toml"))
    print(
        f"{'recipe':26}{'advice':8}{'hours':>8}{'idle':>8}{'burnt':>7}"
        f"{'jigs':>6}{'aside':>7}{'p99 ms':>8}"
    )
    for group in [*([n] for n in names), names]:
        for word, adviser in (("rule", advise), ("plain", plain)):
            all_went = [went(group, adviser, a.seed + n, a.places) for n in range(a.worlds)]
            means = [statistics.mean(column) for column in zip(*all_went, strict=True)]
            name = group[0] if len(group) == 1 else "all five at once"
            print(
                f"{name:26}{word:8}{means[0]:>8.2f}{means[1]:>8.1%}{means[2]:>7.1f}"
                f"{means[3]:>6.1f}{means[4]:>7.1f}{means[5]:>8.2f}",
                flush=True,
            )
    speed(a.seed, a.places)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
