"""A week by the advice: a smith who takes what it names finishes every open order.

He knows how many heats a step truly takes, which the advice does not; he works the demo's open
orders with the keys alone. `tests/bench/week.py` tries many smiths on all of the open orders.
"""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import ClassVar

import pytest

from forgelog.book.settings import BookSettings, read_shop
from forgelog.desk.simulate.day import Day
from forgelog.desk.simulate.floor import SimulatedFloor
from forgelog.desk.simulate.journal import DEVICE, Journal
from forgelog.desk.simulate.plan import ORDERS
from forgelog.desk.simulate.settings import SHOP
from forgelog.desk.simulate.smith import Smith
from forgelog.desk.simulate.watch import Watch
from forgelog.floor.planning.from_state import floor_problem
from forgelog.floor.planning.problem import Forge
from forgelog.learn.rests import see_rests
from forgelog.work.facts import OrderTaken
from forgelog.work.fold import fold
from forgelog.work.progress import progress_of
from forgelog.work.queries import in_fire
from forgelog.work.state import FIRE, SCRAPPED, State, Workpiece

SEEDS = (0, 1)
ALL = ("gate-hinge-set", "cross-peen-hammer", "scroll-shelf-brackets")
MONDAY = date(2026, 11, 23)
MOST_DAYS = 7


class Patient(Smith):
    """He lets everything rest until the screen says that it is done."""

    def patience(self, piece: Workpiece) -> float:
        return 1.0


class Watched(Day):
    """A day in which what stays too long in the fire is burnt, by the planning's own sums."""

    burnt: ClassVar[set[str]] = set()

    def wait(self, seconds: float) -> None:
        """He looks when he is told to."""
        self.floor.watch.go_on(seconds + self.rng.uniform(0.5, 2.0))

    def key(self, key: str, after_s: float | None = None) -> bool:
        """What is hot he draws at once."""
        chosen = self.floor.state.pieces.get(self.floor.stand.chosen)
        if key == "space" and chosen is not None and chosen.place == FIRE:
            after_s = self.rng.uniform(1.0, 4.0)
        return super().key(key, after_s)

    def choose(self) -> None:
        state, floor = self.floor.state, self.floor
        if in_fire(state):
            known = floor_problem(state, floor.now, floor.settings)
            steps = {
                c.id: c.steps for o in known.problem.orders for p in o.pieces for c in p.components
            }
            for name, standing in known.run.standing.items():
                if standing.hot_s is not None:
                    step = steps[name][standing.step]
                    assert isinstance(step, Forge)
                    if known.run.now_s - standing.hot_s > step.hold_s:
                        self.burnt.add(f"{name}, {step.name}")
        super().choose()


def worked(seed: int, recipes: tuple[str, ...]) -> tuple[State, int]:
    """The open orders of the demo from their beginning; what stands, and after how many days."""
    Watched.burnt.clear()
    shop, problems = read_shop(SHOP.encode())
    assert problems == ()
    rng, watch = Random(seed), Watch()
    watch.switch_on(MONDAY - timedelta(days=3), 9 * 60)
    journal = Journal(rng, watch, BookSettings(shop=shop))
    ids = []
    for order in (o for o in ORDERS if not o.delivered and o.recipe in recipes):
        ids.append(f"{DEVICE}-{journal.tail()}")
        journal.at_desk(
            OrderTaken(
                order=ids[-1],
                label=order.label,
                title=order.title,
                recipe=order.recipe,
                count=order.count,
                sizes_mm=order.sizes_mm,
                promised=order.promised.isoformat(),
            )
        )
    assert len(ids) == len(recipes)
    smith = Patient(rng)
    for day in range(MOST_DAYS):
        watch.switch_on(MONDAY + timedelta(days=day), 8 * 60)
        floor = SimulatedFloor(journal, tuple(ids))
        Watched(floor, smith, (), lambda state: False, most_min=480.0).work()
        state = fold(journal.shop().files)
        if all(progress_of(state, state.orders[o]).finished for o in ids):
            return state, day + 1
    raise AssertionError("the week is over and an order is not finished")


@pytest.mark.parametrize("seed", SEEDS)
def test_who_follows_the_advice_finishes_every_order_with_every_rest_kept(seed: int) -> None:
    state, days = worked(seed, ALL[:2])
    assert days <= MOST_DAYS
    rests = see_rests(state, practice=True)
    assert rests
    assert [r for r in rests if r.verdict in ("short", "skipped")] == []
    assert Watched.burnt == set()
    assert [p.id for p in state.pieces.values() if p.place == SCRAPPED] == []
