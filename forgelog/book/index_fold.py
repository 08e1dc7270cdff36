"""Folds sessions for the index, one after the other, with only the orders at hand that they need.

It is the same fold as of the whole journal (`work/fold.py`), and gives the same: an order that no
press speaks of and on which nothing burns, rests or runs cannot be changed by it, so it is put away
and fetched again when a session names it. So the state stays small, and ten years can be folded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

import msgspec

from forgelog.book.index_records import Line, Named
from forgelog.book.sessions import SessionFile
from forgelog.learn.timeline import Timeline, draw_timeline
from forgelog.work.changes import replace
from forgelog.work.fold import applied
from forgelog.work.queries import component_of, steps_of
from forgelog.work.state import (
    BENCH,
    FIRE,
    HAND,
    RESTING,
    Order,
    SessionRecord,
    State,
    Workpiece,
)

Pieces = tuple[Workpiece, ...]
Fetch = Callable[[str], tuple[Order, Pieces] | None]


class SessionFolded(msgspec.Struct, frozen=True, kw_only=True):
    """What a session has led to."""

    session: str
    records: tuple[SessionRecord, ...]
    """Records of sessions as they are now: its own, and any other that it changed."""
    heats: int
    """Heats that were counted in it."""
    worked_s: float
    """Of it on the work clock."""
    orders: dict[str, tuple[Order, Pieces]]
    """Orders that it changed, as they are now."""
    gone: tuple[str, ...]
    """Orders that are there no more: their taking was undone."""
    line: Line | None
    """Its timeline; None at the desk."""


class LooseError(Exception):
    """The sessions cannot be folded without the one before them: an undo could reach into it."""


class IndexFold:
    """The state between two sessions, small."""

    def __init__(self, state: State, fetch: Fetch) -> None:
        """Go on from a state.

        Args:
            state: What stands, with the orders that are astir.
            fetch: Gives an order with its pieces as it stands now; None where there is none.
        """
        self.state = state
        self._fetch = fetch

    def fold(self, files: Sequence[SessionFile], *, is_first: bool = False) -> list[SessionFolded]:
        """Fold sessions of which each goes on where the one before was cut off; most often one.

        Args:
            files: The sessions.
            is_first: True where nothing came before them.

        Raises:
            LooseError: the first one goes on from the one before it, or its beginning cannot be
                taken: fold it again together with that one, because an undo may reach into it.
        """
        first = files[0].header
        session = first.session if first is not None else ""
        if not is_first and first is not None and first.continues == self.state.session != "":
            raise LooseError
        self._have(dict.fromkeys(o for file in files for o in orders_named(file)))
        folded = [self._one(file) for file in files]
        begun = any(record.id == session for record in folded[0].records)
        if not begun and not is_first:
            raise LooseError
        self.state = _small(self.state)
        return folded

    @property
    def astir(self) -> tuple[str, ...]:
        """Orders that are kept at hand between sessions."""
        return tuple(self.state.orders)

    @property
    def due_s(self) -> float | None:
        """When the first rest may pass by itself; None where none can."""
        return min(
            (
                piece.rest.started_s + piece.rest.needed_s
                for piece in self.state.pieces.values()
                if piece.place == RESTING and piece.rest is not None and _may_pass(piece)
            ),
            default=None,
        )

    def _have(self, orders: Iterable[str]) -> None:
        """Fetch orders that are not at hand."""
        known, pieces = dict(self.state.orders), dict(self.state.pieces)
        for order in orders:
            if order in known or (found := self._fetch(order)) is None:
                continue
            known[order] = found[0]
            pieces.update((piece.id, piece) for piece in found[1])
        self.state = replace(self.state, orders=known, pieces=pieces)

    def _one(self, file: SessionFile) -> SessionFolded:
        before = _by_order(self.state)
        were = {record.id: record for record in self.state.sessions}
        heats = _heats(self.state)
        states: list[State] = []
        for press in file.presses:
            self.state = applied(self.state, press)
            states.append(self.state)
        at_floor = file.header is not None and file.header.kind == "floor"
        after = _by_order(self.state)
        return SessionFolded(
            session=file.session,
            records=tuple(r for r in self.state.sessions if were.get(r.id) is not r),
            heats=max(0, _heats(self.state) - heats),
            worked_s=max(0.0, states[-1].moment.work_s - states[0].moment.work_s),
            orders={
                order: now for order, now in after.items() if not _same(before.get(order), now)
            },
            gone=tuple(order for order in before if order not in after),
            line=_line(states, file.session) if at_floor else None,
        )


def orders_named(file: SessionFile) -> Iterator[str]:
    """Every order that a session may say something of, by whatever field of whatever fact.

    A workpiece's id begins with its order's; a word that is no order's id does no harm.
    """
    for press in file.presses:
        for fact in press.facts:
            for field in fact.__struct_fields__:
                value = getattr(fact, field)
                if isinstance(value, str):
                    yield value.partition("/")[0]
                elif isinstance(value, tuple | dict):
                    yield from (v.partition("/")[0] for v in value if isinstance(v, str))


def _same(before: tuple[Order, Pieces] | None, now: tuple[Order, Pieces]) -> bool:
    return (
        before is not None
        and before[0] is now[0]
        and len(before[1]) == len(now[1])
        and all(a is b for a, b in zip(before[1], now[1], strict=True))
    )


def _by_order(state: State) -> dict[str, tuple[Order, Pieces]]:
    pieces: dict[str, list[Workpiece]] = {order: [] for order in state.orders}
    for piece in state.pieces.values():
        pieces[piece.order].append(piece)
    return {order: (state.orders[order], tuple(found)) for order, found in pieces.items()}


def _heats(state: State) -> int:
    return sum(piece.heats_all for piece in state.pieces.values())


def _small(state: State) -> State:
    """The state without what is at rest, and without what only an undo would ask for."""
    astir = {
        piece.order
        for piece in state.pieces.values()
        if _astir(piece)
        # It is of the next session's timeline still.
        or (piece.place == RESTING and state.orders[piece.order].closed is None)
    }
    return replace(  # type: ignore[no-any-return]
        state,
        orders={order: known for order, known in state.orders.items() if order in astir},
        pieces={i: piece for i, piece in state.pieces.items() if piece.order in astir},
        sessions=tuple(record for record in state.sessions if record.id == state.session),
        hot={},
        troubles=(),
        before=None,
        undone=(),
        made_of=(),
    )


def _astir(piece: Workpiece) -> bool:
    """Whether time, or work on another order, can change the piece."""
    return (
        piece.place in (FIRE, HAND)
        or (piece.place == RESTING and _may_pass(piece))
        or (piece.place == BENCH and piece.running)
    )


def _may_pass(piece: Workpiece) -> bool:
    """Whether its rest may pass by itself."""
    return piece.rest is not None and bool(piece.rest.step) and not piece.rest.waits


def of_the_session(line: Timeline, stands: State) -> Timeline:
    """The timeline without pieces of closed orders that only rested on from an earlier session."""
    stirred = {
        span.workpiece
        for span in line.spans
        if span.doing != "rest"
        or span.from_s > line.began_s
        or (piece := stands.pieces.get(span.workpiece)) is None
        or stands.orders[piece.order].closed is None
    }
    spans = tuple(span for span in line.spans if span.workpiece in stirred)
    return replace(line, spans=spans)  # type: ignore[no-any-return]


def _line(states: Sequence[State], session: str) -> Line:
    stands = states[-1]
    timeline = of_the_session(draw_timeline(states), stands)
    names: dict[str, Named] = {}
    steps: list[str] = []
    for span in timeline.spans:
        piece = stands.pieces.get(span.workpiece)
        if piece is None:
            steps.append("")
            continue
        known = steps_of(stands, piece)
        steps.append(known[span.step].id if span.step < len(known) else "")
        if piece.id not in names:
            names[piece.id] = Named(
                order=piece.order,
                slot=piece.slot,
                component_name=component_of(stands, piece).name,
                serial=piece.serial,
                remade_from=piece.remade_from,
            )
    record = next((s for s in stands.sessions if s.id == session), None)
    return Line(
        timeline=timeline,
        offset_min=record.offset if record is not None else 0,
        steps=tuple(steps),
        names=names,
    )
