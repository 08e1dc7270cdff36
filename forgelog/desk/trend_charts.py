"""Charts in plain characters. The plotting library is loaded here alone, when one is drawn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from forgelog.desk.trends import CurveTold, HourTold, UseTold

HIGH = 14
"""Rows of a chart with its axes."""
MOST_USUAL = 200
"""Per cent of the usual time beyond which a chart is not drawn."""
TAKEN, CURVE, EDGE, PLAN = "*", "o", ".", "-"


def draw_curve(curve: CurveTold, width: int) -> list[str]:
    """Heats over the pieces, with the curve and what holds four in five of it.

    Args:
        curve: With a curve fitted, or without one.
        width: Columns.
    """
    numbers = list(range(1, len(curve.taken_heats) + 1))

    def fill(chart: Any) -> None:
        if curve.fitted_heats:
            chart.plot(numbers, list(curve.low_heats), marker=EDGE)
            chart.plot(numbers, list(curve.high_heats), marker=EDGE)
            chart.plot(numbers, list(curve.fitted_heats), marker=CURVE)
        if curve.planned_heats is not None:
            chart.plot([1, len(numbers)], [curve.planned_heats] * 2, marker=PLAN)
        chart.scatter(numbers, list(curve.taken_heats), marker=TAKEN)
        top = int(max(*curve.taken_heats, curve.planned_heats or 0, *curve.high_heats)) + 1
        chart.ylim(0, top)
        chart.yticks(_whole(range(top + 1)))
        chart.xticks(_whole(numbers))

    lines = _drawn(fill, width)
    meaning = f"{TAKEN} taken, {PLAN} planned"
    if curve.fitted_heats:
        meaning += f", {CURVE} the curve, {EDGE} its range"
    return [*lines, f"heats, piece by piece: {meaning}"]


def draw_hours(hours: Sequence[HourTold], width: int) -> list[str]:
    """Time in hand a heat against the usual, hour by hour.

    Args:
        hours: At least one.
        width: Columns.
    """
    numbers = [one.hour for one in hours]
    shares = [min(MOST_USUAL, 100.0 * one.usual_share.middle) for one in hours]

    def fill(chart: Any) -> None:
        chart.plot([min(numbers), max(numbers)], [100.0, 100.0], marker=PLAN)
        for one in hours:
            low, high = one.usual_share.low, one.usual_share.high
            if low is not None and high is not None:
                ends = [min(MOST_USUAL, 100.0 * end) for end in (low, high)]
                chart.plot([one.hour] * 2, ends, marker=EDGE)
        chart.scatter(numbers, shares, marker=TAKEN)
        chart.ylim(0, MOST_USUAL)
        chart.yticks([0, 50, 100, 150, 200])
        chart.xticks(numbers, [f"{hour}h" for hour in numbers])

    return [
        *_drawn(fill, width),
        f"% of your usual time in hand: {TAKEN} in that hour, {EDGE} its range, {PLAN} usual",
    ]


def draw_idle(sessions: Sequence[UseTold], width: int) -> list[str]:
    """Idle hands from session to session, in per cent of the time worked.

    Args:
        sessions: Oldest first; those of which nothing is known are passed over.
        width: Columns.
    """
    known = [(n, one.idle_share) for n, one in enumerate(sessions, 1) if one.idle_share is not None]
    if len(known) < 2:
        return []

    def fill(chart: Any) -> None:
        chart.plot([n for n, _ in known], [100.0 * share for _, share in known], marker=EDGE)
        chart.scatter([n for n, _ in known], [100.0 * share for _, share in known], marker=TAKEN)
        chart.ylim(0, 100)
        chart.yticks([0, 25, 50, 75, 100])
        chart.xticks(_whole([n for n, _ in known]))

    return [*_drawn(fill, width), "hands idle, % of the time worked, session by session"]


def bar(share: float, width: int) -> str:
    """A bar of so many signs of all that it might have."""
    return "#" * round(max(0.0, min(1.0, share)) * width)


def _drawn(fill: Callable[[Any], None], width: int) -> list[str]:
    """A chart of one figure; signs alone, no colour."""
    import plotext

    plotext.clear_figure()
    plotext.limit_size(False, False)
    plotext.plot_size(width, HIGH)
    plotext.theme("clear")
    fill(plotext)
    text: str = plotext.uncolorize(plotext.build())
    plotext.clear_figure()
    return [line.rstrip()[:width] for line in text.rstrip().split("\n")]


def _whole(numbers: Sequence[int]) -> list[int]:
    """At most some ten of the numbers, so that the ticks have room."""
    every = max(1, -(-len(numbers) // 10))
    return list(numbers[::every])
