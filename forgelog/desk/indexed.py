"""The index of a shop's book, caught up and asked: where review and learning get their rows from.

It lies in the cache folder and holds nothing that the journal does not. Whatever is wrong with it
(gone, damaged, of another version, locked by another program, on a disk that takes nothing) is
mended by making it again, in a file or for this once in memory; the answer is the same.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from time import monotonic
from typing import TypeVar

import msgspec

from forgelog.book.folders import cache_folder
from forgelog.book.index_catching_up import Report, catch_up
from forgelog.book.index_draft import Draft
from forgelog.book.index_piles import ROWS, TAIL, newest_rows, tail_name
from forgelog.book.index_records import (
    KeyName,
    Line,
    Mishaps,
    OrderKept,
    SessionKept,
    Standing,
    Sum,
    Tail,
)
from forgelog.book.index_rows import keep_rows
from forgelog.book.index_store import (
    IndexDamagedError,
    IndexShutError,
    IndexStore,
    open_store,
    throw_away,
)
from forgelog.book.index_versions import LINE, RECIPE, SESSION, STANDING, version_of
from forgelog.desk.index_fingerprints import fingerprint, fingerprint_of_telling
from forgelog.desk.shop import Shop
from forgelog.learn.rows import OrderRow, Rows, SessionRow, StepRow
from forgelog.learn.rule import Pile
from forgelog.recipe.resolved import Recipe
from forgelog.work.apply import now, settle
from forgelog.work.changes import replace
from forgelog.work.moments import Stamp
from forgelog.work.state import Order, SessionRecord, State, Workpiece

T = TypeVar("T")


class _Told(msgspec.Struct, frozen=True, kw_only=True):
    """Something that was worked out from the index, and from which state of it."""

    batch: int
    passed: int
    told_by: str
    body: bytes


class NotYetError(Exception):
    """The index is not caught up, and there was no patience to wait for it."""


def ask_index(
    shop: Shop,
    ask: Callable[[Index], T],
    *,
    at: Stamp | None = None,
    report: Report | None = None,
    patience_s: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> T:
    """Catch the index up with the journal, and ask it something.

    Args:
        shop: The book.
        ask: Asks; what it returns must not go back to the index. It may be asked twice.
        at: The moment of asking: rests that pass by themselves are passed until then. None leaves
            the moment of the last press.
        report: Told of the progress: sessions done, of how many.
        patience_s: Longer than this it does not go on catching up; what it has done stays done.
            None waits as long as it takes.
        stop: Asked after each session whether to break off; what is done stays done.

    Raises:
        NotYetError: patience ran out, or it was broken off.
    """
    began = monotonic()
    if patience_s is not None:
        stop = lambda: monotonic() - began > patience_s  # noqa: E731
    path = index_path(shop.book)
    for _ in range(2):
        try:
            return _asked(open_store(path, fingerprint()), shop, ask, at, report, stop)
        except IndexDamagedError:
            try:
                throw_away(path)
            except IndexShutError:
                break
        except IndexShutError:
            break
    return _asked(_for_once(path), shop, ask, at, report, stop)


def caught_up(shop: Shop, report: Report | None = None) -> None:
    """Catch the index up before it is asked, where that can be shown better than later.

    Args:
        shop: The book.
        report: Told of the progress.
    """
    ask_index(shop, lambda index: None, report=report)


def _for_once(path: Path) -> IndexStore:
    """The index in memory, as far as the file can still be read."""
    try:
        file = open_store(path, fingerprint())
    except (IndexDamagedError, IndexShutError):
        return open_store(None, fingerprint())
    try:
        return file.in_memory()
    except (IndexDamagedError, IndexShutError):
        return open_store(None, fingerprint())
    finally:
        file.close()


def _asked(
    store: IndexStore,
    shop: Shop,
    ask: Callable[[Index], T],
    at: Stamp | None,
    report: Report | None,
    stop: Callable[[], bool] | None,
) -> T:
    try:
        if not catch_up(store, shop.book, report, stop):
            raise NotYetError
        return ask(Index(store, at))
    finally:
        store.close()


def index_path(book: Path) -> Path:
    """Where the index of a book lies."""
    name = str(book.resolve()).encode("utf-8", "surrogateescape")
    return cache_folder() / f"index-{hashlib.sha256(name).hexdigest()[:16]}.sqlite"


class Index:
    """What the index knows, at a moment."""

    def __init__(self, store: IndexStore, at: Stamp | None) -> None:
        self._store = store
        self._draft = Draft(store)
        """Never written: what time alone has changed since the last press lies on top."""
        self.passed = 0
        """Rests that have passed by themselves since the last press."""
        self._settle(at)

    @cached_property
    def orders(self) -> dict[str, OrderRow]:
        """Every order of the book, by id."""
        return {order: kept.row for order, kept in self._draft.orders.items()}

    @cached_property
    def practice(self) -> bool:
        """Whether there was nothing but practice at the fire: then practice is what is told of."""
        return bool(self.floors) and all(session.practice for session in self.floors)

    @property
    def kept_orders(self) -> dict[str, OrderKept]:
        """The same, with what their rows add up to."""
        return self._draft.orders

    @cached_property
    def floors(self) -> tuple[SessionRow, ...]:
        """Every session at the fire, oldest first."""
        return tuple(sorted(self._draft.floors.values(), key=lambda s: (s.began_s, s.session)))

    @property
    def sums(self) -> dict[KeyName, Sum]:
        """Every step that was ever done, added up."""
        return self._draft.sums

    def rows(self, orders: Iterable[str]) -> Rows:
        """The rows of some orders."""
        found = [self._draft.need(ROWS, o, Rows) for o in orders if o in self._draft.orders]
        if len(found) == 1:
            return found[0]
        return Rows(
            orders=tuple(r for rows in found for r in rows.orders),
            steps=_sorted((r for rows in found for r in rows.steps), "ended_s"),
            rests=_sorted((r for rows in found for r in rows.rests), "started_s"),
            spoilt=_sorted((r for rows in found for r in rows.spoilt), "at_s"),
            gauges=_sorted((r for rows in found for r in rows.gauges), "at_s"),
        )

    def tail(self, key: KeyName) -> tuple[StepRow, ...]:
        """The newest rows of a step, oldest first."""
        return self._draft.need(TAIL, tail_name(key), Tail).rows

    def newest(
        self, key: KeyName, count: int, *, upto_s: float | None = None, without: str = ""
    ) -> list[StepRow]:
        """At least so many of the newest rows of a step that teach, or all; oldest first.

        Args:
            key: The step.
            count: How many, without those that nothing is learnt from.
            upto_s: Only those that ended until then.
            without: Rows of this session are not counted.
        """

        def counts(row: StepRow) -> bool:
            return _teaches(row) and row.session != without

        return newest_rows(self._draft, key, count, counts, upto_s)

    @property
    def heats(self) -> dict[KeyName, Pile]:
        """What is learnt from of heats, by step."""
        return self._draft.heats

    @property
    def hand(self) -> dict[KeyName, Pile]:
        """What is learnt from of the time in hand, by step."""
        return self._draft.hand

    @property
    def bench(self) -> dict[KeyName, Pile]:
        """What is learnt from of the time at the bench, by step, whatever the method."""
        return self._draft.bench

    @property
    def mishaps(self) -> dict[str, Mishaps]:
        """What went wrong with pieces, by order."""
        return self._draft.mishaps

    def keys_of(self, session: str) -> set[KeyName]:
        """The steps that were done in a session."""
        steps = self.rows(self.orders_of(session)).steps
        return {(row.practice, *row.key) for row in steps if row.session == session}

    @property
    def batch(self) -> int:
        """Which state of the index it is; any change of the journal makes another one."""
        return self._draft.tip.batches

    def once(self, kind: str, name: str, form: type[T], work_out: Callable[[], T]) -> T:
        """Work something out from the index, once for each state of it.

        Args:
            kind: What it is.
            name: Of what: all that it hangs on beside the journal and the moment.
            form: Its type.
            work_out: Makes it.
        """
        kept = self._kept(kind, name)
        if kept is not None:
            return self._store.decoded(kept.body, form)
        found = work_out()
        told = _Told(
            batch=self.batch,
            passed=self.passed,
            told_by=fingerprint_of_telling(),
            body=msgspec.msgpack.encode(found),
        )
        with suppress(IndexShutError), self._store.batch():
            self._store.put(kind, name, told)
        return found

    def order(self, order: str) -> tuple[Order, tuple[Workpiece, ...]] | None:
        """An order with its pieces as the last press has left it; None where there is none."""
        return version_of(self._draft, order) if order in self._draft.orders else None

    def worked_from(self, recipe: str) -> list[str]:
        """Ids of the orders that have worked from a recipe, in the order of their taking."""
        mine = [o for o in self._draft.orders.values() if any(i == recipe for i, _ in o.pins)]
        return [o.row.order for o in sorted(mine, key=lambda o: (o.row.taken_s, o.row.order))]

    def revisions(self, recipe: str) -> list[Recipe]:
        """The recipe of an id as each order that worked from it has had it; the newest last."""
        pins = [
            pin
            for order in self.worked_from(recipe)
            for known, pin in self._draft.orders[order].pins
            if known == recipe
        ]
        read = {pin: self.recipe(pin) for pin in dict.fromkeys(pins)}
        return [read[pin] for pin in pins]

    def records(self, order: str) -> Iterator[SessionRecord]:
        """The sessions at the fire that have named an order, oldest first."""
        for row in self.floors:
            if order in row.orders:
                kept = self._draft.get(SESSION, row.session, SessionKept)
                if kept is not None and kept.record is not None:
                    yield kept.record

    def has(self, kind: str, name: str) -> bool:
        """Whether that was worked out already for this state of the index."""
        return self._kept(kind, name) is not None

    def _kept(self, kind: str, name: str) -> _Told | None:
        kept = self._store.get(kind, name, _Told)
        state = (self.batch, self.passed, fingerprint_of_telling())
        found = kept is not None and (kept.batch, kept.passed, kept.told_by) == state
        return kept if found else None

    def line(self, session: str) -> Line | None:
        """The timeline of a session at the fire."""
        return self._draft.get(LINE, session, Line)

    def orders_of(self, session: str) -> tuple[str, ...]:
        """Ids of the orders that a session has changed."""
        kept = self._draft.get(SESSION, session, SessionKept)
        return kept.orders if kept is not None else ()

    def recipes(self) -> dict[str, str]:
        """Hash of the recipe of each id that was pinned last; for `recipe`."""
        newest = sorted(self._draft.orders.values(), key=lambda o: (o.row.taken_s, o.row.order))
        return {recipe: pin for kept in newest for recipe, pin in kept.pins}

    def recipe(self, pin: str) -> Recipe:
        """A recipe by its hash."""
        return self._draft.need(RECIPE, pin, Recipe)

    @cached_property
    def stands(self) -> State:
        """What stands after the last press, without orders and pieces."""
        folded = self._draft.tip.folded
        return self._draft.need(STANDING, str(folded), Standing).state if folded else State()

    def _settle(self, at: Stamp | None) -> None:
        """Pass the rests that have passed by themselves since the last press."""
        draft = self._draft
        if at is None or not draft.tip.folded:
            return
        standing = draft.need(STANDING, str(draft.tip.folded), Standing)
        if standing.state.stamp is None:
            return
        moment = now(standing.state, at)
        if standing.due_s is None or standing.due_s > moment.rest_s:
            return
        stands = {order: version_of(draft, order) for order in standing.astir}
        before = replace(
            standing.state,
            orders={order: known for order, (known, _) in stands.items()},
            pieces={piece.id: piece for _, pieces in stands.values() for piece in pieces},
        )
        after = settle(before, moment)
        moved: set[str] = set()
        for piece in after.pieces.values():
            if more := len(piece.rests) - len(before.pieces[piece.id].rests):
                moved.add(piece.order)
                self.passed += more
        practised = frozenset(draft.tip.practised)
        for order in moved:
            pieces = [piece for piece in after.pieces.values() if piece.order == order]
            keep_rows(draft, after.orders[order], pieces, practised)


def _teaches(row: StepRow) -> bool:
    """Whether heats or minutes are learnt from the row."""
    if row.scrapped or row.again or row.lot:
        return False
    if row.forged:
        return bool(row.heats and row.planned)
    return row.work_s > 0.0 and bool(row.minutes_s)


def _sorted(rows: Iterable[T], moment: str) -> tuple[T, ...]:
    def place(row: T) -> tuple[object, ...]:
        return tuple(getattr(row, name) for name in (moment, "order", "serial", "nth"))

    return tuple(sorted(rows, key=place))
