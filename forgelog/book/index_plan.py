"""What has changed in the journal since the index was made, and what is to be folded again."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import msgspec

from forgelog.book.index_draft import Draft
from forgelog.book.index_records import FileKept, Mark
from forgelog.book.press_line import LONGEST_LINE, LineError, read_line
from forgelog.book.sessions import read_session, read_sessions, session_of
from forgelog.work.changes import replace
from forgelog.work.facts import Press, SessionBegan
from forgelog.work.fold import in_order
from forgelog.work.moments import Stamp

Found = dict[str, tuple[str, int, int]]
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
    # Paths as text: there are thousands of files, and few of them are opened.
    found: list[tuple[str, str, str, int, int]] = []
    with suppress(OSError):
        for year in os.listdir(folder):
            with suppress(OSError), os.scandir(folder / year) as entries:
                for entry in entries:
                    name = entry.name
                    if not name.endswith(".jsonl") or name.startswith("."):
                        continue
                    with suppress(OSError):
                        now = entry.stat()
                        key = (name.removesuffix(".jsonl"), f"{year}/{name}")
                        found.append((*key, entry.path, now.st_size, now.st_mtime_ns))
    return {name: (path, size, changed) for _, name, path, size, changed in sorted(found)}


def up_to_date(files: dict[str, FileKept], found: Found) -> bool:
    """Whether the index holds just these files, as they are."""
    return len(files) == len(found) and all(
        (kept := files.get(name)) is not None and (kept.size, kept.mtime_ns) == now[1:]
        for name, now in found.items()
    )


def plan_folding(draft: Draft, found: Found, folder: Path) -> Plan:
    """What is to be folded, and from which session on.

    Args:
        draft: The index.
        found: The files of the journal, as they are now.
        folder: The journal's.
    """
    changed = {
        name
        for name, now in found.items()
        if (kept := draft.files.get(name)) is None or (kept.size, kept.mtime_ns) != now[1:]
    }
    gone = draft.files.keys() - found.keys()
    session: dict[str, str] = {}
    first: dict[str, Press | None] = {}
    for name, (where, _, _) in found.items():
        if name in changed:
            path = Path(where)
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
        mark = _mark(of, alone, [Path(found[name][0]) for name in names])
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
            paths[of].append(Path(found[name][0]))
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
