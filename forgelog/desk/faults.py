"""Notes a fault of forgelog's own where it can be found, and lets the work go on."""

from __future__ import annotations

import time
import traceback
from contextlib import suppress
from pathlib import Path

from forgelog import __version__
from forgelog.book.folders import cache_folder

LARGEST_BYTES = 1_000_000
"""A file of faults that has grown beyond this is begun anew."""


def fault_file() -> Path:
    """Where faults are noted."""
    return cache_folder() / "faults.txt"


def note_fault(fault: BaseException, what: str) -> None:
    """Write down a fault with what was being done. Never raises.

    Args:
        fault: What went wrong.
        what: What was being done: a key, the facts of a press.
    """
    when = time.strftime("%Y-%m-%d %H:%M:%S")
    trace = "".join(traceback.format_exception(fault))
    with suppress(OSError):
        path = fault_file()
        path.parent.mkdir(parents=True, exist_ok=True)
        anew = path.exists() and path.stat().st_size > LARGEST_BYTES
        with path.open("w" if anew else "a", encoding="utf-8", errors="backslashreplace") as file:
            file.write(f"{when} forgelog {__version__}: {what}\n{trace}\n")
