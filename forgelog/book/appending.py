"""Writing a session: every press is on the disk before the next is asked for, or it waits in order.

When the disk gives way (full, read-only, pulled out, a write that tore), the presses wait in
memory and are written as soon as they can be: to the same file where it is still whole, else to a
further file of the same session. A file is left for good once a sync has failed or something else
has changed it, because nobody knows then what is in it.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path

from forgelog.book.disk import make_folder, sync, sync_folder, why_not, write_all
from forgelog.book.folders import is_practice_copy
from forgelog.book.press_line import write_line
from forgelog.work.facts import Press, SessionBegan

PATIENCE_S = 0.15
"""So long `append` waits for the disk; then the screen goes on and says "not yet on disk"."""
AGAIN_S = (0.5, 1.0, 2.0, 5.0, 10.0)
"""Waits between attempts on a disk that gives way; the last one for good."""

_FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_APPEND | getattr(os, "O_BINARY", 0)
_MOST_LOSSES = 5
"""After so many files that seem to have vanished, the file system's word is no longer taken."""


class SessionWriter:
    """The journal of one session, as it is being written."""

    def __init__(self, book: Path, header: Press, *, again_s: Sequence[float] = AGAIN_S) -> None:
        """Begin a session's file with its first press.

        Args:
            book: The book's folder.
            header: Press 0, whose first fact is a SessionBegan.
            again_s: Waits between attempts on a disk that gives way, seconds.

        Raises:
            ValueError: the press is not the beginning of a session, or cannot be written at all.
        """
        began = header.facts[0] if header.facts else None
        if header.seq != 0 or not isinstance(began, SessionBegan):
            raise ValueError("a session's file begins with press 0, which says what session it is")
        if began.practice and not is_practice_copy(book):
            raise ValueError("practice is never written into a real book")
        self._lines = [write_line(header)]
        self._on_disk = 0
        self._failures = 0
        self._why = ""
        self._closing = False
        self._part = _Part(book, began.session)
        self._again_s = tuple(again_s)
        self._changed = threading.Condition()
        self._thread = threading.Thread(target=self._work, name="journal", daemon=True)
        self._thread.start()
        with self._changed:
            self._wait_for(1, PATIENCE_S)

    @property
    def not_on_disk(self) -> int:
        """How many presses wait for the disk."""
        return len(self._lines) - self._on_disk

    @property
    def why(self) -> str:
        """Why they wait: "the disk is full"; "" while the disk does its work."""
        return self._why

    @property
    def path(self) -> Path:
        """The file that is written to."""
        return self._part.path

    def append(self, press: Press, *, patience_s: float = PATIENCE_S) -> bool:
        """Write a press; wait for the disk a moment, but never for a disk that gives way.

        Args:
            press: Applied already: it must be one that can be taken again when it is read.
            patience_s: How long to wait, seconds.

        Returns:
            True when it is on the disk, with all before it.

        Raises:
            ValueError: the press would not be read back as it is, or the session is closed;
                nothing is written.
        """
        line = write_line(press)
        with self._changed:
            if self._closing:
                raise ValueError("this session is closed")
            self._lines.append(line)
            self._changed.notify_all()
            return self._wait_for(len(self._lines), patience_s)

    def close(self, *, patience_s: float = 5.0) -> bool:
        """Stop writing, with one more attempt for what still waits.

        Returns:
            True when every press is on the disk.
        """
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._thread.join(patience_s)
        return self.not_on_disk == 0

    def _wait_for(self, lines: int, patience_s: float) -> bool:
        failures = self._failures
        self._changed.wait_for(
            lambda: self._on_disk >= lines or self._failures > failures, patience_s
        )
        return self._on_disk >= lines

    def _work(self) -> None:
        tried = 0
        while True:
            with self._changed:
                if self._why:
                    again_s = self._again_s[min(self._failures, len(self._again_s)) - 1]
                    self._changed.wait_for(partial(self._more_than, tried), again_s)
                else:
                    self._changed.wait_for(lambda: self.not_on_disk > 0 or self._closing)
                tried = len(self._lines)
                closing = self._closing
            why = self._store(tried)
            with self._changed:
                self._why = why
                self._failures = self._failures + 1 if why else 0
                self._changed.notify_all()
            if closing:
                self._part.leave()
                return

    def _more_than(self, lines: int) -> bool:
        return len(self._lines) > lines or self._closing

    def _store(self, lines: int) -> str:
        """Bring so many lines to the disk. Returns why not, or ""."""
        try:
            if self._on_disk < lines and not self._part.whole():
                if self._part.lost():
                    self._tell(0)
                self._part.begin(self._lines[0])
                self._tell(max(1, self._on_disk))
            while self._on_disk < lines:
                self._part.add(self._lines[self._on_disk])
                self._tell(self._on_disk + 1)
        except OSError as problem:
            return why_not(problem)
        return ""

    def _tell(self, on_disk: int) -> None:
        with self._changed:
            self._on_disk = on_disk
            self._changed.notify_all()


