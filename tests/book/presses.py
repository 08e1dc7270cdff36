"""Made-up presses for the tests of the book; nothing in them has been forged."""

from __future__ import annotations

from hypothesis import strategies as st

from forgelog.work.facts import (
    AnyFact,
    DayEnded,
    Gauged,
    HeatOver,
    Hot,
    Noted,
    Press,
    PutInFire,
    SessionBegan,
    StepFinished,
    TakenOut,
)
from forgelog.work.moments import Stamp

SESSION = "20260130T081500Z-anvil7k-3f9q"


def stamp(seconds: float = 0.0) -> Stamp:
    return Stamp(
        wall=1769760900.0 + seconds, steady=100.0 + seconds, awake=90.0 + seconds, boot="b"
    )


def header(session: str = SESSION, **more: object) -> Press:
    began = SessionBegan(version="0.1.0", session=session, device="anvil7k", **more)  # type: ignore[arg-type]
    return Press(seq=0, at=stamp(), facts=(began,))


def press(seq: int, *facts: AnyFact) -> Press:
    return Press(
        seq=seq, at=stamp(seq * 30.0), facts=facts or (PutInFire(workpiece=f"o/hook/{seq}"),)
    )


def forged(count: int, session: str = SESSION) -> list[Press]:
    """A session as a smith might press it."""
    kinds: list[tuple[AnyFact, ...]] = [
        (PutInFire(workpiece="anvil7k-3f9q/hook/1"),),
        (TakenOut(workpiece="anvil7k-3f9q/hook/1", hot=Hot(degc=1080.5), in_fire=2),),
        (HeatOver(workpiece="anvil7k-3f9q/hook/1", hot=Hot(degc=850.25)),),
        (StepFinished(workpiece="anvil7k-3f9q/hook/1", step="draw-the-point", where="Bank 2"),),
        (Noted(words='„heiß“ {"seq":5,"crc":"00000000"} \\ \n end'),),
    ]
    return [header(session), *(press(n, *kinds[n % len(kinds)]) for n in range(1, count))]


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
numbers = st.floats(allow_nan=False, allow_infinity=False)
some_facts: st.SearchStrategy[AnyFact] = st.one_of(
    st.builds(Noted, words=words, workpiece=words),
    st.builds(Gauged, workpiece=words, step=words, what=words, fits=st.booleans(), mm=numbers),
    st.builds(PutInFire, workpiece=words),
    st.builds(DayEnded, where=words),
    st.builds(TakenOut, workpiece=words, hot=st.builds(Hot, degc=numbers)),
)
sessions = st.lists(st.lists(some_facts, min_size=1, max_size=3), min_size=0, max_size=6).map(
    lambda rows: [header(), *(press(n, *facts) for n, facts in enumerate(rows, start=1))]
)
