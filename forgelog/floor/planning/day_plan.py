"""A plan for the work that is open: found before the fire is lit, followed by the advice."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import msgspec

from forgelog.floor.planning.from_state import Floor, Hours, floor_problem
from forgelog.floor.planning.going import Figures, going_from
from forgelog.floor.planning.play import Played, play
from forgelog.floor.planning.rule import FLOOR, Care, Rule, Weights
from forgelog.floor.planning.search import Plan, never, search
from forgelog.floor.settings import FloorSettings
from forgelog.work.moments import Moment
from forgelog.work.state import State

DEEDS = 60_000
"""What a search may play through in all, so that it takes a few seconds whatever is open."""
MOST_TRIALS, LEAST_TRIALS = 200, 12
LOOKS = 12_000_000
"""What may be looked at in all, a look a piece and deed; a long run is played less often."""


class FloorPlan(msgspec.Struct, frozen=True, kw_only=True):
    """A plan and what it is a plan of."""

    floor: Floor
    figures: Figures
    plan: Plan


def plan_days(
    state: State,
    now: Moment,
    settings: FloorSettings,
    hours: Hours | None,
    *,
    goal: str = "",
    trials: int | None = None,
    seed: int = 1,
    held: Mapping[str, int] = {},
    stop: Callable[[], bool] = never,
) -> FloorPlan:
    """The best plan found; nothing is begun that cannot be brought to a safe rest.

    It is worked with the guard on, so that what it leans on still holds when heats run long. Its
    times are on the problem's scale (`Floor.run.now_s` is now).

    Args:
        state: What stands.
        now: Shop time.
        settings: Of this floor.
        hours: How long there is to work; None for no end of the day.
        goal: makespan or tardiness; "" for the dates where any is promised.
        trials: How many play-outs; None for as many as take a few seconds.
        seed: Of the number series that stands in for chance.
        held: By workpiece the step of its recipe that cannot be done.
        stop: Asked between play-outs: true ends the search with the best plan so far.

    Raises:
        ValueError: there is no such goal.
    """
    floor = floor_problem(state, now, settings, hours=hours, held=held)
    figures = Figures(floor.problem)
    dated = any(order.due_s is not None for order in floor.problem.orders)
    plan = search(
        figures,
        going_from(figures, floor.run),
        goal=goal or ("tardiness" if dated else "makespan"),
        trials=trials if trials is not None else trials_for(figures),
        seed=seed,
        care=Care(),
        first=(settings.weights or FLOOR,),
        stop=stop,
    )
    return FloorPlan(floor=floor, figures=figures, plan=plan)


def with_helper(made: FloorPlan) -> Played:
    """The same work with a second pair of hands at the bench, by the plan's own weights or the
    usual ones, whichever is sooner done."""
    begin = going_from(made.figures, made.floor.run)
    played = [
        play(begin.copy(), Rule(made.figures, weights, Care()), log=False, helper=True)
        for weights in (made.plan.weights, FLOOR, Weights())
    ]
    return min(played, key=lambda p: (p.makespan_s, p.tardiness))


def trials_for(figures: Figures) -> int:
    """How many play-outs a few seconds hold: about four deeds to every heat, bout and part."""
    deeds = _deeds(figures)
    return min(max(LEAST_TRIALS, min(MOST_TRIALS, DEEDS // deeds)), plays_for(figures))


def plays_for(figures: Figures, least: int = 2) -> int:
    """How many play-outs some ten seconds hold where hundreds of pieces are open.

    Each deed looks at every piece, so thirty sets of eight pieces take a thousand times what one
    takes.

    Args:
        figures: Of the problem.
        least: So many whatever they take.
    """
    return max(least, LOOKS // (_deeds(figures) * len(figures.rows)))


def _deeds(figures: Figures) -> int:
    return max(1, 4 * sum(row.whole for rows in figures.rows for row in rows))
