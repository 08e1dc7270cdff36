"""Brings the index up to the journal: what is new or has changed is folded, from there on.

The work is done in batches, each written whole, so it can be broken off at any time and goes on
from the last batch. Where a file has grown, come late or gone, the index goes back to what stood
before its session and folds on from there; what it needs for that is kept densely for the last
sessions and thinly for the years before.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from time import monotonic

import msgspec
from msgspec import structs

from forgelog.book.index_draft import Draft, MovedError
from forgelog.book.index_fold import IndexFold, LooseError, Pieces, SessionFolded
from forgelog.book.index_plan import Plan, find_files, plan_folding, up_to_date
from forgelog.book.index_records import FileKept, Mark, OrderKept, SessionKept, Standing, Version
from forgelog.book.index_rows import forget_rows, keep_rows
from forgelog.book.index_store import IndexStore
from forgelog.book.index_thinning import thin_out
from forgelog.book.index_versions import (
    LINE,
    RECIPE,
    SESSION,
    STANDING,
    VERSION,
    version_name,
    version_of,
)
from forgelog.book.sessions import SessionFile, read_sessions
from forgelog.learn.row_making import session_rows
from forgelog.learn.rows import OrderRow
from forgelog.recipe.resolved import Recipe
from forgelog.work.changes import replace
from forgelog.work.facts import Press
from forgelog.work.moments import Stamp
from forgelog.work.state import Order, State

BATCH_S = 3.0
BATCH_SESSIONS = 200
"""A batch is written after so many seconds, or sessions."""

Report = Callable[[int, int], None]
"""Told after each session: how many are done, of how many."""


def catch_up(
    store: IndexStore,
    book: Path,
    report: Report | None = None,
    stop: Callable[[], bool] | None = None,
) -> bool:
    """Fold what the index does not hold yet.

    Args:
        store: The index.
        book: The book's folder.
        report: Told of the progress.
        stop: Asked after each session whether to break off.

    Returns:
        True when the index holds the whole journal, as it was when this began.

    Raises:
        IndexDamagedError: the index is not to be trusted.
        IndexShutError: it does not take what is to be written.
    """
    while True:
        draft = Draft(store)
        found = find_files(book)
        if up_to_date(draft.files, found):
            return True
        try:
            plan = plan_folding(draft, found, book / "journal")
            return _Catching(draft, plan, report, stop).run()
        except MovedError:
            continue


class _Catching:
    """One run of catching up."""

    def __init__(
        self,
        draft: Draft,
        plan: Plan,
        report: Report | None,
        stop: Callable[[], bool] | None,
    ) -> None:
        self.draft = draft
        self.plan = plan
        self.report = report
        self.stop = stop
        self.recipes: dict[str, Recipe] = {}
        self.hashes: dict[int, tuple[Recipe, str]] = {}
        self.at_hand: dict[str, tuple[Order, Pieces]] = {}
        """Orders that were changed since the last batch."""
        self.practised = set(draft.tip.practised)
        self.of_session: dict[str, list[tuple[str, FileKept]]] = {}
        for name, kept in plan.files.items():
            self.of_session.setdefault(kept.session, []).append((name, kept))

    def run(self) -> bool:
        """Fold what is to be folded. Returns whether all is done."""
        draft, marks = self.draft, self.plan.marks
        place = self._back_to(self.plan.sound)
        fold = self._fold_from(place)
        since, done = monotonic(), 0
        together = 0
        """Sessions before this place belong to the one unit that is folded next."""
        while place < len(marks):
            upto = max(self._unit(place), together)
            try:
                folded = fold.fold(self._read(place, upto), is_first=place == 0)
            except LooseError:
                together = upto
                place = self._back_to(place - 1)
                fold = self._fold_from(place)
                continue
            for number, one in enumerate(folded):
                self._take(place + number, one)
            place = upto
            self._stand(place, fold)
            done += len(folded)
            if self.report is not None:
                self.report(place, len(marks))
            stopped = self.stop is not None and self.stop()
            if stopped or monotonic() - since > BATCH_S or done >= BATCH_SESSIONS:
                self._write()
                since, done = monotonic(), 0
            if stopped:
                return False
        known = {mark.session for mark in marks}
        draft.files.update(
            (name, kept) for name, kept in self.plan.files.items() if kept.session not in known
        )
        for name in draft.files.keys() - self.plan.files.keys():
            del draft.files[name]
        self._write()
        return True

    def _unit(self, place: int) -> int:
        """The place after the sessions that go on from this one without a break."""
        marks = self.plan.marks
        place += 1
        while place < len(marks) and marks[place].header.continues == marks[place - 1].session:
            place += 1
        return place

    def _read(self, place: int, upto: int) -> list[SessionFile]:
        files: list[SessionFile] = []
        for mark in self.plan.marks[place:upto]:
            paths = self.plan.paths.get(mark.session) or self._paths_of(mark.session)
            read = [f for f in read_sessions(paths) if f.session == mark.session and f.presses]
            files.extend(read[:1] or [_nothing(mark)])
        return files

    def _paths_of(self, session: str) -> list[Path]:
        names = [name for name, _ in self.of_session.get(session, [])]
        return [self.plan.folder / name for name in names]

    def _back_to(self, place: int) -> int:
        """Forget all from some session on; returns from where it can be folded again."""
        draft = self.draft
        stands = [stand for stand in draft.tip.stands if stand <= max(0, place)]
        place = stands[-1] if stands else 0
        for stand in draft.tip.stands:
            if stand > place:
                draft.drop(STANDING, str(stand))
        draft.tip = replace(draft.tip, stands=tuple(stands))
        for mark in draft.marks[place:]:
            draft.drop(SESSION, mark.session)
            draft.drop(LINE, mark.session)
            draft.floors.pop(mark.session, None)
            self.practised.discard(mark.session)
        gone = {mark.session for mark in draft.marks[place:]}
        draft.files = {n: kept for n, kept in draft.files.items() if kept.session not in gone}
        draft.marks = draft.marks[:place]
        for order, kept in list(draft.orders.items()):
            if kept.versions[-1] >= place:
                self._order_back_to(order, kept, place)
        return place

    def _order_back_to(self, order: str, kept: OrderKept, place: int) -> None:
        draft = self.draft
        left = kept.versions[: bisect_left(kept.versions, place)]
        if not left:
            self._forget(order)
            return
        for version in kept.versions[len(left) :]:
            draft.drop(VERSION, version_name(order, version))
        draft.orders[order] = replace(kept, versions=left)
        self.at_hand[order] = self._version(order)

    def _fold_from(self, place: int) -> IndexFold:
        if place == 0:
            return IndexFold(State(), self._fetch)
        standing = self.draft.need(STANDING, str(place), Standing)
        for record in standing.state.sessions:
            kept = self.draft.get(SESSION, record.id, SessionKept) or SessionKept()
            self._keep_session(record.id, structs.replace(kept, record=record))
        found = {order: self._version(order) for order in standing.astir}
        state = replace(
            standing.state,
            orders={order: known for order, (known, _) in found.items()},
            pieces={piece.id: piece for _, pieces in found.values() for piece in pieces},
        )
        return IndexFold(state, self._fetch)

    def _fetch(self, order: str) -> tuple[Order, Pieces] | None:
        if order in self.at_hand:
            return self.at_hand[order]
        return self._version(order) if order in self.draft.orders else None

    def _version(self, order: str) -> tuple[Order, Pieces]:
        return version_of(self.draft, order, self._recipe)

    def _recipe(self, pin: str) -> Recipe:
        if pin not in self.recipes:
            self.recipes[pin] = recipe = self.draft.need(RECIPE, pin, Recipe)
            self.hashes[id(recipe)] = (recipe, pin)
        return self.recipes[pin]

    def _take(self, place: int, folded: SessionFolded) -> None:
        """Take what a session has led to into the draft."""
        draft, session = self.draft, folded.session
        kept = SessionKept(
            heats=folded.heats, worked_s=folded.worked_s, orders=tuple(folded.orders)
        )
        self._keep_session(session, kept)
        for record in folded.records:
            kept = draft.get(SESSION, record.id, SessionKept) or SessionKept()
            self._keep_session(record.id, structs.replace(kept, record=record))
        if folded.line is not None:
            draft.put(LINE, session, folded.line)
        draft.marks.append(self.plan.marks[place])
        draft.files.update(self.of_session.get(session, []))
        for order, (known, pieces) in folded.orders.items():
            self._keep_version(place, known, pieces)
            self.at_hand[order] = (known, pieces)
        for order in folded.gone:
            self._forget(order)

    def _forget(self, order: str) -> None:
        """Forget an order that is there no more."""
        for version in self.draft.orders[order].versions:
            self.draft.drop(VERSION, version_name(order, version))
        forget_rows(self.draft, order)
        del self.draft.orders[order]
        self.at_hand.pop(order, None)

    def _keep_session(self, session: str, kept: SessionKept) -> None:
        self.draft.put(SESSION, session, kept)
        if kept.record is None:
            return
        if kept.record.kind == "floor":
            (row,) = session_rows((kept.record,), {session: kept.heats}, {session: kept.worked_s})
            self.draft.floors[session] = row
        if kept.record.practice > 0.0:
            self.practised.add(session)

    def _keep_version(self, place: int, order: Order, pieces: Pieces) -> None:
        draft = self.draft
        pins = tuple((pin.id, self._kept_recipe(pin)) for pin in order.pins)
        version = Version(
            order=replace(order, pins=()), pins=tuple(h for _, h in pins), pieces=pieces
        )
        draft.put(VERSION, version_name(order.id, place), version)
        was = draft.orders.get(order.id) or OrderKept(row=_NO_ORDER)
        draft.orders[order.id] = replace(was, pins=pins, versions=(*was.versions, place))

    def _kept_recipe(self, recipe: Recipe) -> str:
        known = self.hashes.get(id(recipe))
        if known is not None and known[0] is recipe:
            return known[1]
        pin = sha256(msgspec.msgpack.encode(recipe)).hexdigest()[:32]
        self.hashes[id(recipe)] = (recipe, pin)
        if pin not in self.recipes:
            self.recipes[pin] = recipe
            self.draft.put(RECIPE, pin, recipe)
        return pin

    def _stand(self, place: int, fold: IndexFold) -> None:
        """Keep what stands before the next session."""
        standing = Standing(
            state=replace(fold.state, orders={}, pieces={}), astir=fold.astir, due_s=fold.due_s
        )
        self.draft.put(STANDING, str(place), standing)
        tip = self.draft.tip
        self.draft.tip = replace(tip, stands=(*tip.stands, place))

    def _write(self) -> None:
        draft = self.draft
        practised = frozenset(self.practised)
        for known, pieces in self.at_hand.values():
            keep_rows(draft, known, pieces, practised)
        thin_out(draft, self.at_hand)
        draft.tip = replace(draft.tip, practised=tuple(sorted(practised)))
        draft.write()
        self.at_hand, self.recipes, self.hashes = {}, {}, {}


_NO_ORDER = OrderRow(
    order="",
    label="",
    title="",
    recipe="",
    recipes=(),
    count=0,
    taken_s=0.0,
    promised="",
    held=None,
    closed=None,
)
"""In the place of an order's row until its rows are kept, in the same batch."""


def _nothing(mark: Mark) -> SessionFile:
    """A session whose files vanished after they were looked for."""
    press = Press(seq=0, at=Stamp(wall=mark.wall_s, steady=0.0, awake=0.0), facts=(mark.header,))
    return SessionFile(session=mark.session, header=mark.header, presses=(press,))
