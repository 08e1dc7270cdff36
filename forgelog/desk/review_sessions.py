"""What a review tells of sessions: when, how long, what was pressed, and the shown one in spans."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.review_facts import SessionTold, SpanTold, StoodTold, TimelineTold
from forgelog.desk.review_read import Folded
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import local_time, minutes, order_words, piece_words, slot_words
from forgelog.learn.timeline import Timeline, draw_timeline
from forgelog.recipe.plain import harmless
from forgelog.work.queries import steps_of
from forgelog.work.state import Order, SessionRecord, State


def tell_sessions(folded: Folded, scope: Scope) -> tuple[SessionTold, ...]:
    """The sessions at the fire, oldest first."""
    followed = {s.continues for s in folded.state.sessions if s.continues}
    return tuple(
        _session(folded, number, session, followed)
        for number, session in enumerate(folded.sessions, 1)
        if not scope.session or session.id == scope.session
        if not scope.recipe or any(o.recipe == scope.recipe for o in _orders(folded, session))
    )


def _session(
    folded: Folded, number: int, session: SessionRecord, followed: set[str]
) -> SessionTold:
    gone_on = "went on later" if session.id in followed else "not ended"
    return SessionTold(
        number=number,
        session=session.id,
        began=local_time(session.began_s, session.offset).isoformat(timespec="seconds"),
        who=harmless(session.who),
        orders=tuple(order_words(order) for order in _orders(folded, session)),
        method=session.method,
        fire=harmless(session.fire),
        presses=session.presses,
        heats=folded.heats.get(session.id, 0),
        length_min=minutes(session.ended_s - session.began_s),
        worked_min=minutes(folded.worked_s.get(session.id, 0.0)),
        ended="ended" if session.ended else gone_on,
        where=harmless(session.where),
    )


def _orders(folded: Folded, session: SessionRecord) -> list[Order]:
    return [folded.state.orders[o] for o in session.orders if o in folded.state.orders]


def tell_timeline(folded: Folded) -> TimelineTold | None:
    """The shown session, stretch by stretch; None where there is none."""
    if not folded.states:
        return None
    line = draw_timeline(folded.states)
    record = next(s for s in folded.state.sessions if s.id == folded.shown)
    began = local_time(line.began_s, record.offset)
    return TimelineTold(
        session=folded.shown,
        began=began.isoformat(timespec="seconds"),
        began_local_s=began.hour * 3600.0 + began.minute * 60.0 + began.second,
        length_min=minutes(line.ended_s - line.began_s),
        worked_min=minutes(line.worked_s),
        hand_min=minutes(line.hand_s),
        bench_min=minutes(line.bench_s),
        fire_min=minutes(line.fire_s),
        lit_min=minutes(line.lit_s),
        idle_share=None if line.idle_share is None else round(line.idle_share, 3),
        spans=tuple(_spans(folded.state, line)),
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


def _spans(state: State, line: Timeline) -> Iterator[SpanTold]:
    for span in line.spans:
        piece = state.pieces.get(span.workpiece)
        if piece is None:
            continue
        steps = steps_of(state, piece)
        yield SpanTold(
            workpiece=span.workpiece,
            piece=piece_words(state, piece),
            slot=slot_words(state, piece),
            doing=span.doing,
            step=steps[span.step].id if span.step < len(steps) else "",
            from_min=minutes(span.from_s - line.began_s),
            to_min=minutes(span.to_s - line.began_s),
            work_min=minutes(span.work_s),
        )
