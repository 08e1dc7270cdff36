"""A plan told in the smith's words and times."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from forgelog.desk.as_lit import Lit
from forgelog.desk.layout_tools import tools_shown
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
from forgelog.desk.review_words import minutes, order_words, piece_words, slot_words
from forgelog.desk.shop import Shop
from forgelog.floor.planning.chance import Likely
from forgelog.floor.planning.day_plan import FloorPlan
from forgelog.floor.planning.from_state import Hours, working_days
from forgelog.floor.planning.play import Played
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Step
from forgelog.work.queries import live, order_open, pieces_of, steps_of
from forgelog.work.state import State

OPENS_MIN = 8 * 60
"""When a working day begins that is not today's. Common practice."""
WAITS = "waits for parts that are not in the plan"
Back = dict[str, tuple[int, tuple[tuple[str, str], ...]]]
"""By workpiece the step that cannot be done, and the tools that it lacks."""


def not_planned(teller: PlanTeller, back: Back) -> Iterator[HeldBack]:
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


class PlanTeller:
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
