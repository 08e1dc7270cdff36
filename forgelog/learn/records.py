"""What the journal holds for learning: every step that was done, oldest first.

Left out of learning: heats that nobody pressed or told since (unknown is not one), the step in
which a piece was spoilt, handfuls of small parts (their heats are not heats a piece), steps that
the recipe planned no heats for by that method, and a step done again because the recipe moved.
Practice and real work are never mixed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from forgelog.learn.heats import HeatRecord, StepKey
from forgelog.learn.minutes import TimeRecord
from forgelog.recipe.resolved import FORGING_KINDS, Step
from forgelog.work.queries import recipe_of, steps_of
from forgelog.work.state import State, StepRecord, Workpiece

HAND_S_A_HEAT = 60.0
"""Yardstick for the time in hand of one planned heat, s; a stretch at the anvil is 20 to 90 s
(common practice). The smith's own records turn it into his own figure."""


class DoneStep(msgspec.Struct, frozen=True, kw_only=True):
    """A step that a piece has behind it."""

    recipe: str
    piece: Workpiece
    record: StepRecord
    step: Step | None
    """As the pinned recipe has it; None where the recipe that the piece now follows lost it."""
    again: bool = False
    """The same piece had done it before."""

    @property
    def key(self) -> StepKey:
        """Recipe, component, step, method."""
        return (self.recipe, self.piece.component, self.record.step, self.record.method)

    @property
    def forged(self) -> bool:
        """Whether it is counted in heats."""
        return self.record.kind in FORGING_KINDS

    @property
    def heats_unknown(self) -> bool:
        """Its heats are still to be told."""
        return self.forged and not self.record.scrapped and not self.record.heats


def done_steps(state: State, *, practice: bool = False) -> tuple[DoneStep, ...]:
    """All steps done on all pieces, finished and scrapped ones too, oldest first.

    Args:
        state: What stands.
        practice: True for the practice sessions, False for real work; never both.
    """
    practised = practice_sessions(state)
    found = [
        done
        for piece in state.pieces.values()
        for done in _of_piece(state, piece)
        if (done.record.session in practised) == practice
    ]
    return tuple(sorted(found, key=lambda d: (d.record.ended_s, d.piece.id)))


def practice_sessions(state: State) -> frozenset[str]:
    """Ids of the sessions that were practice."""
    return frozenset(session.id for session in state.sessions if session.practice > 0.0)


def _of_piece(state: State, piece: Workpiece) -> Iterator[DoneStep]:
    if not piece.done:
        return
    recipe = recipe_of(state, piece).id
    steps = {step.id: step for step in steps_of(state, piece)}
    before: set[str] = set()
    for record in piece.done:
        yield DoneStep(
            recipe=recipe,
            piece=piece,
            record=record,
            step=steps.get(record.step),
            again=record.step in before,
        )
        before.add(record.step)


def heat_records(done: Iterable[DoneStep]) -> list[HeatRecord]:
    """The records of heats that can be learnt from, in the order given."""
    return [
        HeatRecord(
            step=d.key,
            taken=d.record.heats,
            planned=d.record.planned,
            workpiece=d.piece.id,
            session=d.record.session,
            ended_s=d.record.ended_s,
            run=d.record.run,
            shared=d.record.shared,
            corrected=d.record.corrected,
        )
        for d in done
        if d.record.heats and d.record.planned and _teaches(d)
    ]


def heats_to_tell(done: Iterable[DoneStep]) -> list[DoneStep]:
    """Steps whose heats nobody pressed and nobody has told since; handfuls are not asked about."""
    return [d for d in done if d.heats_unknown and not d.piece.lot]


def _teaches(done: DoneStep) -> bool:
    return done.forged and not (done.record.scrapped or done.again or done.piece.lot)


def hand_times(done: Iterable[DoneStep]) -> list[TimeRecord]:
    """Records of the time in hand of forging steps, against a yardstick of the planned heats."""
    return [
        TimeRecord(
            step=d.key,
            taken_s=d.record.work_s,
            planned_s=HAND_S_A_HEAT * d.record.planned,
            run=d.record.run,
        )
        for d in done
        if d.record.work_s > 0.0 and d.record.planned and d.record.heats and _teaches(d)
    ]


def bench_times(done: Iterable[DoneStep]) -> list[TimeRecord]:
    """Records of the time of cold steps, against the minutes that the recipe plans."""
    return [
        TimeRecord(
            step=(*d.key[:3], ""),
            taken_s=d.record.work_s,
            planned_s=d.step.minutes_s,
            run=d.record.run,
        )
        for d in done
        if d.record.work_s > 0.0
        and d.step is not None
        and d.step.minutes_s
        and not (d.forged or d.record.scrapped or d.again or d.piece.lot)
    ]
