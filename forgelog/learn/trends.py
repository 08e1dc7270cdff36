"""How things go over the weeks: the hours of the day, fire, hands, causes, hand against power.

All of it describes what was; nothing here says why. An interval holds four in five, if the scatter
is as the records have it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from forgelog.learn.curves import Mean, teaches
from forgelog.learn.heats import StepKey
from forgelog.learn.rows import AGAIN, SessionRow, SpoiltRow, StepRow
from forgelog.learn.student import quantile_90

LEAST_EACH = 2
"""Fewer pieces by each method are no comparison."""


class HourOfDay(msgspec.Struct, frozen=True, kw_only=True):
    """Time in hand a heat in one hour of the day."""

    hour: int
    """0 to 23, by the clock on the wall."""
    heat_s: Mean
    """Seconds in hand a heat, whatever the step."""
    usual: Mean
    """Against the smith's usual time for the same step: 1.1 is a tenth longer."""


class SessionUse(msgspec.Struct, frozen=True, kw_only=True):
    """How fire and hands were used in one session."""

    session: str
    began_s: float
    offset_min: int
    in_fire: float | None
    """Pieces in the fire, on average from its lighting to the last heat; None where not known."""
    idle_share: float | None
    """Share of the worked time with nothing in hand and nothing at the bench, 0 to 1."""
    heats: int


class Cause(msgspec.Struct, frozen=True, kw_only=True):
    """What spoilt work."""

    why: str
    times: int
    remade: int
    """How many of them were made again."""
    steps: tuple[str, ...]
    """Ids of the steps, the most frequent first."""
    last_s: float


class MethodPair(msgspec.Struct, frozen=True, kw_only=True):
    """One step by hand and by power."""

    row: StepRow
    hand_heats: float
    power_heats: float
    """Geometric means."""
    hand_s: float
    power_s: float
    """Time in hand a piece, the same."""
    times: Mean
    """Time in hand by hand over that by power; its records are the fewer of the two."""


