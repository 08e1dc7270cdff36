"""A plan for the work that is open: found before the fire is lit, followed by the advice."""

from __future__ import annotations

from forgelog.floor.planning.from_state import floor_problem
from forgelog.floor.planning.going import Figures, going_from
from forgelog.floor.planning.rule import FLOOR, Care
from forgelog.floor.planning.search import Plan, search
from forgelog.floor.settings import FloorSettings
from forgelog.work.moments import Moment
from forgelog.work.state import State


def plan_floor(
    state: State,
    now: Moment,
    settings: FloorSettings,
    *,
    goal: str = "makespan",
    trials: int = 200,
    seed: int = 1,
) -> Plan:
    """The best plan found for everything open; its weights go into `FloorSettings.weights`.

    It is worked with the guard on, so that what it leans on still holds when heats run long. The
    times in what it played out are on the problem's scale (`piece_steps.NOW_S` is now).

    Args:
        state: What stands.
        now: Shop time.
        settings: Of this floor.
        goal: makespan or tardiness.
        trials: How many play-outs: about 10 ms each for ten pieces.
        seed: Of the number series that stands in for chance.

    Raises:
        ValueError: there is no such goal.
    """
    floor = floor_problem(state, now, settings)
    figures = Figures(floor.problem)
    return search(
        figures,
        going_from(figures, floor.run),
        goal=goal,
        trials=trials,
        seed=seed,
        care=Care(),
        first=(settings.weights or FLOOR,),
    )
