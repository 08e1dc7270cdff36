"""A command that ends in a moment starts sooner without what it never needs."""

from __future__ import annotations

import atexit
import gc
import sys


def begin_short_run() -> None:
    """Make this process one that ends soon; not for a program that stays open.

    What it makes is thrown away with it, so nobody sweeps up meanwhile or at the end. And
    msgspec is loaded without typing_extensions: it asks for that where it is installed, which
    doubles its own time, and does with `typing` where it is not.
    """
    gc.disable()
    atexit.register(gc.freeze)
    if "msgspec" in sys.modules or "typing_extensions" in sys.modules:
        return
    sys.modules["typing_extensions"] = None  # type: ignore[assignment]
    try:
        import msgspec as msgspec
    finally:
        del sys.modules["typing_extensions"]
