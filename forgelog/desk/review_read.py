"""Reads from the index what a review wants to know."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.book.index_catching_up import Report
from forgelog.book.index_records import Line
from forgelog.desk.errors import CannotDo
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.shop import Shop
from forgelog.learn.rows import (
    GaugeRow,
    OrderRow,
    RestRow,
    SessionRow,
    SpoiltRow,
    StepRow,
)
from forgelog.recipe.plain import quoted
from forgelog.recipe.resolved import Recipe
from forgelog.work.moments import Stamp


class Past(msgspec.Struct, frozen=True, kw_only=True):
    """What the journal holds for a review, all of it of real work or all of it of practice."""

    shown: str
    """The session that is looked at closely; "" where there is none."""
    practice: bool
    """True where it was practice: then everything is told of practice alone."""
    orders: dict[str, OrderRow] = {}
    steps: tuple[StepRow, ...] = ()
    rests: tuple[RestRow, ...] = ()
    spoilt: tuple[SpoiltRow, ...] = ()
    gauges: tuple[GaugeRow, ...] = ()
    sessions: tuple[SessionRow, ...] = ()
    """Sessions at the fire, oldest first."""
    followed: frozenset[str] = frozenset()
    """Sessions that were cut off and went on in another one."""
    recipes: dict[str, Recipe] = {}
    """The recipe of each id that was pinned last."""
    line: Line | None = None
    """The timeline of the shown session."""
    lost: tuple[RestRow, ...] = ()
    """Normalising cycles that do not count, of pieces that were scrapped or cracked."""


def whole_past(
    shop: Shop, session: str | None, at: Stamp | None, report: Report | None = None
) -> Past:
    """All that the journal holds, row by row.

    Args:
        shop: The book.
        session: Id of the session to look at, or how it begins, or its number; None for the last.
        at: The moment of asking; None leaves the moment of the last press.
        report: Told of the progress, where the index has to be caught up.

    Raises:
        CannotDo: no session is called so, or several are.
    """
    return ask_index(shop, lambda index: past_of(index, session), at=at, report=report)


def past_of(index: Index, session: str | None, orders: Iterable[str] | None = None) -> Past:
    """What an index holds; see `whole_past`.

    Args:
        index: The index.
        session: Which is to be looked at.
        orders: Steps, rests and gauges of these orders alone; None for all orders. Orders, sessions
            and what went wrong are always all there.
    """
    floors = {row.session: row.practice for row in index.floors}
    shown = shown_session(floors, session)
    practice = floors.get(shown, False)
    rows = index.rows(index.orders if orders is None else orders)
    mishaps = index.mishaps.values()
    spoilt = [r for kept in mishaps for r in kept.spoilt if r.practice == practice]
    lost = [r for kept in mishaps for r in kept.lost if r.practice == practice]
    return Past(
        shown=shown,
        practice=practice,
        orders=index.orders,
        steps=tuple(r for r in rows.steps if r.practice == practice),
        rests=tuple(r for r in rows.rests if r.practice == practice),
        spoilt=tuple(sorted(spoilt, key=lambda r: (r.at_s, r.order, r.serial, r.nth))),
        gauges=tuple(r for r in rows.gauges if r.practice == practice),
        sessions=tuple(s for s in index.floors if s.practice == practice),
        followed=frozenset(s.continues for s in index.floors if s.continues),
        recipes={recipe: index.recipe(pin) for recipe, pin in index.recipes().items()},
        line=index.line(shown) if shown else None,
        lost=tuple(sorted(lost, key=lambda r: (r.started_s, r.order, r.serial, r.nth))),
    )


def shown_session(floors: dict[str, bool], session: str | None) -> str:
    """Id of the session to look at: as named, or as numbered, or the last one of real work."""
    real = [s for s, practised in floors.items() if not practised] or list(floors)
    if session is None:
        return real[-1] if real else ""
    if session in floors:
        return session
    if session.isdecimal() and 1 <= int(session) <= len(real):
        return real[int(session) - 1]
    alike = [s for s in floors if session and s.startswith(session)]
    if len(alike) == 1:
        return alike[0]
    if alike:
        raise CannotDo(f"{quoted(session)} may be any of {', '.join(alike)}")
    words = f"there is no session {quoted(session)}"
    if real:
        words += f"; name one by its number, 1 to {len(real)}, as `forgelog review` lists them"
    raise CannotDo(words)
