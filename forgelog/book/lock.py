"""One floor at a time on this device: a lock that the system drops with its program."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]


class FloorLock:
    """Held while a floor runs on a book. A program that was killed holds it no longer."""

    def __init__(self, book: Path, folder: Path) -> None:
        """Name the lock of a book; nothing is locked yet.

        Args:
            book: The book's folder.
            folder: Where locks lie on this device: not in the book, which may be synced.
        """
        name = hashlib.sha256(str(book.resolve()).encode("utf-8", "surrogateescape")).hexdigest()
        self.path = folder / f"floor-{name[:16]}.lock"
        self._fd: int | None = None

    def take(self) -> bool:
        """Take the lock. Returns False while another floor holds it.

        Where this device can hold no locks at all, it counts as taken: the smith must be able to
        work, and two floors never write one file anyway.
        """
        if self._fd is not None:
            return True
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            fd = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o644)
        except OSError:
            return True
        if not _locked(fd):
            os.close(fd)
            return False
        self._fd = fd
        return True

    def drop(self) -> None:
        """Let go of it."""
        if self._fd is not None:
            os.close(self._fd)
            self._fd = None


def _locked(fd: int) -> bool:
    try:
        if fcntl is not None:
            fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
        else:
            import msvcrt

            msvcrt.locking(fd, msvcrt.LK_NBLCK, 1)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        return True
    return True
