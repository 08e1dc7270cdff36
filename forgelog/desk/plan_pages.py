"""A plan in words: titled pages of plain lines, for the shell and for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime

from forgelog.desk.plan_told import OrderPlanned, PlanTold
from forgelog.desk.review_chart import draw_chart
from forgelog.desk.review_pages import Page
from forgelog.desk.review_words import counted, cut, folded
from forgelog.units import show_time

NARROWEST = 78
"""A window of 80 columns has a margin at either side."""
HONEST = (
    "Most often means four in five if the stated spreads hold: played out with the heats that the "
    "journal has taught, on working days of 8 hours, Monday to Friday. Never an exact chance."
)
ADVICE = "A plan is never an order: the advice at the fire follows what you take."
ADVICE_HELP = (
    "Sums alone, if all goes as planned: for a method a second plan with the heats that the "
    "recipes give for it; the helper does bench work beside the fire and nothing else."
)
HELD_HELP = (
    "They are planned up to that step. Say in tools.toml, or on the floor under something else, "
    "when the tool is ready."
)
HEADS = {"helper": "helper", "power": "power hammer", "press": "press", "striker": "striker"}
COLUMN = 13
"""Columns that one way takes: a day and a time."""


def first_words(told: PlanTold) -> str:
    """The one thing worth knowing."""
    late = [o for o in told.orders if o.late]
    day = f"Until {told.until} {counted(len(told.finished), 'piece')} of {told.pieces} finished"
    words = f"{day}, {counted(told.heats_today, 'heat')}"
    if told.idle_share is not None:
        words += f", hands idle {round(100 * told.idle_share)} %"
    if told.held_back:
        count = sum(len(one.pieces) for one in told.held_back)
        words += f". Not planned to the end: {counted(count, 'piece')}"
    if late:
        names = ", ".join(o.name for o in late)
        words += f". Most often after the promised day: {names}"
    return words + "."


def write_plan(told: PlanTold, width: int) -> tuple[Page, ...]:
    """The pages of a plan; one that has nothing to say is left out.

    Args:
        told: The plan.
        width: Columns that no line is to exceed; below 78 it is taken for 78.
    """
    width = max(NARROWEST, width)

    def _page(title: str, lines: Iterable[str]) -> Page:
        return Page(title=cut(title, width), lines=tuple(line.rstrip() for line in lines))

    pages = [
        _page(f"THE RUN · {_day(told.day)}, {told.begins} to {told.until}", _run(told, width)),
        _page("ORDERS", _orders(told, width)),
        _page("TOOLS BY WHEN", _tools(told, width)),
        _page("FINISHED IN THE DAY", (f"{p.at}  {cut(p.piece, width - 7)}" for p in told.finished)),
        _page("WITH HELP", _others(told, width)),
        _page("NOT TO THE END", _held(told, width)),
        _page("LEFT OUT", (line for one in told.left_out for line in folded(one, width))),
    ]
    return tuple(page for page in pages if page.lines)


def _run(told: PlanTold, width: int) -> Iterator[str]:
    if told.timeline is not None:
        yield from draw_chart(told.timeline, width, whole=True)
        yield ""
    left = f"{counted(told.pieces, 'piece')} and {counted(told.heats, 'heat')} to go in all"
    hands = show_time(60 * told.hands_min)
    whole = show_time(60 * told.work_min) if told.work_min < 2880 else _days(told.work_min)
    yield from folded(f"{left}: {hands} of hand work in {whole}, nights left out.", width)
    for jig in told.jigs:
        settings = f" ({', '.join(jig.settings)})" if jig.settings else ""
        took = show_time(60 * jig.minutes)
        yield from folded(f"{jig.name}{settings}: set up {_times(jig.setups)}, {took}.", width)
    yield from folded(ADVICE, width)


def _orders(told: PlanTold, width: int) -> Iterator[str]:
    if not told.orders:
        return
    for order in told.orders:
        yield from folded(_order(order), width)
    yield ""
    yield from folded(HONEST, width)


def _order(order: OrderPlanned) -> str:
    by = f"done {_day(order.low)}"
    if order.high != order.low:
        by = f"most often done from {_day(order.low)} to {_day(order.high)}"
    words = f"{order.name}: {by}; as planned {_moment(order.planned)}"
    if order.promised:
        late = ", most often LATE" if order.late else ""
        words += f"; promised {_day(order.promised)}{late}"
    if order.open:
        words += "; not all of it, see the page of what is not planned to the end"
    return words + "."


def _tools(told: PlanTold, width: int) -> Iterator[str]:
    for tool in told.tools:
        setting = f", {tool.setting}" if tool.setting else ""
        state = "" if tool.state in ("have", "proved") else f" ({tool.state})"
        yield cut(f"{tool.by}  {tool.name}{setting}{state}", width)


def _held(told: PlanTold, width: int) -> Iterator[str]:
    for one in told.held_back:
        yield from folded(f"{one.name}: {one.why}: {', '.join(one.pieces)}.", width)
    if told.held_back:
        yield ""
        yield from folded(HELD_HELP, width)


def _others(told: PlanTold, width: int) -> Iterator[str]:
    """A column for every way: hours of all that is left, and the day of each order."""
    if not told.others:
        return
    heads = ["as it is", *(HEADS.get(o.method, o.words) for o in told.others)]
    first = width - COLUMN * len(heads)
    yield _row("", heads, first)
    hours = [told.work_min, *(o.work_min for o in told.others)]
    yield _row("hours until all is done", [f"{h / 60:.1f} h" for h in hours], first)
    hands = [told.hands_min, *(o.hands_min for o in told.others)]
    yield _row("hours of your own hands", [f"{h / 60:.1f} h" for h in hands], first)
    for order in told.orders:
        dates = [order.planned]
        dates += [d.done for way in told.others for d in way.orders if d.order == order.order]
        yield _row(order.name, [_short(d) for d in dates], first)
    yield ""
    yield from folded(ADVICE_HELP, width)


def _row(name: str, cells: list[str], first: int) -> str:
    return cut(name, first - 1).ljust(first) + "".join(cell.rjust(COLUMN) for cell in cells)


def _short(text: str) -> str:
    return f"{_day(text).rsplit(' ', 1)[0]} {datetime.fromisoformat(text):%H:%M}"


def _days(length_min: float) -> str:
    return f"{length_min / 60:.0f} working hours"


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _day(text: str) -> str:
    day = date.fromisoformat(text[:10])
    name = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[day.weekday()]
    month = "JanFebMarAprMayJunJulAugSepOctNovDec"[3 * day.month - 3 : 3 * day.month]
    return f"{name} {day.day} {month}"


def _moment(text: str) -> str:
    return f"{_day(text)}, {datetime.fromisoformat(text):%H:%M}"