def hours_of_day(steps: Iterable[StepRow], offsets_min: Mapping[str, int]) -> tuple[HourOfDay, ...]:
    """Time in hand a heat, hour by hour.

    Args:
        steps: Any order.
        offsets_min: Local time less UTC of each session, minutes.
    """

    def hour_of(row: StepRow) -> int:
        local_s = row.ended_s + 60.0 * offsets_min.get(row.session, 0)
        return int(local_s // 3600.0) % 24

    by_key: dict[StepKey, list[StepRow]] = {}
    for row in steps:
        if teaches(row) and row.work_s > 0.0:
            by_key.setdefault(row.key, []).append(row)
    usual: dict[StepKey, float] = {}
    by_hour: dict[int, list[StepRow]] = {}
    for key, rows in by_key.items():
        # A step that was made in one hour alone is its own usual time, and says nothing of hours.
        if len({hour_of(row) for row in rows}) > 1:
            usual[key] = math.fsum(map(_log_heat, rows)) / len(rows)
            for row in rows:
                by_hour.setdefault(hour_of(row), []).append(row)
    return tuple(
        HourOfDay(
            hour=hour,
            heat_s=_mean([_log_heat(row) for row in rows]),
            usual=_mean([_log_heat(row) - usual[row.key] for row in rows]),
        )
        for hour, rows in sorted(by_hour.items())
    )


def _log_heat(row: StepRow) -> float:
    return math.log(row.work_s / (row.heats or 1))


def _mean(logs: Sequence[float]) -> Mean:
    """The geometric mean with its interval; of one record the interval is not known: it is all."""
    count = len(logs)
    mean = math.fsum(logs) / count
    if count < 2:
        return Mean(centre=math.exp(mean), low=0.0, high=math.inf, records=count)
    squares = math.fsum((y - mean) ** 2 for y in logs)
    reach = quantile_90(count - 1) * math.sqrt(squares / (count - 1) / count)
    return Mean(
        centre=math.exp(mean),
        low=math.exp(mean - reach),
        high=math.exp(min(700.0, mean + reach)),
        records=count,
    )


def sessions_used(
    sessions: Iterable[SessionRow], steps: Iterable[StepRow]
) -> tuple[SessionUse, ...]:
    """Fire use and idle hands, session by session, oldest first.

    Time is counted with the step that it went into, in the session in which that step was done.

    Args:
        sessions: At the fire.
        steps: Of the same kind of work.
    """
    fire_s: Counter[str] = Counter()
    work_s: Counter[str] = Counter()
    last_s: dict[str, float] = {}
    for row in steps:
        if row.forged:
            last_s[row.session] = max(row.ended_s, last_s.get(row.session, row.ended_s))
        fire_s[row.session] += row.fire_s  # type: ignore[assignment]
        work_s[row.session] += row.work_s  # type: ignore[assignment]
    found = []
    for one in sorted(sessions, key=lambda s: (s.began_s, s.session)):
        lit_s = 0.0
        if one.fire_lit_s is not None and one.session in last_s:
            lit_s = last_s[one.session] - one.fire_lit_s
        worked = one.worked_s > 0.0 and work_s[one.session] > 0.0
        idle = 1.0 - work_s[one.session] / one.worked_s if worked else 0.0
        found.append(
            SessionUse(
                session=one.session,
                began_s=one.began_s,
                offset_min=one.offset_min,
                in_fire=fire_s[one.session] / lit_s if lit_s > 0.0 else None,
                idle_share=min(1.0, max(0.0, idle)) if worked else None,
                heats=one.heats,
            )
        )
    return tuple(found)


def causes(spoilt: Iterable[SpoiltRow]) -> tuple[Cause, ...]:
    """What spoilt work, the most frequent cause first; a step done again is no cause.

    Args:
        spoilt: Any order.
    """
    groups: dict[str, list[SpoiltRow]] = {}
    for row in spoilt:
        if row.kind != AGAIN:
            groups.setdefault((row.why or row.kind).casefold(), []).append(row)
    found = []
    for rows in groups.values():
        last = max(rows, key=lambda row: row.at_s)
        steps = Counter(row.step for row in rows)
        found.append(
            Cause(
                why=last.why or last.kind,
                times=sum(max(1, row.spoilt) for row in rows),
                remade=sum(row.remade or bool(row.remade_as) for row in rows),
                steps=tuple(step for step, _ in steps.most_common()),
                last_s=last.at_s,
            )
        )
    return tuple(sorted(found, key=lambda cause: (-cause.times, -cause.last_s)))


def hand_against_power(steps: Iterable[StepRow]) -> tuple[MethodPair, ...]:
    """Steps that were made both by hand and by power, where power saves the most time first.

    Args:
        steps: Any order.

    Source:
        B. L. Welch, Biometrika 34 (1947) 28, on ln time, from memory.
    """
    by_step: dict[tuple[str, str, str], dict[str, list[StepRow]]] = {}
    for row in steps:
        if teaches(row) and row.work_s > 0.0:
            by_step.setdefault(row.place, {}).setdefault(row.method, []).append(row)
    found = []
    for methods in by_step.values():
        hand, power = methods.get("hand", []), methods.get("power", [])
        if min(len(hand), len(power)) >= LEAST_EACH:
            found.append(_method_pair(hand, power))
    return tuple(sorted(found, key=lambda pair: -pair.times.centre))


def _method_pair(hand: Sequence[StepRow], power: Sequence[StepRow]) -> MethodPair:
    hand_logs = [math.log(row.work_s) for row in hand]
    power_logs = [math.log(row.work_s) for row in power]
    hand_mean, hand_var = _mean_and_var(hand_logs)
    power_mean, power_var = _mean_and_var(power_logs)
    var = hand_var + power_var
    df = 1.0
    if var > 0.0:
        parts = hand_var**2 / (len(hand) - 1) + power_var**2 / (len(power) - 1)
        df = max(1.0, var**2 / parts)
    reach = quantile_90(df) * math.sqrt(var)
    off = hand_mean - power_mean
    return MethodPair(
        row=hand[-1],
        hand_heats=_geometric(row.heats or 1 for row in hand),
        power_heats=_geometric(row.heats or 1 for row in power),
        hand_s=math.exp(hand_mean),
        power_s=math.exp(power_mean),
        times=Mean(
            centre=math.exp(off),
            low=math.exp(off - reach),
            high=math.exp(off + reach),
            records=min(len(hand), len(power)),
        ),
    )


def _mean_and_var(logs: Sequence[float]) -> tuple[float, float]:
    """The mean, and the variance of that mean."""
    mean = math.fsum(logs) / len(logs)
    squares = math.fsum((y - mean) ** 2 for y in logs)
    return mean, squares / (len(logs) - 1) / len(logs)


def _geometric(values: Iterable[float]) -> float:
    logs = [math.log(value) for value in values]
    return math.exp(math.fsum(logs) / len(logs))
