"""Says on stderr how far a long reading of the journal has come."""

from __future__ import annotations

import sys
from time import monotonic

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.desk.shop import Shop

QUIET_S = 0.5
"""A reading that is shorter is not spoken of."""
EVERY_S = 0.2


class Progress:
    """Told after each session; says so now and then, on one line in a terminal."""

    def __init__(self) -> None:
        self._next_s = monotonic() + QUIET_S
        self._said = False

    def __call__(self, done: int, of: int) -> None:
        """So many sessions are read, of so many."""
        terminal = sys.stderr.isatty()
        if (done < of and monotonic() < self._next_s) or (done == of and not self._said):
            return
        self._next_s = monotonic() + (EVERY_S if terminal else 10 * QUIET_S)
        self._said = True
        words = f"reading the journal: session {done} of {of}"
        if done == of or not terminal:
            words += "\n"
        print(f"\r{words}" if terminal else words, end="", file=sys.stderr, flush=True)


def read_up(shop: Shop) -> None:
    """Catch the index up before it is asked, and say so where that takes long."""
    from forgelog.desk.indexed import caught_up

    caught_up(shop, Progress())
