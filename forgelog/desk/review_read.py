"""Folds the whole journal once, and keeps what a review wants to know of each session."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.learnt import latest_recipes
from forgelog.learn.row_making import make_rows, session_rows
from forgelog.learn.rows import GaugeRow, OrderRow, RestRow, SessionRow, SpoiltRow, StepRow
from forgelog.recipe.plain import quoted
from forgelog.recipe.resolved import Recipe
from forgelog.work.apply import now, settle
from forgelog.work.changes import replace
from forgelog.work.fold import SessionLines, applied, in_order
from forgelog.work.moments import Stamp
from forgelog.work.state import State


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
    states: tuple[State, ...] = ()
    """What stood after each press of the shown session."""


def fold_whole(files: Sequence[SessionLines], session: str | None, at: Stamp | None) -> Past:
    """Fold the whole journal.

    Args:
        files: Every session of the book, whole.
        session: Id of the session to look at, or how it begins; None for the last one.
        at: The moment of asking; None leaves the moment of the last press.

    Raises:
        CannotDo: no session is called so, or several are.
    """
    ordered = in_order(files)
    floors = _at_fire(ordered)
    shown = _shown(floors, session)
    practice = floors.get(shown, False)
    state = State()
    states: list[State] = []
    heats: dict[str, int] = {}
    worked_s: dict[str, float] = {}
    counted = 0
    for file in ordered:
        began_work_s: float | None = None
        this = _id(file)
        for press in file.presses:
            state = applied(state, press)
            if began_work_s is None:
                began_work_s = state.moment.work_s
            if this == shown:
                states.append(state)
        so_far = sum(piece.heats_all for piece in state.pieces.values())
        heats[this] = max(0, so_far - counted)
        counted = so_far
        worked_s[this] = max(0.0, state.moment.work_s - (began_work_s or 0.0))
    if at is not None and state.stamp is not None:
        moment = now(state, at)
        state = replace(settle(state, moment), moment=moment)
    rows = make_rows(state)
    told = (s for s in state.sessions if s.kind == "floor" and (s.practice > 0.0) == practice)
    return Past(
        shown=shown,
        practice=practice,
        orders={order.order: order for order in rows.orders},
        steps=tuple(r for r in rows.steps if r.practice == practice),
        rests=tuple(r for r in rows.rests if r.practice == practice),
        spoilt=tuple(r for r in rows.spoilt if r.practice == practice),
        gauges=tuple(r for r in rows.gauges if r.practice == practice),
        sessions=session_rows(sorted(told, key=lambda s: (s.began_s, s.id)), heats, worked_s),
        followed=frozenset(s.continues for s in state.sessions if s.continues),
        recipes=latest_recipes(state),
        states=tuple(states),
    )


def _at_fire(files: Sequence[SessionLines]) -> dict[str, bool]:
    """The sessions at the fire, oldest first, and whether each was practice."""
    begun = [
        (file.presses[0].at.wall, file.header)
        for file in files
        if file.header is not None and file.header.kind == "floor"
    ]
    begun.sort(key=lambda one: (one[0], one[1].session))
    return {header.session: header.practice > 0.0 for _, header in begun}


def _shown(floors: dict[str, bool], session: str | None) -> str:
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


def _id(file: SessionLines) -> str:
    return file.header.session if file.header is not None else ""
