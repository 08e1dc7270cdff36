"""Brings the index up to the journal: what is new or has changed is folded, from there on.

The work is done in batches, each written whole, so it can be broken off at any time and goes on
from the last batch. Where a file has grown, come late or gone, the index goes back to what stood
before its session and folds on from there; what it needs for that is kept densely for the last
sessions and thinly for the years before.
"""

from __future__ import annotations

import os
from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from time import monotonic

import msgspec
from msgspec import structs

from forgelog.book.index_draft import Draft, MovedError
from forgelog.book.index_fold import IndexFold, LooseError, Pieces, SessionFolded
from forgelog.book.index_records import (
    FileKept,
    Mark,
    OrderKept,
    SessionKept,
    Standing,
    Version,
)
from forgelog.book.index_rows import forget_rows, keep_rows
from forgelog.book.index_store import IndexStore
from forgelog.book.press_line import LONGEST_LINE, LineError, read_line
from forgelog.book.sessions import SessionFile, read_session, read_sessions, session_of
from forgelog.learn.row_making import session_rows
from forgelog.learn.rows import OrderRow
from forgelog.recipe.resolved import Recipe
from forgelog.work.changes import replace
from forgelog.work.facts import Press, SessionBegan
from forgelog.work.fold import in_order
from forgelog.work.moments import Stamp
from forgelog.work.state import Order, State

DENSE = 8
"""For so many of the last sessions, what stood before each is kept."""
THIN = 50
"""Before them, of so many sessions one."""
BATCH_S = 3.0
BATCH_SESSIONS = 200
"""A batch is written after so many seconds, or sessions."""

SESSION, STANDING, VERSION, RECIPE, LINE = "session", "standing", "version", "recipe", "line"

Report = Callable[[int, int], None]
"""Told after each session: how many are done, of how many."""
Found = dict[str, tuple[Path, int, int]]
"""The files of the journal: by "YEAR/NAME", the path, its size, and when it was changed (ns)."""


class _Begun(msgspec.Struct, frozen=True, kw_only=True):
    """A session as `in_order` wants it."""

    header: SessionBegan | None
    presses: tuple[Press, ...]


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """What is to be done."""

    folder: Path
    """Of the journal."""
    marks: tuple[Mark, ...]
    """All sessions, in the order in which they are folded."""
    sound: int
    """So many of them are in the index as they are."""
    paths: dict[str, list[Path]]
    """Files of each session that is to be folded."""
    files: dict[str, FileKept]
    """All files of the journal, as they are now."""


def find_files(book: Path) -> Found:
    """The files of the book's journal, with what tells that one has changed."""
    folder = book / "journal"
    found: list[tuple[str, str, Path, int, int]] = []
    with suppress(OSError):
        for year in os.listdir(folder):
            with suppress(OSError), os.scandir(folder / year) as entries:
                for entry in entries:
                    name = entry.name
                    if not name.endswith(".jsonl") or name.startswith("."):
                        continue
                    with suppress(OSError):
                        now = entry.stat()
                        path = folder / year / name
                        key = (name.removesuffix(".jsonl"), f"{year}/{name}")
                        found.append((*key, path, now.st_size, now.st_mtime_ns))
    return {name: (path, size, changed) for _, name, path, size, changed in sorted(found)}


def up_to_date(files: dict[str, FileKept], found: Found) -> bool:
    """Whether the index holds just these files, as they are."""
    return len(files) == len(found) and all(
        (kept := files.get(name)) is not None and (kept.size, kept.mtime_ns) == now[1:]
        for name, now in found.items()
    )


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
            plan = _plan(draft, found, book / "journal")
            return _Catching(draft, plan, report, stop).run()
        except MovedError:
            continue


