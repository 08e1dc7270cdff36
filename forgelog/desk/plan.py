"""The plan of a day: what is done when, what will be finished, and when each order will be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, timedelta

import msgspec

from forgelog.desk.as_lit import Lit, as_if_lit, clock_of
from forgelog.desk.clock import Clock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import METHOD_WORDS
from forgelog.desk.layout_tools import tools_shown
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.plan_times import learnt_times
from forgelog.desk.plan_told import (
    HeldBack,
    JigTold,
    OrderPlanned,
    OtherDate,
    OtherWay,
    PiecePlanned,
    PlanTold,
    ToolPlanned,
)
from forgelog.desk.review_facts import SpanTold, TimelineTold
from forgelog.desk.review_words import local_time, minutes, order_words, piece_words, slot_words
from forgelog.desk.session import floor_settings
from forgelog.desk.shop import Shop
from forgelog.floor.blocks import held_back
from forgelog.floor.planning.chance import Likely, likely
from forgelog.floor.planning.day_plan import (
    FloorPlan,
    plan_days,
    plays_for,
    trials_for,
    with_helper,
)
from forgelog.floor.planning.from_state import WORKING_DAY_S, Hours, working_days
from forgelog.floor.planning.going import BENCH
from forgelog.floor.planning.play import Played
from forgelog.floor.planning.search import never
from forgelog.floor.settings import FloorSettings
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import METHODS, Step
from forgelog.work.queries import live, order_open, pieces_of, steps_of
from forgelog.work.state import State

OPENS_MIN = 8 * 60
"""When a working day begins that is not today's. Common practice."""
FIRE_OUT_S = 15 * 60
"""So long before the end of the day nothing goes into the fire any more. Common practice."""
LEAST_S = 30 * 60
WORLDS = 40
"""Ways in which the work may go that are played out for the dates."""
QUICK_TRIALS, QUICK_WORLDS = 2, 8
"""Of the first plan, so that it is there at once."""
LEAST_WORLDS, LEAST_QUICK = 8, 2
"""Of a run of hundreds of pieces: a range of fewer would say too little."""
WAITS = "waits for parts that are not in the plan"
Back = dict[str, tuple[int, tuple[tuple[str, str], ...]]]
"""By workpiece the step that cannot be done, and the tools that it lacks."""
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
    teller = _Teller(shop, lit, made, hours, begins, held)
    if quick:
        worlds = min(worlds, QUICK_WORLDS)
    worlds = min(worlds, plays_for(made.figures, LEAST_QUICK if quick else LEAST_WORLDS))
    chances = likely(made.floor, learnt, made.plan.weights, times=times, worlds=worlds)
    others = () if quick else _other_ways(lit, settings, hours, made, teller, held, stop)
    told = teller.told(chances, iter(others))
    return msgspec.structs.replace(told, draft=quick, held_back=tuple(_held(teller, back)))


def _held_lines(state: State, back: Back) -> Iterator[str]:
    for name, (_, missing) in back.items():
        tool, condition = missing[0]
        yield f"{piece_words(state, state.pieces[name])}: {harmless(tool)} is {condition}"


def _held(teller: _Teller, back: Back) -> Iterator[HeldBack]:
    """What is not planned to its end, by order and reason; what waits for it comes last."""
    state = teller.state
    units = teller.shop.settings.shop.units
    found: dict[tuple[str, str], list[str]] = {}
    for name, (_, missing) in back.items():
        piece = state.pieces[name]
        tools = ", ".join(f"{render(tool, units)} ({condition})" for tool, condition in missing)
        found.setdefault((piece.order, tools), []).append(slot_words(state, piece))
    planned = set(teller.names)
    for piece in state.pieces.values():
        gone = piece.id not in planned and piece.id not in back
        if gone and live(piece) and order_open(state.orders[piece.order]):
            found.setdefault((piece.order, WAITS), []).append(slot_words(state, piece))
    for (order, why), pieces in found.items():
        yield HeldBack(
            order=order,
            name=order_words(state.orders[order]),
            pieces=tuple(pieces),
            why=why,
        )


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
    teller: _Teller,
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
        yield teller.other(method, METHOD_WORDS.get(method, method), other)


