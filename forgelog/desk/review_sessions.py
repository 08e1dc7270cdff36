"""What a review tells of sessions: when, how long, what was pressed, and the shown one in spans."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.book.index_records import Line
from forgelog.desk.review_facts import SessionTold, SpanTold, StoodTold, TimelineTold
from forgelog.desk.review_read import Past
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import local_time, minutes, order_words, row_slot
from forgelog.desk.shop import Shop
from forgelog.learn.rows import OrderRow, SessionRow
from forgelog.recipe.plain import harmless


def last_session(shop: Shop) -> str:
    """Id of the newest session at the fire; "" where there is none."""
    known = (header for header in shop.headers.values() if header is not None)
    return max((h.session for h in known if h.kind == "floor"), default="")


def tell_sessions(
    past: Past, scope: Scope, last: int | None = None
) -> tuple[tuple[SessionTold, ...], int]:
    """The sessions at the fire, oldest first, and how many of them are left out.

    Args:
        past: Its sessions.
        scope: How much is told.
        last: Only so many of them, the last ones; None for all.
    """
    told = [
        (number, session)
        for number, session in enumerate(past.sessions, 1)
        if not scope.session or session.session == scope.session
        if not scope.recipe or any(o.recipe == scope.recipe for o in _orders(past, session))
    ]
    left = 0 if last is None else max(0, len(told) - last)
    return tuple(_session(past, number, session) for number, session in told[left:]), left


def _session(past: Past, number: int, session: SessionRow) -> SessionTold:
    gone_on = "went on later" if session.session in past.followed else "not ended"
    return SessionTold(
        number=number,
        session=session.session,
        began=local_time(session.began_s, session.offset_min).isoformat(timespec="seconds"),
        who=harmless(session.who),
        orders=tuple(order_words(order) for order in _orders(past, session)),
        method=session.method,
        fire=harmless(session.fire),
        presses=session.presses,
        heats=session.heats,
        length_min=minutes(session.ended_s - session.began_s),
        worked_min=minutes(session.worked_s),
        ended="ended" if session.ended else gone_on,
        where=harmless(session.where),
    )


def _orders(past: Past, session: SessionRow) -> list[OrderRow]:
    return [past.orders[o] for o in session.orders if o in past.orders]


def tell_timeline(past: Past) -> TimelineTold | None:
    """The shown session, stretch by stretch; None where there is none."""
    if past.line is None:
        return None
    line = past.line.timeline
    began = local_time(line.began_s, past.line.offset_min)
    return TimelineTold(
        session=past.shown,
        began=began.isoformat(timespec="seconds"),
        began_local_s=began.hour * 3600.0 + began.minute * 60.0 + began.second,
        length_min=minutes(line.ended_s - line.began_s),
        worked_min=minutes(line.worked_s),
        hand_min=minutes(line.hand_s),
        bench_min=minutes(line.bench_s),
        fire_min=minutes(line.fire_s),
        lit_min=minutes(line.lit_s),
        idle_share=None if line.idle_share is None else round(line.idle_share, 3),
        spans=tuple(_spans(past, past.line)),
        stood=tuple(
            StoodTold(
                why="paused" if still.paused else "away",
                from_min=minutes(still.from_s - line.began_s),
                to_min=minutes(still.to_s - line.began_s),
            )
            for still in line.stood
            if still.to_s - still.from_s >= 1.0
        ),
    )


def _spans(past: Past, line: Line) -> Iterator[SpanTold]:
    began_s = line.timeline.began_s
    slots = {workpiece: row_slot(named) for workpiece, named in line.names.items()}
    for span, step in zip(line.timeline.spans, line.steps, strict=True):
        slot = slots.get(span.workpiece)
        if slot is None:
            continue
        order = order_words(past.orders[line.names[span.workpiece].order])
        yield SpanTold(
            workpiece=span.workpiece,
            piece=f"{order}: {slot}",
            slot=slot,
            doing=span.doing,
            step=step,
            from_min=minutes(span.from_s - began_s),
            to_min=minutes(span.to_s - began_s),
            work_min=minutes(span.work_s),
        )