class _Part:
    """One file of the session after another; only the worker touches it."""

    def __init__(self, book: Path, session: str) -> None:
        self.folder = book / "journal" / session[:4]
        self.session = session
        self.number = 1
        self.path = self.folder / f"{session}.jsonl"
        self._fd: int | None = None
        self._size = 0
        """Bytes that are on the disk for certain."""
        self._torn = False
        self._losses = 0

    def whole(self) -> bool:
        """Whether the file is there, and holds what was written to it and nothing else."""
        return self._size > 0 and not self._torn and self._there()

    def lost(self) -> bool:
        """Whether what was written has vanished or been changed. Asked once, it counts as seen."""
        if self._fd is None or self._size == 0 or (self._same() if self._torn else self._there()):
            return False
        self._losses += 1
        return True

    def begin(self, header: bytes) -> None:
        """Go on in a further file, which says again what session it is.

        Args:
            header: The session's first line.

        Raises:
            OSError: it cannot be begun.
        """
        if self._fd is None or self._torn or self._size > 0 or not self._there():
            self._create()
        self.add(header)

    def add(self, line: bytes) -> None:
        """Write one line and wait until it is on the disk; a line that tears is taken off again.

        Raises:
            OSError: it is not on the disk.
        """
        assert self._fd is not None
        try:
            write_all(self._fd, line)
        except OSError:
            try:
                os.ftruncate(self._fd, self._size)
            except OSError:
                self._torn = True
            raise
        try:
            sync(self._fd)
        except OSError:
            self._torn = True
            raise
        self._size += len(line)

    def leave(self) -> None:
        """Close the file; one that has nothing in it goes."""
        if self._fd is None:
            return
        try:
            if self._size == 0 and self._same():
                self.path.unlink()
            os.close(self._fd)
        except OSError:
            pass  # nothing more can be done for it, and all that was in it is in memory too
        self._fd = None

    def _create(self) -> None:
        self.leave()
        make_folder(self.folder)
        self._size = 0
        while self._fd is None:
            more = f"+{self.number}" if self.number > 1 else ""
            self.path = self.folder / f"{self.session}{more}.jsonl"
            with suppress(FileExistsError):
                self._fd = os.open(self.path, _FLAGS, 0o644)
            self.number += 1
        self._torn = False
        sync_folder(self.folder)

    def _there(self) -> bool:
        """Whether the name still leads to this file, and its length is what was written."""
        if self._fd is None:
            return False
        if self._losses >= _MOST_LOSSES:
            return True
        return self._same() and os.fstat(self._fd).st_size == self._size

    def _same(self) -> bool:
        if self._fd is None:
            return False
        here = os.fstat(self._fd)
        try:
            there = self.path.stat()
        except OSError:
            return False
        return (here.st_dev, here.st_ino) == (there.st_dev, there.st_ino)
