"""Names of sessions: when they began, on which device, and a random tail."""

from __future__ import annotations

import time
from pathlib import Path

from forgelog.book.device import tail


def new_session(book: Path, device: str, wall: float) -> str:
    """An id that no session of the book has yet: "20260130T081500Z-anvil7k-3f9q".

    Args:
        book: The book's folder.
        device: Id of this device.
        wall: When it begins, seconds since 1970, UTC.
    """
    began = time.strftime("%Y%m%dT%H%M%SZ", time.gmtime(wall))
    while True:
        session = f"{began}-{device}-{tail()}"
        if not (book / "journal" / session[:4] / f"{session}.jsonl").exists():
            return session
