"""The plan of a day: what is done when, what will be finished, and when each order will be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, timedelta

import msgspec

from forgelog.desk.as_lit import Lit, as_if_lit, clock_of
from forgelog.desk.clock import Clock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.plan_teller import OPENS_MIN, Back, PlanTeller, not_planned
from forgelog.desk.plan_times import learnt_times
from forgelog.desk.plan_told import OtherWay, PlanTold
from forgelog.desk.review_words import local_time, piece_words
from forgelog.desk.session import floor_settings
from forgelog.desk.shop import Shop
from forgelog.floor.blocks import held_back
from forgelog.floor.planning.chance import likely
from forgelog.floor.planning.day_plan import (
    FloorPlan,
    plan_days,
    plays_for,
    trials_for,
    with_helper,
)
from forgelog.floor.planning.from_state import WORKING_DAY_S, Hours
from forgelog.floor.planning.going import BENCH
from forgelog.floor.planning.search import never
from forgelog.floor.settings import FloorSettings
from forgelog.recipe.method_words import METHOD_NAMES
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import METHODS
from forgelog.work.state import State

FIRE_OUT_S = 15 * 60
"""So long before the end of the day nothing goes into the fire any more. Common practice."""
LEAST_S = 30 * 60
WORLDS = 40
"""Ways in which the work may go that are played out for the dates."""
QUICK_TRIALS, QUICK_WORLDS = 2, 8
"""Of the first plan, so that it is there at once."""
LEAST_WORLDS, LEAST_QUICK = 8, 2
"""Of a run of hundreds of pieces: a range of fewer would say too little."""
FEW = 3
"""Part of the trials that the plan of another method gets, so that all of it takes seconds."""


def plan_of(
    shop: Shop,
    day: str = "",
    until: str = "",
    *,
    clock: Clock | None = None,
    worlds: int = WORLDS,
    quick: bool = False,
    stop: Callable[[], bool] = never,
) -> PlanTold:
    """The plan of one day, on every open order.

    Args:
        shop: The book, opened just now.
        day: YYYY-MM-DD, today or later; "" for today.
        until: HH:MM, when work ends; "" for eight hours after it begins.
        clock: None for the book's own.
        worlds: How many ways the work may go are played out.
        quick: A first plan, without a search and with fewer worlds.
        stop: Asked again and again: true ends the search with the best plan so far.

    Raises:
        CannotDo: no order can be worked on, the day has been, or it ends before it begins.
    """
    clock = clock or clock_of(shop)
    stamp = clock.stamp()
    today = local_day(stamp.wall, stamp.offset)
    chosen = _day(day, today)
    after_s = 0.0
    if chosen > today:
        opens = (chosen - date(1970, 1, 1)).days * 86_400 + OPENS_MIN * 60 - stamp.offset * 60
        after_s = opens - stamp.wall
    lit = as_if_lit(shop, clock, after_s=after_s)
    begins = local_time(lit.stamp.wall, lit.stamp.offset).replace(tzinfo=None)
    ends = _ends(begins, until)
    left_s = int((ends - begins).total_seconds())
    hours = Hours(left_s=left_s, close_s=min(FIRE_OUT_S, left_s // 4))
    learnt = learnt_so_far(shop)
    settings = floor_settings(shop, clock, lit.stamp, learnt)
    times = learnt_times(shop, lit.state, settings, clock)
    settings = msgspec.structs.replace(settings, times=times)
    back = held_back(lit.state, settings)
    held = {name: index for name, (index, _) in back.items()}
    trials = QUICK_TRIALS if quick else None
    made = plan_days(lit.state, lit.now, settings, hours, trials=trials, held=held, stop=stop)
    if not made.figures.ids:
        raise CannotDo("\n".join(["nothing can be planned", *_held_lines(lit.state, back)]))
    teller = PlanTeller(shop, lit, made, hours, begins, held)
    if quick:
        worlds = min(worlds, QUICK_WORLDS)
    worlds = min(worlds, plays_for(made.figures, LEAST_QUICK if quick else LEAST_WORLDS))
    chances = likely(made.floor, learnt, made.plan.weights, times=times, worlds=worlds)
    others = () if quick else _other_ways(lit, settings, hours, made, teller, held, stop)
    told = teller.told(chances, iter(others))
    return msgspec.structs.replace(told, draft=quick, held_back=tuple(not_planned(teller, back)))


def _held_lines(state: State, back: Back) -> Iterator[str]:
    for name, (_, missing) in back.items():
        tool, condition = missing[0]
        yield f"{piece_words(state, state.pieces[name])}: {harmless(tool)} is {condition}"


def _day(day: str, today: date) -> date:
    if not day:
        return today
    try:
        chosen = date.fromisoformat(day)
    except ValueError:
        raise CannotDo(f"{harmless(day)} is no date; write it as YYYY-MM-DD") from None
    if chosen < today:
        raise CannotDo(f"{day} has been; `forgelog review` looks back")
    return chosen


def _ends(begins: datetime, until: str) -> datetime:
    if not until:
        return begins + timedelta(seconds=WORKING_DAY_S)
    try:
        hour, minute = (int(part) for part in until.split(":"))
        ends = begins.replace(hour=hour, minute=minute, second=0, microsecond=0)
    except ValueError:
        raise CannotDo(f"{harmless(until)} is no time of day; write it as HH:MM") from None
    if (ends - begins).total_seconds() < LEAST_S:
        raise CannotDo(f"{until} is less than half an hour after {begins:%H:%M}")
    return ends


def _other_ways(
    lit: Lit,
    settings: FloorSettings,
    hours: Hours,
    made: FloorPlan,
    teller: PlanTeller,
    held: Mapping[str, int],
    stop: Callable[[], bool],
) -> Iterator[OtherWay]:
    """The same work with a helper at the bench, and by other methods that a recipe knows."""
    if any(row.kind == BENCH for rows in made.figures.rows for row in rows):
        yield teller.other("helper", "a helper at the bench", with_helper(made))
    known = {m for steps in teller.steps_left() for step in steps for m in step.heats}
    for method in METHODS:
        if method == lit.state.method or method not in known or stop():
            continue
        state = msgspec.structs.replace(lit.state, method=method)
        trials = max(1, trials_for(made.figures) // FEW)
        other = plan_days(
            state, lit.now, settings, hours, trials=trials, held=held, stop=stop
        ).plan.played
        yield teller.other(method, METHOD_NAMES.get(method, method), other)