def _plan(draft: Draft, found: Found, folder: Path) -> Plan:
    changed = {
        name
        for name, now in found.items()
        if (kept := draft.files.get(name)) is None or (kept.size, kept.mtime_ns) != now[1:]
    }
    gone = draft.files.keys() - found.keys()
    session: dict[str, str] = {}
    first: dict[str, Press | None] = {}
    for name, (path, _, _) in found.items():
        if name in changed:
            first[name] = _first_press(path)
            header = _header(first[name]) or read_session(path).header
            session[name] = header.session if header else session_of(path)
        else:
            session[name] = draft.files[name].session
    touched = {session[name] for name in changed}
    touched |= {draft.files[name].session for name in (changed | gone) & draft.files.keys()}
    files: dict[str, list[str]] = {}
    for name, of in session.items():
        if of in touched:
            files.setdefault(of, []).append(name)
    marks = {mark.session: mark for mark in draft.marks if mark.session not in touched}
    for of, names in files.items():
        alone = first.get(names[0]) if len(names) == 1 else None
        mark = _mark(of, alone, [found[name][0] for name in names])
        if mark is not None:
            marks[of] = mark
    ordered = _ordered(marks)
    sound = 0
    for old, new in zip(draft.marks, ordered, strict=False):
        if old.session != new.session or new.session in touched:
            break
        sound += 1
    again = {mark.session for mark in ordered[sound:]}
    paths: dict[str, list[Path]] = {of: [] for of in again}
    for name, of in session.items():
        if of in again:
            paths[of].append(found[name][0])
    return Plan(
        folder=folder,
        marks=tuple(ordered),
        sound=sound,
        paths=paths,
        files={
            name: FileKept(size=size, mtime_ns=when, session=session[name])
            for name, (_, size, when) in found.items()
        },
    )


def _first_press(path: Path) -> Press | None:
    try:
        with path.open("rb") as file:
            return read_line(file.readline(LONGEST_LINE))
    except (OSError, LineError):
        return None


def _header(press: Press | None) -> SessionBegan | None:
    if press is None or press.seq != 0 or not press.facts:
        return None
    first = press.facts[0]
    return first if isinstance(first, SessionBegan) else None


def _mark(session: str, alone: Press | None, paths: Sequence[Path]) -> Mark | None:
    """The mark of a session; None where nothing of it can be read.

    Args:
        session: Its id.
        alone: The first press of its only file, where that can be read.
        paths: All its files.
    """
    header = _header(alone)
    if alone is None or header is None:
        read = next((f for f in read_sessions(paths) if f.session == session), None)
        if read is None or read.header is None or not read.presses:
            return None
        alone, header = read.presses[0], read.header
    return Mark(session=session, wall_s=alone.at.wall, header=header)


def _ordered(marks: dict[str, Mark]) -> list[Mark]:
    nothing = Stamp(wall=0.0, steady=0.0, awake=0.0)
    begun = [
        _Begun(
            header=mark.header,
            presses=(Press(seq=0, at=replace(nothing, wall=mark.wall_s), facts=()),),
        )
        for mark in marks.values()
    ]
    return [marks[one.header.session] for one in in_order(begun) if one.header is not None]


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
            draft.drop(VERSION, _version_name(order, version))
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
            self.draft.drop(VERSION, _version_name(order, version))
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
        draft.put(VERSION, _version_name(order.id, place), version)
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
        self._thin(self.at_hand)
        draft.tip = replace(draft.tip, practised=tuple(sorted(practised)))
        draft.write()
        self.at_hand, self.recipes, self.hashes = {}, {}, {}

    def _thin(self, orders: Iterable[str]) -> None:
        """Forget what stood before most of the sessions of long ago."""
        draft = self.draft
        dense = len(draft.marks) - DENSE
        stands: list[int] = []
        for stand in draft.tip.stands:
            if stand >= dense or not stands or stand // THIN > stands[-1] // THIN:
                stands.append(stand)
            else:
                draft.drop(STANDING, str(stand))
        draft.tip = replace(draft.tip, stands=tuple(stands))
        for order in orders:
            kept = draft.orders[order]
            wanted = {kept.versions[-1]}
            for stand in stands:
                before = bisect_left(kept.versions, stand)
                if before:
                    wanted.add(kept.versions[before - 1])
            for version in kept.versions:
                if version not in wanted:
                    draft.drop(VERSION, _version_name(order, version))
            draft.orders[order] = replace(kept, versions=tuple(sorted(wanted)))


def version_of(
    draft: Draft, order: str, recipe: Callable[[str], Recipe] | None = None
) -> tuple[Order, Pieces]:
    """An order with its pieces as it stands now.

    Args:
        draft: The index.
        order: Its id; it must be in the index.
        recipe: Gives the recipe of a hash; None reads it.
    """
    version = draft.need(VERSION, _version_name(order, draft.orders[order].versions[-1]), Version)
    read = recipe or (lambda pin: draft.need(RECIPE, pin, Recipe))
    return replace(version.order, pins=tuple(map(read, version.pins))), version.pieces


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


def _version_name(order: str, place: int) -> str:
    return f"{order}@{place}"


def _nothing(mark: Mark) -> SessionFile:
    """A session whose files vanished after they were looked for."""
    press = Press(seq=0, at=Stamp(wall=mark.wall_s, steady=0.0, awake=0.0), facts=(mark.header,))
    return SessionFile(session=mark.session, header=mark.header, presses=(press,))
