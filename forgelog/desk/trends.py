"""Trends in the record: heats over the pieces, hours, fire and hands, causes, methods."""

from __future__ import annotations

import math

from forgelog.book.index_catching_up import Report
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.review import recipe_named
from forgelog.desk.review_facts import Told
from forgelog.desk.review_read import Past, past_of
from forgelog.desk.review_words import local_time, row_step
from forgelog.desk.shop import Shop
from forgelog.learn.curves import Curve, Mean, learning_curves
from forgelog.learn.rows import StepRow
from forgelog.learn.trends import (
    causes,
    hand_against_power,
    hours_of_day,
    sessions_used,
)
from forgelog.recipe.plain import harmless
from forgelog.units import UnitSystem

LAST_PIECES = 200
"""Pieces of a step that are told of; more are no clearer on a page."""


class Range(Told, frozen=True, kw_only=True):
    """A middle and what holds four in five; low and high None where one record says nothing."""

    middle: float
    low: float | None
    high: float | None
    records: int


class CurveTold(Told, frozen=True, kw_only=True):
    """Heats of one step by one method over the pieces."""

    recipe: str
    component: str
    component_name: str
    step: str
    do: str
    method: str
    planned_heats: int | None
    taken_heats: tuple[int, ...]
    fitted_heats: tuple[float, ...]
    low_heats: tuple[float, ...]
    high_heats: tuple[float, ...]
    doubling: Range | None
    """What heats are multiplied by when the number of pieces doubles; None of fewer than four."""
    sure: bool
    """Whether it leans surely, with all other steps looked at beside it."""

    @property
    def words(self) -> str:
        """ "strap, roll the eye (hand)"."""
        return f"{self.component_name}, {self.do} ({self.method})"

    @property
    def surely(self) -> str:
        """fewer or more where that is sure; "" where it is not."""
        if self.doubling is None or not self.sure:
            return ""
        return "fewer" if self.doubling.middle < 1.0 else "more"


class HourTold(Told, frozen=True, kw_only=True):
    """Time in hand a heat in one hour of the day."""

    hour: int
    heat_s: Range
    usual_share: Range
    """Against the smith's usual time for the same step: 1.1 is a tenth longer."""


class UseTold(Told, frozen=True, kw_only=True):
    """One session."""

    session: str
    began: str
    """ISO 8601."""
    in_fire: float | None
    """Pieces in the fire, on average from its lighting to the last heat."""
    idle_share: float | None
    heats: int


class CauseTold(Told, frozen=True, kw_only=True):
    """What spoilt work."""

    why: str
    times: int
    remade: int
    steps: tuple[str, ...]


class MethodsTold(Told, frozen=True, kw_only=True):
    """A step by hand and by power."""

    component_name: str
    do: str
    hand_heats: float
    power_heats: float
    hand_s: float
    power_s: float
    times: Range
    """Time in hand by hand over that by power."""


class Trends(Told, frozen=True, kw_only=True):
    """All of it. Texts are final and harmless."""

    practice: bool
    curves: tuple[CurveTold, ...]
    hours: tuple[HourTold, ...]
    sessions: tuple[UseTold, ...]
    causes: tuple[CauseTold, ...]
    methods: tuple[MethodsTold, ...]


def trends_of(
    shop: Shop,
    recipe: str | None = None,
    *,
    clock: Clock | None = None,
    report: Report | None = None,
) -> Trends:
    """What the record says of how things go.

    Args:
        shop: The book.
        recipe: This recipe alone, by id; None for all.
        clock: Of this machine where None.
        report: Told of the progress, where the index has to be caught up.

    Raises:
        CannotDo: nothing was worked from that recipe.
    """
    units = shop.settings.shop.units

    def tell(index: Index) -> Trends:
        if recipe:
            return _trends(past_of(index, None), recipe, units)
        return index.once(
            "trends", str(units), Trends, lambda: _trends(past_of(index, None), None, units)
        )

    return ask_index(shop, tell, at=(clock or RealClock()).stamp(), report=report)


def _trends(past: Past, recipe: str | None, units: UnitSystem) -> Trends:
    wanted = recipe_named(past.recipes, recipe)
    steps = [row for row in past.steps if wanted in ("", row.recipe)]
    offsets = {session.session: session.offset_min for session in past.sessions}
    return Trends(
        practice=past.practice,
        curves=tuple(_curve(curve, units) for curve in learning_curves(steps)),
        hours=tuple(
            HourTold(
                hour=one.hour, heat_s=_range(one.heat_s), usual_share=_range(one.usual, digits=3)
            )
            for one in hours_of_day(steps, offsets)
        ),
        sessions=_sessions(past),
        causes=tuple(
            CauseTold(
                why=harmless(cause.why),
                times=cause.times,
                remade=cause.remade,
                steps=tuple(_steps(past, cause.steps, units)),
            )
            for cause in causes(row for row in past.spoilt if wanted in ("", row.recipe))
        ),
        methods=tuple(
            MethodsTold(
                component_name=harmless(pair.row.component_name),
                do=row_step(pair.row, units),
                hand_heats=round(pair.hand_heats, 2),
                power_heats=round(pair.power_heats, 2),
                hand_s=round(pair.hand_s, 1),
                power_s=round(pair.power_s, 1),
                times=_range(pair.times),
            )
            for pair in hand_against_power(steps)
        ),
    )


def _curve(curve: Curve, units: UnitSystem) -> CurveTold:
    row = curve.row
    return CurveTold(
        recipe=row.recipe,
        component=row.component,
        component_name=harmless(row.component_name),
        step=row.step,
        do=row_step(row, units),
        method=row.method,
        planned_heats=curve.planned,
        taken_heats=curve.heats[-LAST_PIECES:],
        fitted_heats=_rounded(curve.fitted),
        low_heats=_rounded(curve.low),
        high_heats=_rounded(curve.high),
        doubling=None if curve.doubling is None else _range(curve.doubling, digits=3),
        sure=curve.sure,
    )


def _rounded(values: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(round(value, 3) for value in values[-LAST_PIECES:])


def _range(mean: Mean, *, digits: int = 2) -> Range:
    known = math.isfinite(mean.high)
    return Range(
        middle=round(mean.centre, digits),
        low=round(mean.low, digits) if known else None,
        high=round(mean.high, digits) if known else None,
        records=mean.records,
    )


def _sessions(past: Past) -> tuple[UseTold, ...]:
    return tuple(
        UseTold(
            session=use.session,
            began=local_time(use.began_s, use.offset_min).isoformat(timespec="seconds"),
            in_fire=None if use.in_fire is None else round(use.in_fire, 2),
            idle_share=None if use.idle_share is None else round(use.idle_share, 3),
            heats=use.heats,
        )
        for use in sessions_used(past.sessions, past.steps)
    )


def _steps(past: Past, ids: tuple[str, ...], units: UnitSystem) -> list[str]:
    named: dict[str, StepRow] = {row.step: row for row in past.steps}
    words = {row.step: row_step(row, units) for row in past.spoilt if row.step}
    told = (
        words.get(i) or (row_step(named[i], units) if i in named else "when it was finished")
        for i in ids
    )
    return list(dict.fromkeys(told))
