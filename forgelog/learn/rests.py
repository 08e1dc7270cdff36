"""How the rests were kept, from what the journal wrote down when each one ended.

Nothing is called skipped on a guess: only a rest that the journal calls so is skipped, and a rest
that still runs is not judged. Rests that ended by themselves with nothing to break them were kept.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.work.state import SCRAPPED, RestRecord, Workpiece

KEPT, UNSURE, SHORT, SKIPPED, BROKEN = VERDICTS = ("kept", "unsure", "short", "skipped", "broken")


class RestSeen(msgspec.Struct, frozen=True, kw_only=True):
    """One rest of one piece, with its verdict."""

    workpiece: str
    verdict: str
    """One of VERDICTS."""
    record: RestRecord
    scrapped: bool = False
    """The piece has been scrapped since: nothing is risked any more."""

    @property
    def lost_cycle(self) -> bool:
        """A normalising cycle that does not count."""
        return self.record.cycle > 0 and (
            self.verdict in (SHORT, SKIPPED, BROKEN) or self.record.counts is False
        )


class RestTally(msgspec.Struct, frozen=True, kw_only=True):
    """How many rests went how."""

    kept: int = 0
    unsure: int = 0
    short: int = 0
    skipped: int = 0
    broken: int = 0
    running: int = 0
    """Not judged yet."""


def see_rests(pieces: Iterable[Workpiece]) -> tuple[RestSeen, ...]:
    """Every judged rest of the pieces: skipped normalising cycles first, kept rests last.

    A cycle that was done again is judged by its last time; any other rest keeps each of its
    verdicts, because work went on after each. A rest that the smith added of his own accord was
    never needed, so it is left out.
    """
    seen = [
        RestSeen(
            workpiece=piece.id,
            verdict=verdict,
            record=record,
            scrapped=piece.place == SCRAPPED,
        )
        for piece in pieces
        for record in _that_stand(piece.rests)
        if record.step and (verdict := _verdict(record))
    ]
    return tuple(sorted(seen, key=_urgency))


def tally_rests(seen: Iterable[RestSeen], pieces: Iterable[Workpiece] = ()) -> RestTally:
    """Count the verdicts, and the rests of the pieces that still run."""
    counts = dict.fromkeys(VERDICTS, 0)
    for rest in seen:
        counts[rest.verdict] += 1
    running = sum(1 for p in pieces if p.rest is not None and p.rest.step)
    return RestTally(**counts, running=running)


def _that_stand(records: tuple[RestRecord, ...]) -> Iterable[RestRecord]:
    last = {r.step: i for i, r in enumerate(records) if r.cycle}
    return (r for i, r in enumerate(records) if not r.cycle or last[r.step] == i)


def _verdict(record: RestRecord) -> str:
    if record.broken_by:
        return BROKEN
    verdict = KEPT if record.verdict == "ok" else record.verdict
    return verdict if verdict in VERDICTS else ""


_RANKS = {SKIPPED: 0, BROKEN: 1, SHORT: 2, UNSURE: 4, KEPT: 5}


def _urgency(rest: RestSeen) -> tuple[bool, bool, int, bool, float]:
    rank = _RANKS[rest.verdict]
    if rest.lost_cycle:
        rank = min(rank, 3)
    faulty = rank <= 3
    return (
        not (rest.lost_cycle and not rest.scrapped),
        not (faulty and rest.record.skipping == "matters" and not rest.scrapped),
        rank,
        rest.scrapped,
        -rest.record.started_s,
    )
