"""The state from whole files of the journal: `apply`, over and over, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from forgelog.work.apply import CannotBe, apply
from forgelog.work.changes import replace
from forgelog.work.facts import Press, SessionBegan
from forgelog.work.state import State, Trouble


class SessionLines(Protocol):
    """One file of the journal, read."""

    @property
    def header(self) -> SessionBegan | None:
        """Its first line; None where that was set aside."""

    @property
    def presses(self) -> Sequence[Press]:
        """Every press, its first line too, in order."""


def in_order(files: Iterable[SessionLines]) -> list[SessionLines]:
    """Files in the order in which they are folded.

    A file comes after every file that it has seen; otherwise by the wall clock at its beginning,
    then by id. So two laptops' books give one order however they were copied together. A circle
    (a clock far off, a file edited by hand) is cut where the wall clock says.
    """
    known = {f.header.session: f for f in files if f.header is not None and f.presses}
    left = sorted(known, key=lambda s: (known[s].presses[0].at.wall, s))
    done: set[str] = set()
    ordered: list[SessionLines] = []

    def seen(session: str) -> set[str]:
        header = known[session].header
        before = set(header.seen) if header else set()
        if header and header.continues:
            before.add(header.continues)
        return before & known.keys() - {session}

    while left:
        ready = next((s for s in left if seen(s) <= done), left[0])
        left.remove(ready)
        done.add(ready)
        ordered.append(known[ready])
    return ordered


def fold(files: Iterable[SessionLines], state: State | None = None) -> State:
    """The state after all files, oldest first.

    A press that cannot have happened (scrapped on one laptop, worked on at the other) is passed
    over and written into `troubles`; the presses after it still count.
    """
    state = state or State()
    for file in in_order(files):
        for press in file.presses:
            state = applied(state, press)
    return state


def applied(state: State, press: Press) -> State:
    """`apply`, with a contradiction noted instead of raised."""
    try:
        return apply(state, press)
    except CannotBe as problem:
        trouble = Trouble(session=state.session, seq=press.seq, words=str(problem))
        return replace(  # type: ignore[no-any-return]
            state, troubles=(*state.troubles, trouble), press=press.seq, stamp=press.at
        )
