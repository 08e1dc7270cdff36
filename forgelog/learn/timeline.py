"""One session as spans: which piece was in hand, in the fire, resting or at the bench, and when.

The spans are read off the states that `work.apply` made of the session's presses, so they cannot
tell another story than the floor did. What was undone did not happen; what was put right (another
piece was held, the heat had ended a minute ago) counts as put right.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import msgspec

from forgelog.work.state import BENCH, FIRE, HAND, RESTING, State, Workpiece

DOINGS = ("hand", "fire", "rest", "bench")
_STANDSTILL_S = 1e-3


class Span(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch of time in which one piece had one thing done to it. Moments of the rest clock."""

    workpiece: str
    doing: str
    """One of DOINGS."""
    step: int
    """Index of the step in the piece's recipe."""
    from_s: float
    to_s: float
    work_s: float = 0.0
    """Of it on the work clock: without pauses and without the time the machine slept."""


class Standstill(msgspec.Struct, frozen=True, kw_only=True):
    """Time in which the work clock stood, wholly or in part."""

    from_s: float
    to_s: float
    worked_s: float = 0.0
    paused: bool = True
    """False where the machine slept or was off."""


class Timeline(msgspec.Struct, frozen=True, kw_only=True):
    """A session from its first press to its last."""

    session: str
    began_s: float
    ended_s: float
    spans: tuple[Span, ...] = ()
    """In order of their beginning."""
    stood: tuple[Standstill, ...] = ()
    worked_s: float = 0.0
    """Of the session on the work clock."""
    hand_s: float = 0.0
    bench_s: float = 0.0
    fire_s: float = 0.0
    """Time in which anything was in the fire."""
    lit_s: float = 0.0
    """Time in which the fire was lit."""

    @property
    def idle_share(self) -> float | None:
        """Share of the worked time with nothing in hand and nothing at the bench; None without."""
        if self.worked_s <= 0.0:
            return None
        return max(0.0, 1.0 - (self.hand_s + self.bench_s) / self.worked_s)


def draw_timeline(states: Sequence[State]) -> Timeline:
    """The timeline of one session.

    Args:
        states: What stood after each press of the session, from its beginning on; at least one.

    Raises:
        ValueError: there are no states.
    """
    if not states:
        raise ValueError("a session has at least its first press")
    began_s = states[0].moment.rest_s
    ended_s = max(began_s, *(state.moment.rest_s for state in states))
    live = _that_happened(states)
    tracks: dict[str, list[Span]] = {}
    before: dict[str, Workpiece] = {}
    for state in live:
        for piece in state.pieces.values():
            was = before.get(piece.id)
            if was is not piece:
                at_s = _came_s(was, piece, state.moment.rest_s)
                _turn(tracks.setdefault(piece.id, []), piece, max(began_s, at_s), ended_s)
        before = state.pieces
    stood = _standstills([*live, states[-1]])
    spans = sorted(
        (
            msgspec.structs.replace(span, work_s=_worked_s(span.from_s, span.to_s, stood))
            for track in tracks.values()
            for span in track
        ),
        key=lambda span: (span.from_s, span.workpiece),
    )
    return Timeline(
        session=states[0].session,
        began_s=began_s,
        ended_s=ended_s,
        spans=tuple(spans),
        stood=stood,
        worked_s=_worked_s(began_s, ended_s, stood),
        hand_s=sum(s.work_s for s in spans if s.doing == "hand"),
        bench_s=sum(s.work_s for s in spans if s.doing == "bench"),
        fire_s=_covered_s((s.from_s, s.to_s) for s in spans if s.doing == "fire"),
        lit_s=_lit_s(live, ended_s),
    )


def _that_happened(states: Sequence[State]) -> list[State]:
    """The states without those that an undo took back."""
    live: list[State] = []
    known: dict[tuple[str, int], State] = {}
    for state in states:
        if state.made_by == (state.session, state.press):
            known[state.made_by] = state
            live.append(state)
            continue
        places = [i for i, s in enumerate(live) if s.made_by == state.made_by]
        if places:
            del live[places[-1] + 1 :]
        else:
            live.append(known.get(state.made_by, state))
    return live


def _came_s(was: Workpiece | None, piece: Workpiece, now_s: float) -> float:
    """When the piece came to do what it does now; before `now_s` where that was put right."""
    if was is None or piece.place != was.place or piece.since_s < was.since_s:
        return min(now_s, piece.since_s)
    return now_s


def _turn(track: list[Span], piece: Workpiece, at_s: float, open_s: float) -> None:
    """From `at_s` on the piece does something else; the last span is open to the end."""
    doing = _doing(piece)
    while track and track[-1].from_s >= at_s:
        track.pop()
    if track and track[-1].to_s > at_s:
        track[-1] = msgspec.structs.replace(track[-1], to_s=at_s)
    if not doing or at_s >= open_s:
        return
    if track and _goes_on(track[-1], piece, doing) and track[-1].to_s == at_s:
        track[-1] = msgspec.structs.replace(track[-1], to_s=open_s)
        return
    track.append(Span(workpiece=piece.id, doing=doing, step=piece.step, from_s=at_s, to_s=open_s))


def _goes_on(span: Span, piece: Workpiece, doing: str) -> bool:
    return span.doing == doing and span.step == piece.step


def _doing(piece: Workpiece) -> str:
    if piece.place == BENCH:
        return "bench" if piece.running else ""
    return {HAND: "hand", FIRE: "fire", RESTING: "rest"}.get(piece.place, "")


def _standstills(states: Sequence[State]) -> tuple[Standstill, ...]:
    found: list[Standstill] = []
    for a, b in pairwise(states):
        worked_s = b.moment.work_s - a.moment.work_s
        if b.moment.rest_s - a.moment.rest_s - worked_s > _STANDSTILL_S:
            found.append(
                Standstill(
                    from_s=a.moment.rest_s,
                    to_s=b.moment.rest_s,
                    worked_s=worked_s,
                    paused=a.paused,
                )
            )
    return tuple(found)


def _worked_s(from_s: float, to_s: float, stood: Iterable[Standstill]) -> float:
    worked_s = to_s - from_s
    for still in stood:
        overlap_s = min(to_s, still.to_s) - max(from_s, still.from_s)
        if overlap_s > 0.0:
            worked_s -= overlap_s * (1.0 - still.worked_s / (still.to_s - still.from_s))
    return max(0.0, worked_s)


def _covered_s(stretches: Iterable[tuple[float, float]]) -> float:
    """Time that is covered by at least one of the stretches."""
    covered_s, reached_s = 0.0, float("-inf")
    for from_s, to_s in sorted(stretches):
        covered_s += max(0.0, to_s - max(from_s, reached_s))
        reached_s = max(reached_s, to_s)
    return covered_s


def _lit_s(live: Sequence[State], ended_s: float) -> float:
    ends = [*(state.moment.rest_s for state in live[1:]), ended_s]
    return sum(
        max(0.0, to_s - state.moment.rest_s)
        for state, to_s in zip(live, ends, strict=True)
        if state.fire.lit
    )
