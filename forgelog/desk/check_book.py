"""Looks a whole book over: what is broken, what is there twice, whose clock is off, what to do.

A list of small checks, each looking at the book by itself. Nothing is changed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from functools import cached_property
from itertools import pairwise
from pathlib import Path

import msgspec

from forgelog.book.sessions import (
    SessionFile,
    SetAside,
    journal_files,
    read_sessions,
    session_of,
)
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless, listed
from forgelog.units import show_time
from forgelog.work.facts import OrderTaken, RecipePinned
from forgelog.work.fold import fold
from forgelog.work.moments import AGREE_S, advance, start
from forgelog.work.only import orders_in

DAMAGED, TWICE, MISSING, CLOCK, CONTRADICTION, SETTINGS, RECIPE = KINDS = (
    "damaged",
    "twice",
    "missing",
    "clock",
    "contradiction",
    "settings",
    "recipe",
)

AHEAD_S = 300.0
"""A clock that is less ahead of this machine's is let be."""
A_FILE = 5
"""So many faults of one file are told one by one."""


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that is not as it should be."""

    kind: str
    """One of KINDS."""
    words: str
    """What it is: one sentence, with the file where there is one."""
    do: str
    """What to do about it."""


class BookLooked(msgspec.Struct, frozen=True, kw_only=True):
    """A book, looked over."""

    sessions: int
    presses: int
    orders: int
    devices: tuple[str, ...]
    findings: tuple[Finding, ...]


def look_over(shop: Shop, clock: Clock | None = None) -> BookLooked:
    """Look the book over.

    Args:
        shop: The book, opened just now.
        clock: Of this machine where None.
    """
    book = _Book(shop, (clock or RealClock()).stamp().wall)
    return BookLooked(
        sessions=len(book.files),
        presses=sum(len(file.presses) for file in book.files),
        orders=len(book.taken),
        devices=tuple(sorted({f.header.device for f in book.files if f.header})),
        findings=tuple(found for check in CHECKS for found in check(book)),
    )


class _Book:
    """The journal as it lies there, read once for all checks."""

    def __init__(self, shop: Shop, now_s: float) -> None:
        self.shop = shop
        self.now_s = now_s
        self.paths = journal_files(shop.book)

    @cached_property
    def files(self) -> list[SessionFile]:
        return read_sessions(self.paths)

    @cached_property
    def taken(self) -> frozenset[str]:
        """Orders that the journal has taken."""
        return frozenset(
            fact.order
            for file in self.files
            for press in file.presses
            for fact in press.facts
            if isinstance(fact, OrderTaken)
        )

    def name(self, path: Path) -> str:
        return harmless("/".join(path.parts[-3:]))


def _damaged(book: _Book) -> Iterator[Finding]:
    """Lines and files that could not be taken as they stand."""
    by_file: dict[str, list[SetAside]] = {}
    for file in book.files:
        for aside in file.set_aside:
            by_file.setdefault(aside.file, []).append(aside)
    for name, asides in by_file.items():
        do = "the lines after it were read; if another copy of the file is whole, copy it here"
        for aside in asides[:A_FILE]:
            yield Finding(kind=DAMAGED, words=harmless(aside.words), do=do)
        if len(asides) > A_FILE:
            words = f"{harmless(name)}: {len(asides) - A_FILE} more lines are damaged"
            yield Finding(kind=DAMAGED, words=words, do=do)


def _twice(book: _Book) -> Iterator[Finding]:
    """Files that hold the same session: copies that a file-sync tool or a person has made."""
    by_session: dict[str, list[Path]] = {}
    for path in book.paths:
        by_session.setdefault(_session_within(book, path), []).append(path)
    for session, of_it in by_session.items():
        if len(of_it) == 1:
            continue
        prints = {p: hashlib.sha256(_bytes(p)).digest() for p in of_it}
        plain = [p for p in of_it if _is_plain(p)]
        for path in of_it:
            if path in plain:
                continue
            like = next((p for p in plain if prints[p] == prints[path]), None)
            if like is not None:
                words = f"{book.name(path)} is a copy of {book.name(like)}"
                yield Finding(kind=TWICE, words=words, do="it counts once; the copy may be deleted")
            else:
                words = f"{book.name(path)} holds session {harmless(session)} too, and differs"
                do = "both are read together and every press counts once; keep both files"
                yield Finding(kind=TWICE, words=words, do=do)


def _is_plain(path: Path) -> bool:
    """Whether forgelog itself names files so: SESSION.jsonl, SESSION+2.jsonl."""
    stem = path.name.removesuffix(".jsonl")
    session, plus, part = stem.partition("+")
    return " " not in session and "(" not in session and (not plus or part.isdecimal())


def _session_within(book: _Book, path: Path) -> str:
    header = book.shop.headers.get(path)
    return header.session if header is not None else session_of(path)


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _missing(book: _Book) -> Iterator[Finding]:
    """Files that others have seen, and orders whose beginning is not here."""
    known = {file.session: file for file in book.files}
    lost: dict[str, str] = {}
    behind: dict[str, str] = {}
    for file in book.files:
        for session, last in (file.header.seen if file.header else {}).items():
            if session not in known:
                lost.setdefault(session, file.session)
            elif known[session].presses and known[session].presses[-1].seq < last:
                behind.setdefault(session, file.session)
        if file.header and file.header.continues and file.header.continues not in known:
            lost.setdefault(file.header.continues, file.session)
    do = "copy the journal folder of the other laptop here again, over nothing"
    for session, by in sorted(lost.items()):
        words = f"session {harmless(session)} is not here, and {harmless(by)} has seen it"
        yield Finding(kind=MISSING, words=words, do=do)
    for session, by in sorted(behind.items()):
        words = f"session {harmless(session)} ends before what {harmless(by)} has seen of it"
        yield Finding(kind=MISSING, words=words, do=do)
    pinned = {
        fact.order
        for file in book.files
        for press in file.presses
        for fact in press.facts
        if isinstance(fact, RecipePinned)
    }
    worked: dict[str, str] = {}
    for file in book.files:
        if file.header and file.header.kind == "floor":
            for order in orders_in(file.presses):
                worked.setdefault(order, file.session)
    for order, session in sorted(worked.items()):
        lacks = [
            what
            for what, there in (("was taken", order in book.taken), ("began", order in pinned))
            if not there
        ]
        if lacks:
            words = (
                f"order {harmless(order)} is worked on in {harmless(session)}, but the file in "
                f"which it {' and '.join(lacks)} is not here"
            )
            yield Finding(kind=MISSING, words=words, do=do)


def _clocks(book: _Book) -> Iterator[Finding]:
    """Clocks that were set, that run ahead, or that disagree between two laptops."""
    known = {file.session: file for file in book.files}
    for file in book.files:
        if not file.presses or file.header is None:
            continue
        name, device = harmless(file.session), harmless(file.header.device)
        first, last = file.presses[0].at.wall, file.presses[-1].at.wall
        if not file.header.practice and last > book.now_s + AHEAD_S:
            words = f"session {name} is dated {_day(last)}, which is still to come"
            do = f"look at the clock of {device}, and at the one of this laptop"
            yield Finding(kind=CLOCK, words=words, do=do)
        for session, seq in file.header.seen.items():
            if (other := known.get(session)) is None or not other.presses:
                continue
            seen = max((p.at.wall for p in other.presses if p.seq <= seq), default=first)
            if seen > first + AGREE_S:
                words = (
                    f"session {name} begins {show_time(seen - first)} before what it has seen "
                    f"of {harmless(session)}"
                )
                do = (
                    f"the clocks of {device} and {_device(other)} disagree; set both. The order "
                    "of what happened is kept by what each has seen"
                )
                yield Finding(kind=CLOCK, words=words, do=do)
        if jumps := _jumps(file):
            count = "once" if jumps == 1 else f"{jumps} times"
            words = f"the clock was set {count} during session {name}"
            do = "nothing: times were counted by the steady clock; rests over it are marked"
            yield Finding(kind=CLOCK, words=words, do=do)


def _jumps(file: SessionFile) -> int:
    moment = start(file.presses[0].at)
    found = 0
    for before, after in pairwise(file.presses):
        moment = advance(moment, before.at, after.at, paused=False)
        found += moment.mark == "clock set"
    return found


def _device(file: SessionFile) -> str:
    return harmless(file.header.device) if file.header else "the other laptop"


def _day(at_s: float) -> str:
    try:
        return datetime.fromtimestamp(at_s, UTC).date().isoformat()
    except (ValueError, OverflowError, OSError):
        return "far off"


def _contradictions(book: _Book) -> Iterator[Finding]:
    """Presses that cannot both have happened."""
    for trouble in fold(book.files).troubles:
        words = f"session {harmless(trouble.session)}, press {trouble.seq}: {trouble.words}"
        do = "that press is passed over; put right what it should have said in the review"
        yield Finding(kind=CONTRADICTION, words=harmless(words), do=do)


def _settings(book: _Book) -> Iterator[Finding]:
    """Faults of the files that the smith writes."""
    for problem in book.shop.settings.problems:
        words, _, _ = problem.text.partition("\n")
        yield Finding(kind=SETTINGS, words=words, do="put it right in any text editor")


def _recipes(book: _Book) -> Iterator[Finding]:
    """Recipes with errors, and two of one id."""
    by_id: dict[str, list[str]] = {}
    for file in book.shop.recipes:
        name = harmless(file.path.name)
        errors = sum(p.severity == "error" for p in file.problems)
        if errors:
            words = f"recipes/{name} has {errors} error{'' if errors == 1 else 's'}"
            yield Finding(kind=RECIPE, words=words, do=f"forgelog check recipes/{name} tells them")
        if file.recipe is not None:
            by_id.setdefault(file.recipe.id, []).append(name)
    for recipe, names in sorted(by_id.items()):
        if len(names) > 1:
            words = f"{listed(names, 'and')} are both {recipe}"
            do = "give one of them another id; orders take the first"
            yield Finding(kind=TWICE, words=words, do=do)


CHECKS: tuple[Callable[[_Book], Iterator[Finding]], ...] = (
    _damaged,
    _missing,
    _contradictions,
    _twice,
    _clocks,
    _settings,
    _recipes,
)
"""What may lose work first."""