class _Teller:
    """Tells a plan in the smith's words and times."""

    def __init__(
        self,
        shop: Shop,
        lit: Lit,
        made: FloorPlan,
        hours: Hours,
        begins: datetime,
        held: Mapping[str, int],
    ) -> None:
        self.held = held
        self.shop = shop
        self.state: State = lit.state
        self.lit = lit
        self.made = made
        self.played = made.plan.played
        self.hours = hours
        self.begins = begins
        self.begin_s = hours.present_s
        self.end_s = hours.present_s + hours.left_s
        self.names = made.figures.ids

    def steps_left(self) -> Iterator[tuple[Step, ...]]:
        """Of every piece that is in the plan."""
        for name in self.names:
            piece = self.state.pieces[name]
            yield steps_of(self.state, piece)[piece.step :]

    def when(self, at_s: int) -> datetime:
        """The day and time of a moment of the plan; every day after today begins at its hour."""
        if at_s <= self.end_s:
            return self.begins + timedelta(seconds=at_s - self.begin_s)
        days, over_s = divmod(at_s - self.end_s, self.hours.whole_s)
        if over_s == 0:
            days, over_s = days - 1, self.hours.whole_s
        first = self.begins.date()
        day = first
        while working_days(first.toordinal(), day.toordinal()) < days + 1:
            day += timedelta(days=1)
        opens = datetime(day.year, day.month, day.day) + timedelta(minutes=OPENS_MIN)
        return opens + timedelta(seconds=over_s)

    def other(self, method: str, words: str, played: Played) -> OtherWay:
        """Another way to do the same."""
        orders = self.made.floor.problem.orders
        dates = (
            OtherDate(
                order=order.id,
                name=order_words(self.state.orders[order.id]),
                done=self.moment(end_s),
            )
            for order, end_s in zip(orders, played.order_s, strict=True)
        )
        return OtherWay(
            method=method,
            words=words,
            work_min=minutes(played.makespan_s - self.begin_s),
            hands_min=minutes(played.hands_s),
            saved_min=minutes(self.played.makespan_s - played.makespan_s),
            done=self.moment(played.makespan_s),
            orders=tuple(dates),
        )

    def moment(self, at_s: int) -> str:
        """The day and time of a moment of the plan, ISO 8601."""
        return self.when(max(at_s, self.begin_s)).isoformat(timespec="minutes")

    def told(self, chances: dict[str, Likely], others: Iterator[OtherWay]) -> PlanTold:
        """All of it."""
        state, played = self.state, self.played
        heats = [a for a in played.actions if a["do"] == "heat"]
        line = self._timeline()
        return PlanTold(
            day=self.begins.date().isoformat(),
            begins=f"{self.begins:%H:%M}",
            until=f"{self.when(self.end_s):%H:%M}",
            running=self.lit.running,
            method=state.method,
            fire=harmless(state.fire.name),
            pieces=len(self.names),
            heats=len(heats),
            heats_today=sum(int(str(a["t"])) < self.end_s for a in heats),
            hands_min=minutes(played.hands_s),
            work_min=minutes(played.makespan_s - self.begin_s),
            timeline=line,
            idle_share=line.idle_share if line is not None else None,
            finished=tuple(self._finished()),
            tools=tuple(self._tools()),
            jigs=tuple(self._jigs()),
            orders=tuple(self._orders(chances)),
            others=tuple(others),
            left_out=self.lit.left_out,
            trials=self.made.plan.trials,
        )

    def _timeline(self) -> TimelineTold | None:
        """The day, stretch by stretch."""
        spans: list[SpanTold] = []
        hands_s = bench_s = 0
        for span in self.played.spans:
            start, end = max(span.from_s, self.begin_s), min(span.to_s, self.end_s)
            if end <= start:
                continue
            if span.doing == "setup":
                hands_s += end - start
                continue
            if span.doing == "hand":
                hands_s += end - start
            elif span.doing == "bench":
                bench_s += end - start
            piece = self.state.pieces[self.names[span.i]]
            spans.append(
                SpanTold(
                    workpiece=piece.id,
                    piece=piece_words(self.state, piece),
                    slot=slot_words(self.state, piece),
                    doing=span.doing,
                    step=self._step_id(piece.id, span.step),
                    from_min=minutes(start - self.begin_s),
                    to_min=minutes(end - self.begin_s),
                    work_min=minutes(end - start),
                )
            )
        if not spans:
            return None
        length_s = max(1, min(self.end_s, self.played.makespan_s) - self.begin_s)
        fire_s = _covered([s for s in spans if s.doing == "fire"])
        busy_s = min(length_s, hands_s + bench_s)
        return TimelineTold(
            session="",
            began=self.begins.isoformat(timespec="seconds"),
            began_local_s=self.begins.hour * 3600.0 + self.begins.minute * 60.0,
            length_min=minutes(length_s),
            worked_min=minutes(length_s),
            hand_min=minutes(hands_s),
            bench_min=minutes(bench_s),
            fire_min=round(fire_s, 2),
            lit_min=minutes(length_s),
            idle_share=round(1.0 - busy_s / length_s, 3),
            spans=tuple(spans),
            stood=(),
        )

    def _step_id(self, workpiece: str, at: int) -> str:
        key = self.made.floor.keys[workpiece].get(at)
        return key[2] if key is not None else ""

    def _finished(self) -> Iterator[PiecePlanned]:
        ends = sorted(zip(self.played.finish_s, self.names, strict=True))
        for end_s, name in ends:
            if end_s <= self.end_s and name not in self.held:
                piece = self.state.pieces[name]
                at = max(end_s, self.begin_s)
                yield PiecePlanned(
                    workpiece=name,
                    piece=piece_words(self.state, piece),
                    at=f"{self.when(at):%H:%M}",
                )

    def _tools(self) -> Iterator[ToolPlanned]:
        """Each tool of the day's steps with the time it is wanted first."""
        units = self.shop.settings.shop.units
        first: dict[tuple[str, str], int] = {}
        used: dict[str, Step] = {}
        for span in self.played.spans:
            if span.doing not in ("hand", "bench") or span.from_s >= self.end_s:
                continue
            piece = self.state.pieces[self.names[span.i]]
            steps = steps_of(self.state, piece)
            at = self.made.floor.steps[piece.id]
            for step in (s for k, s in enumerate(steps) if at[k] == span.step):
                used.setdefault(f"{piece.pin} {piece.order} {piece.component} {step.id}", step)
                for tool in step.tools:
                    key = tool.id, render(tool.setting, units)
                    first[key] = min(first.get(key, span.from_s), span.from_s)
        shown = {tool.id: tool for tool in tools_shown(self.shop, used.values())}
        for (tool_id, setting), at_s in sorted(first.items(), key=lambda pair: (pair[1], pair[0])):
            seen = shown[tool_id]
            yield ToolPlanned(
                id=tool_id,
                name=seen.name,
                setting=setting,
                state=seen.state,
                by=f"{self.when(max(at_s, self.begin_s)):%H:%M}",
                missing=seen.missing,
            )

    def _jigs(self) -> Iterator[JigTold]:
        """The jigs that are set up in the day, and how often."""
        found: dict[str, list[tuple[str, int]]] = {}
        units = self.shop.settings.shop.units
        for span in self.played.spans:
            if span.doing == "setup" and span.from_s < self.end_s:
                jig, _, setting = span.tooling.partition("@")
                found.setdefault(jig, []).append((render(setting, units), span.to_s - span.from_s))
        names = {t.id: t.name for s in self.steps_left() for step in s for t in step.tools}
        for jig, setups in sorted(found.items()):
            yield JigTold(
                name=render(names.get(jig, jig), units),
                settings=tuple(dict.fromkeys(setting for setting, _ in setups if setting)),
                setups=len(setups),
                minutes=minutes(sum(took for _, took in setups)),
            )

    def _orders(self, chances: dict[str, Likely]) -> Iterator[OrderPlanned]:
        planned = {
            order.id: (end_s, {p.id for p in order.pieces})
            for order, end_s in zip(
                self.made.floor.problem.orders, self.played.order_s, strict=True
            )
        }
        for order_id, (end_s, names) in planned.items():
            order = self.state.orders[order_id]
            chance = chances[order_id]
            low, middle, high = (
                self.when(max(at, self.begin_s)).date().isoformat()
                for at in (chance.low_s, chance.middle_s, chance.high_s)
            )
            left = {p.id for p in pieces_of(self.state, order_id) if live(p) and not p.spare}
            yield OrderPlanned(
                order=order_id,
                name=order_words(order),
                promised=order.promised,
                planned=self.when(max(end_s, self.begin_s)).isoformat(timespec="minutes"),
                low=low,
                middle=middle,
                high=high,
                late=bool(order.promised) and middle > order.promised,
                open=bool(left - (names - self.held.keys())),
            )


def _covered(spans: list[SpanTold]) -> float:
    """Minutes in which any of the spans runs."""
    total, until = 0.0, -1.0
    for span in sorted(spans, key=lambda s: s.from_min):
        total += max(0.0, span.to_min - max(until, span.from_min))
        until = max(until, span.to_min)
    return total
