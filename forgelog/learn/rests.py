"""How the rests were kept, from what the journal wrote down when each one ended.

Nothing is called skipped on a guess: only a rest that the journal calls so is skipped, and a rest
that still runs is not judged. Rests that ended by themselves with nothing to break them were kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from forgelog.learn.records import practice_sessions
from forgelog.recipe.resolved import Step
from forgelog.work.queries import recipe_of, steps_of
from forgelog.work.state import SCRAPPED, RestRecord, State, Workpiece

KEPT, UNSURE, SHORT, SKIPPED, BROKEN = VERDICTS = ("kept", "unsure", "short", "skipped", "broken")


class RestSeen(msgspec.Struct, frozen=True, kw_only=True):
    """One rest of one piece, with its verdict."""

    recipe: str
    piece: Workpiece
    step: Step | None
    """As the pinned recipe has it; None where the recipe that the piece now follows lost it."""
    verdict: str
    """One of VERDICTS."""
    record: RestRecord

    @property
    def normalising(self) -> bool:
        """Whether it is the cooling of a normalising cycle."""
        return self.step is not None and self.step.kind == "normalise"

    @property
    def faulty(self) -> bool:
        """Cut short, skipped or broken, or a normalising cycle that does not count."""
        return self.verdict in (SHORT, SKIPPED, BROKEN) or self.lost_cycle

    @property
    def lost_cycle(self) -> bool:
        """A normalising cycle that does not count."""
        return self.normalising and (
            self.verdict in (SHORT, SKIPPED, BROKEN) or self.record.counts is False
        )

    @property
    def matters(self) -> bool:
        """Whether something is risked by it that more than a note is due to."""
        return self.normalising or self.record.skipping == "matters"

    @property
    def over(self) -> bool:
        """The piece has been scrapped since: nothing is risked any more."""
        return self.piece.place == SCRAPPED


class RestTally(msgspec.Struct, frozen=True, kw_only=True):
    """How many rests went how."""

    kept: int = 0
    unsure: int = 0
    short: int = 0
    skipped: int = 0
    broken: int = 0


def see_rests(state: State, *, practice: bool = False) -> tuple[RestSeen, ...]:
    """Every judged rest: lost normalising cycles first, skipped before short; kept rests last.

    A normalising cycle that was done again is judged by its last time. Any other rest keeps each
    of its verdicts, because work went on after each. A rest that the smith added without the
    recipe's asking was never needed, so it is left out.

    Args:
        state: What stands, settled at the moment of asking.
        practice: True for the practice sessions, False for real work; never both.
    """
    practised = practice_sessions(state)
    seen = [
        rest
        for piece in state.pieces.values()
        for rest in _of_piece(state, piece)
        if (rest.record.session in practised) == practice
    ]
    return tuple(sorted(seen, key=_urgency))


def tally_rests(seen: Iterable[RestSeen]) -> RestTally:
    """Count the verdicts."""
    counts = dict.fromkeys(VERDICTS, 0)
    for rest in seen:
        counts[rest.verdict] += 1
    return RestTally(**counts)


def _of_piece(state: State, piece: Workpiece) -> Iterator[RestSeen]:
    if not piece.rests:
        return
    recipe = recipe_of(state, piece).id
    steps = {step.id: step for step in steps_of(state, piece)}
    last = {record.step: i for i, record in enumerate(piece.rests)}
    for i, record in enumerate(piece.rests):
        verdict = _verdict(record)
        if not (record.step and verdict):
            continue
        rest = RestSeen(
            recipe=recipe,
            piece=piece,
            step=steps.get(record.step),
            verdict=verdict,
            record=record,
        )
        if last[record.step] == i or not rest.normalising:
            yield rest


def _verdict(record: RestRecord) -> str:
    if record.broken_by:
        return BROKEN
    verdict = KEPT if record.verdict == "ok" else record.verdict
    return verdict if verdict in VERDICTS else ""


_RANKS = {SKIPPED: 0, BROKEN: 1, SHORT: 2, UNSURE: 4, KEPT: 5}


def _urgency(rest: RestSeen) -> tuple[bool, bool, bool, int, float]:
    rank = min(_RANKS[rest.verdict], 3) if rest.lost_cycle else _RANKS[rest.verdict]
    return (
        not (rest.lost_cycle and not rest.over),
        not (rest.faulty and rest.matters and not rest.over),
        not (rest.faulty and not rest.over),
        rank,
        -rest.record.started_s,
    )
