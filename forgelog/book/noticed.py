"""Which journal files hold a certain word, remembered between starts.

What is remembered lies in the cache folder and may be deleted; a file that has changed its size is
looked into again.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

import msgspec

from forgelog.book.disk import write_over


def files_with(mark: bytes, paths: Iterable[Path], cache: Path) -> list[Path]:
    """The files that hold the bytes. Never raises; one that cannot be read holds nothing.

    Args:
        mark: What to look for.
        paths: Files of the journal.
        cache: The cache folder.
    """
    memory = cache / f"files-with-{hashlib.sha256(mark).hexdigest()[:12]}.json"
    known = _remembered(memory)
    now: dict[str, tuple[int, bool]] = {}
    found: list[Path] = []
    for path in paths:
        try:
            size = path.stat().st_size
            was = known.get(str(path))
            has = was[1] if was is not None and was[0] == size else mark in path.read_bytes()
        except OSError:
            continue
        now[str(path)] = (size, has)
        if has:
            found.append(path)
    if any(known.get(name) != kept for name, kept in now.items()):
        with suppress(OSError):
            write_over(memory, msgspec.json.encode({**known, **now}))
    return found


def _remembered(memory: Path) -> dict[str, tuple[int, bool]]:
    try:
        return msgspec.json.decode(memory.read_bytes(), type=dict[str, tuple[int, bool]])
    except (OSError, ValueError):
        return {}
