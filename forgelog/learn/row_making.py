"""Makes the rows of a folded state: the one way from what stands to what review reads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from forgelog.learn.rows import (
    BROKEN,
    KEPT,
    SCRAPPED,
    VERDICTS,
    GaugeRow,
    OrderRow,
    RestRow,
    Rows,
    SessionRow,
    SpoiltRow,
    StepRow,
)
from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.work import state as states
from forgelog.work.queries import component_of, recipe_of
from forgelog.work.state import Order, RestRecord, SessionRecord, State, Workpiece


def practice_sessions(state: State) -> frozenset[str]:
    """Ids of the sessions that were practice."""
    return frozenset(session.id for session in state.sessions if session.practice > 0.0)


def make_rows(
    state: State, orders: Iterable[str] | None = None, practised: frozenset[str] | None = None
) -> Rows:
    """The rows of all orders, or of some.

    Args:
        state: What stands, settled at the moment of asking.
        orders: Ids of the orders that are wanted; None for all of them.
        practised: Ids of the practice sessions, where the state does not hold all sessions.
    """
    wanted = dict.fromkeys(state.orders if orders is None else orders)
    practised = practice_sessions(state) if practised is None else practised
    pieces = [piece for piece in state.pieces.values() if piece.order in wanted]
    remade = {piece.remade_from: piece.id for piece in pieces if piece.remade_from}
    steps: list[StepRow] = []
    rests: list[RestRow] = []
    spoilt: list[SpoiltRow] = []
    gauges: list[GaugeRow] = []
    for piece in pieces:
        making = _Piece(state, piece, practised)
        steps += making.steps()
        rests += making.rests()
        spoilt += making.spoilt(remade.get(piece.id, ""))
        gauges += making.gauges()
    return Rows(
        orders=tuple(_order(state.orders[order]) for order in wanted if order in state.orders),
        steps=tuple(sorted(steps, key=lambda r: (r.ended_s, r.order, r.serial, r.nth))),
        rests=tuple(sorted(rests, key=lambda r: (r.started_s, r.order, r.serial, r.nth))),
        spoilt=tuple(sorted(spoilt, key=lambda r: (r.at_s, r.order, r.serial, r.nth))),
        gauges=tuple(sorted(gauges, key=lambda r: (r.at_s, r.order, r.serial, r.nth))),
    )


def session_rows(
    records: Iterable[SessionRecord],
    heats: Mapping[str, int] | None = None,
    worked_s: Mapping[str, float] | None = None,
) -> tuple[SessionRow, ...]:
    """The rows of sessions, in the order given.

    Args:
        records: As the state has them.
        heats: Heats that were counted in each, by id; what is not in it had none.
        worked_s: Of each on the work clock.
    """
    return tuple(
        SessionRow(
            session=record.id,
            kind=record.kind,
            device=record.device,
            who=record.who,
            began_s=record.began_s,
            ended_s=record.ended_s,
            offset_min=record.offset,
            practice=record.practice > 0.0,
            continues=record.continues,
            ended=record.ended,
            where=record.where,
            presses=record.presses,
            orders=record.orders,
            fire=record.fire,
            fire_lit_s=record.fire_lit_s,
            method=record.method,
            heats=(heats or {}).get(record.id, 0),
            worked_s=(worked_s or {}).get(record.id, 0.0),
        )
        for record in records
    )


def _order(order: Order) -> OrderRow:
    return OrderRow(
        order=order.id,
        label=order.label,
        title=order.title,
        recipe=order.recipe,
        recipes=tuple(dict.fromkeys(pin.id for pin in order.pins)),
        count=order.count,
        taken_s=order.taken_s,
        promised=order.promised,
        held=order.held,
        closed=order.closed,
    )


class _Piece:
    """One piece, with all that its rows have in common."""

    def __init__(self, state: State, piece: Workpiece, practised: frozenset[str]) -> None:
        self.piece = piece
        self.practised = practised
        self.recipe: Recipe = recipe_of(state, piece)
        self.component: Component = component_of(state, piece)
        self.known: dict[str, Step] = {step.id: step for step in self.component.steps}
        self.common: dict[str, Any] = {
            "order": piece.order,
            "workpiece": piece.id,
            "serial": piece.serial,
            "set": piece.set,
            "mark": piece.mark,
            "slot": piece.slot,
            "lot": piece.lot,
            "remade_from": piece.remade_from,
            "over": piece.place == states.SCRAPPED,
            "recipe": self.recipe.id,
            "recipe_name": self.recipe.name,
            "revision": self.recipe.revision,
            "component": self.component.id,
            "component_name": self.component.name,
        }

    def about(self, nth: int, step: str, session: str) -> dict[str, Any]:
        """The fields that every row of the piece has."""
        known = self.known.get(step)
        return {
            **self.common,
            "nth": nth,
            "step": step,
            "do": known.do if known else "",
            "cycle": known.cycle if known else 0,
            "cycles": known.cycles if known else 0,
            "session": session,
            "practice": session in self.practised,
        }

    def steps(self) -> Iterator[StepRow]:
        """The steps that it has behind it."""
        before: set[str] = set()
        for nth, record in enumerate(self.piece.done):
            step = self.known.get(record.step)
            yield StepRow(
                **self.about(nth, record.step, record.session),
                kind=record.kind,
                method=record.method,
                heats=record.heats,
                planned=record.planned,
                planned_now=step.heats.get(record.method) if step else None,
                minutes_s=step.minutes_s if step else None,
                shared=record.shared,
                work_s=record.work_s,
                fire_s=record.fire_s,
                started_s=record.started_s,
                ended_s=record.ended_s,
                in_fire=record.in_fire,
                run=record.run,
                section=record.section,
                corrected=record.corrected,
                scrapped=record.scrapped,
                again=record.step in before,
                judged_by=record.judged_by,
            )
            before.add(record.step)

    def rests(self) -> Iterator[RestRow]:
        """The rests that the recipe needed. A normalising cycle is judged by its last time.

        Any other rest keeps each of its verdicts, because work went on after each.
        """
        last = {record.step: i for i, record in enumerate(self.piece.rests)}
        hardens = {step.id for step in self.known.values() if step.kind == "harden"}
        hardened = any(record.step in hardens for record in self.piece.done)
        for nth, record in enumerate(self.piece.rests):
            verdict = _verdict(record)
            step = self.known.get(record.step)
            kind = step.kind if step else ""
            if not (record.step and verdict) or (kind == "normalise" and last[record.step] != nth):
                continue
            goal = step.rest if step else None
            yield RestRow(
                **self.about(nth, record.step, record.session),
                kind=kind,
                until=record.until,
                why_rest=goal.why if goal else "",
                timed=goal is not None and goal.seconds is not None,
                verdict=verdict,
                started_s=record.started_s,
                rested_s=record.rested_s,
                needed_s=record.needed_s,
                low_s=record.low_s,
                high_s=record.high_s,
                start_degc=record.start_degc,
                degc=record.degc,
                degc_at_end=record.degc_at_end,
                seconds=record.seconds,
                medium=record.medium,
                section=record.section,
                fire_s=record.fire_s,
                skipping=record.skipping,
                counts=record.counts,
                broken_by=record.broken_by,
                hardens=bool(hardens),
                hardened=hardened,
            )

    def spoilt(self, remade_as: str) -> Iterator[SpoiltRow]:
        """What went wrong with it."""
        for nth, mishap in enumerate(self.piece.mishaps):
            yield SpoiltRow(
                **self.about(nth, mishap.step, mishap.session),
                kind=mishap.kind,
                why=mishap.why,
                heat=mishap.heat,
                method=mishap.method,
                lost_mm=mishap.lost_mm,
                spoilt=mishap.spoilt,
                remade=mishap.again,
                remade_as=remade_as if mishap.kind == SCRAPPED else "",
                at_s=mishap.at_s,
            )

    def gauges(self) -> Iterator[GaugeRow]:
        """The sizes that were gauged on it."""
        for nth, record in enumerate(self.piece.gauges):
            step = self.known.get(record.step)
            wanted = next((g for g in step.gauges if g.what == record.what), None) if step else None
            yield GaugeRow(
                **self.about(nth, record.step, record.session),
                what=record.what,
                fits=record.fits,
                mm=record.mm,
                wanted_mm=wanted.mm if wanted else None,
                plus_mm=wanted.plus_mm if wanted else 0.0,
                minus_mm=wanted.minus_mm if wanted else 0.0,
                hot=wanted.hot if wanted else False,
                at_s=record.at_s,
            )


def _verdict(record: RestRecord) -> str:
    if record.broken_by:
        return BROKEN
    verdict = KEPT if record.verdict == "ok" else record.verdict
    return verdict if verdict in VERDICTS else ""
