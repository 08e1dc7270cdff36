"""Trends in words and charts: titled pages of plain lines, for the shell and for the screen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from forgelog.desk.review_pages import Page
from forgelog.desk.review_words import counted, cut, day_words, folded
from forgelog.desk.trend_charts import bar, draw_curve, draw_hours, draw_idle
from forgelog.desk.trends import CurveTold, Range, Trends
from forgelog.learn.curves import LEAST_POINTS
from forgelog.recipe.plain import listed
from forgelog.units import show_clock

NARROWEST = 78
"""Columns within a window of 80."""
MOST_CHARTS = 3
LAST_SESSIONS = 20
NO_WHY = "It says what was, not why."
NOTHING_YET = "Nothing has been worked yet that a trend could be seen in."


def write_trends(trends: Trends, width: int) -> tuple[Page, ...]:
    """The pages of trends; one that has nothing to say is left out.

    Args:
        trends: What is told.
        width: Columns that no line is to exceed; below 78 it is taken for 78.
    """
    width = max(NARROWEST, width)
    parts = (
        ("HEATS OVER THE PIECES", _curves(trends, width)),
        ("HEATS BY THE HOUR OF THE DAY", _hours(trends, width)),
        ("FIRE AND HANDS", _sessions(trends, width)),
        ("WHAT SPOILT WORK", _causes(trends, width)),
        ("BY HAND AND BY POWER", _methods(trends, width)),
    )
    practice = "PRACTICE: " if trends.practice else ""
    pages = [
        Page(title=f"{practice}{title}", lines=tuple(line.rstrip() for line in lines))
        for title, lines in parts
    ]
    return tuple(page for page in pages if page.lines)


def first_words(trends: Trends) -> str:
    """The one trend that is surest, in a sentence."""
    sure = [curve for curve in trends.curves if curve.surely]
    if not trends.curves:
        return NOTHING_YET
    if not sure:
        return "No step takes surely fewer or more heats than it did at first."
    most = max(sure, key=lambda curve: len(curve.taken_heats))
    return f"{most.words} takes {most.surely} heats the more you make: {_doubling(most)}."


def _doubling(curve: CurveTold) -> str:
    told = curve.doubling
    assert told is not None
    assert told.low is not None
    assert told.high is not None
    return (
        f"times {told.middle:.2f} ({told.low:.2f} to {told.high:.2f}) with each doubling, "
        f"from {counted(told.records, 'piece')}"
    )


def _curves(trends: Trends, width: int) -> Iterator[str]:
    if not trends.curves:
        return
    fitted = [curve for curve in trends.curves if curve.fitted_heats]
    shown = sorted(fitted, key=lambda c: (not c.surely, len(set(c.taken_heats)) < 2))
    for curve in shown[:MOST_CHARTS]:
        yield cut(curve.words, width)
        yield from draw_curve(curve, width)
        yield ""
    name_wide = width - 46
    if fitted:
        head = f"{'step':{name_wide}} {'plan':>4}  {'first ones':10}  {'last ones':10}"
        yield f"{head}  each doubling"
    for curve in fitted:
        plan = "-" if curve.planned_heats is None else str(curve.planned_heats)
        first = " ".join(map(str, curve.taken_heats[:3]))
        last = " ".join(map(str, curve.taken_heats[-3:]))
        yield (
            f"{cut(curve.words, name_wide):{name_wide}} {plan:>4}  {cut(first, 10):10}  "
            f"{cut(last, 10):10}  {_times(curve.doubling)}{_sign(curve)}"
        )
    few = len(trends.curves) - len(fitted)
    if few:
        yield f"({counted(few, 'step')} with fewer than {LEAST_POINTS} pieces)"
    yield ""
    yield from folded(
        "Each doubling of the pieces made multiplies the heats by so much; in brackets what holds "
        "it four times in five. ! stands where that is sure: of many steps some lean by chance, "
        f"and of those with a ! at most one in ten does. {NO_WHY}",
        width,
    )


def _sign(curve: CurveTold) -> str:
    return " !" if curve.surely else ""


def _times(told: Range | None) -> str:
    if told is None:
        return "too few"
    if told.low is None or told.high is None:
        return f"{told.middle:.2f}"
    return f"{told.middle:.2f} ({told.low:.1f}-{told.high:.1f})"


def _hours(trends: Trends, width: int) -> Iterator[str]:
    if len(trends.hours) < 2:
        return
    yield from (cut(line, width) for line in draw_hours(trends.hours, width))
    yield ""
    yield f"{'hour':>5}  {'pieces':>6}  {'in hand a heat':>14}  of your usual"
    for one in trends.hours:
        share = one.usual_share
        reach = "one piece alone"
        if share.low is not None and share.high is not None:
            reach = f"({share.low:.0%} to {share.high:.0%})"
        yield (
            f"{one.hour:>3} h  {share.records:>6}  {show_clock(one.heat_s.middle):>14}  "
            f"{share.middle:>4.0%} {reach}"
        )
    yield ""
    yield from folded(
        "A piece counts in the hour in which its step was done, against your own usual time in "
        f"hand for that step. {NO_WHY}",
        width,
    )


def _sessions(trends: Trends, width: int) -> Iterator[str]:
    known = [s for s in trends.sessions if s.idle_share is not None or s.in_fire is not None]
    if not known:
        return
    chart = draw_idle(known, width)
    yield from (cut(line, width) for line in chart)
    if chart:
        yield ""
    yield f"{'began':>22}  {'heats':>5}  {'pieces in the fire':>18}  hands idle"
    for one in known[-LAST_SESSIONS:]:
        day = day_words(datetime.fromisoformat(one.began))
        fire = "-" if one.in_fire is None else f"{one.in_fire:.1f}"
        idle = "-"
        if one.idle_share is not None:
            idle = f"{one.idle_share:>4.0%} {bar(one.idle_share, width - 60)}"
        yield f"{day:>22}  {one.heats:>5}  {fire:>18}  {idle}"
    yield ""
    yield from folded(
        "Pieces in the fire: on average, from its lighting to the last heat. Hands idle: "
        "nothing in hand and nothing at the bench, of the time worked. "
        "Time goes to the session in which its step was done.",
        width,
    )


def _causes(trends: Trends, width: int) -> Iterator[str]:
    if not trends.causes:
        return
    most = max(cause.times for cause in trends.causes)
    for cause in trends.causes:
        again = f", {cause.remade} made again" if cause.remade else ""
        row = f"{cut(cause.why, 26):26} {cause.times:>3}  {bar(cause.times / most, 20):20}{again}"
        yield cut(row.rstrip(), width)
        yield from folded(f"at {listed(cause.steps, 'and')}", width, "      ")


def _methods(trends: Trends, width: int) -> Iterator[str]:
    if not trends.methods:
        return
    name_wide = width - 46
    yield f"{'':{name_wide}} {'heats':^11} {'in hand':^13}  by hand takes"
    yield f"{'step':{name_wide}} {'hand':>5} {'power':>5} {'hand':>6} {'power':>6}  so many times"
    for one in trends.methods:
        yield (
            f"{cut(f'{one.component_name}, {one.do}', name_wide):{name_wide}} "
            f"{one.hand_heats:>5.1f} {one.power_heats:>5.1f} {show_clock(one.hand_s):>6} "
            f"{show_clock(one.power_s):>6}  {_times(one.times)}"
        )
    yield ""
    yield from folded(
        "Middle heats and time in hand of a piece; in brackets what holds it four times in five. "
        "Setting up the hammer is not in it.",
        width,
    )
