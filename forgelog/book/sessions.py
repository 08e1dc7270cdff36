"""The sessions of a book: read back whatever is whole, and say what is not.

One session is one file, `journal/YEAR/SESSION.jsonl`. Where the disk gave way under a file, the
same session goes on in `SESSION+2.jsonl`; a copy that a file-sync tool has made is read with it
too. A press that stands in several of them counts once.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import pairwise
from pathlib import Path

import msgspec

from forgelog.book.press_line import (
    LONGEST_LINE,
    LineError,
    excerpt,
    offset_of_first,
    presses_within,
    read_first,
    read_line,
)
from forgelog.work.facts import Press, SessionBegan

FORMAT = 1
"""The journal format that this version writes, and the newest that it knows."""


class SetAside(msgspec.Struct, frozen=True, kw_only=True):
    """A line that could not be taken as it stands; the lines after it were."""

    file: str
    """Path from the book's folder."""
    line: int
    """From 1; 0 where it is the file as a whole."""
    why: str
    text: str = ""
    """How the line begins."""

    @property
    def words(self) -> str:
        """One sentence for the smith."""
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {'the line ' if self.line else ''}{self.why}"


class SessionFile(msgspec.Struct, frozen=True, kw_only=True):
    """One session as the disk has it."""

    session: str
    """Its id; also the name of its file."""
    header: SessionBegan | None
    """None where nothing was read. Where the first line is lost, what the file's name says."""
    presses: tuple[Press, ...] = ()
    """In order of their numbers; the first one holds the header."""
    set_aside: tuple[SetAside, ...] = ()


def journal_files(book: Path) -> list[Path]:
    """The files of the book's journal, oldest first. A folder that cannot be read has none."""
    folder = book / "journal"
    found: list[tuple[str, str]] = []
    with suppress(OSError):
        for year in os.listdir(folder):
            with suppress(OSError):
                found.extend(
                    (name.removesuffix(".jsonl"), f"{year}/{name}")
                    for name in os.listdir(folder / year)
                    if name.endswith(".jsonl") and not name.startswith(".")
                )
    return [folder / path for _, path in sorted(found)]


def session_of(path: Path) -> str:
    """The session that a file is named by."""
    return path.name.removesuffix(".jsonl").partition("+")[0]


def first_line(path: Path) -> SessionBegan | None:
    """What the first line of a file says, or None where it cannot be read."""
    try:
        with path.open("rb") as file:
            return read_first(file.readline(LONGEST_LINE))
    except (OSError, LineError):
        return None


def first_offset_min(path: Path) -> int | None:
    """Local time less UTC where and when a session began, or None where that cannot be read."""
    try:
        with path.open("rb") as file:
            return offset_of_first(file.readline(LONGEST_LINE))
    except (OSError, LineError):
        return None


def read_session(path: Path) -> SessionFile:
    """Read one file. Never raises: what is torn, damaged or unknown is set aside and told."""
    return _merged(session_of(path), [_read(path)])


def read_sessions(paths: Iterable[Path]) -> list[SessionFile]:
    """Read files, those of one session together, in the order in which the sessions began."""
    groups: dict[str, list[_Lines]] = {}
    for path in paths:
        read = _read(path)
        header = _header(read.presses)
        groups.setdefault(header.session if header else session_of(path), []).append(read)
    return [_merged(session, groups[session]) for session in sorted(groups)]


class _Lines:
    """What one file gave."""

    def __init__(self, path: Path) -> None:
        self.name = "/".join(path.parts[-3:])
        self.presses: list[Press] = []
        self.aside: list[SetAside] = []

    def set_aside(self, line: int, why: str, text: bytes = b"") -> None:
        self.aside.append(SetAside(file=self.name, line=line, why=why, text=excerpt(text)))


def _read(path: Path) -> _Lines:
    read = _Lines(path)
    known: dict[int, Press] = {}
    number = 0
    try:
        for number, line in _lines(path):
            try:
                found: Iterable[Press] = (read_line(line),)
            except LineError as fault:
                found = presses_within(line)
                read.set_aside(number, str(fault), line.lstrip(b"\0"))
            for press in found:
                if known.setdefault(press.seq, press) is press:
                    read.presses.append(press)
                elif known[press.seq] != press:
                    why = f"has number {press.seq} again, with something else in it"
                    read.set_aside(number, why, line)
    except OSError as problem:
        why = f"could not be read after line {number}: {problem.strerror or problem}"
        read.set_aside(0, why)
    return read


def _merged(session: str, files: list[_Lines]) -> SessionFile:
    presses: dict[int, Press] = {}
    for file in files:
        for press in file.presses:
            if presses.setdefault(press.seq, press) != press:
                file.set_aside(0, f"has another press {press.seq} than {files[0].name}")
    row = [presses[seq] for seq in sorted(presses)]
    first = files[0]
    if row:
        for why in _gaps(row):
            first.set_aside(0, why)
        if _header(row) is None:
            row = [_stand_in(session, row[0]), *row]
    header = _header(row)
    if header is not None and header.format > FORMAT:
        why = f"was written by a newer forgelog (format {header.format}); this one may not see all"
        first.set_aside(0, why)
    return SessionFile(
        session=header.session if header else session,
        header=header,
        presses=tuple(row),
        set_aside=tuple(aside for file in files for aside in file.aside),
    )


def _lines(path: Path) -> Iterator[tuple[int, bytes]]:
    """Numbered lines; of one that is far too long only the beginning, and its end as another."""
    number = 0
    with path.open("rb") as file:
        whole = True
        while line := file.readline(LONGEST_LINE):
            number += whole
            whole = line.endswith(b"\n")
            if line != b"\n":
                yield number, line


def _gaps(row: list[Press]) -> Iterator[str]:
    if row[0].seq > 0:
        yield "has lost its first line"
    for before, after in pairwise(row):
        lost = after.seq - before.seq - 1
        if lost:
            presses = "1 press is" if lost == 1 else f"{lost} presses are"
            yield f"{presses} missing between numbers {before.seq} and {after.seq}"


def _header(row: Sequence[Press]) -> SessionBegan | None:
    if row and row[0].seq == 0 and row[0].facts and isinstance(row[0].facts[0], SessionBegan):
        return row[0].facts[0]
    return None


def _stand_in(session: str, first: Press) -> Press:
    """What can still be said of a session that has lost its first line."""
    device = session.split("-")[1] if session.count("-") >= 2 else ""
    began = SessionBegan(version="", session=session, device=device)
    return Press(seq=0, at=first.at, facts=(began,))
