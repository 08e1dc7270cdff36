"""What the journal holds for learning: every step that was done, oldest first.

Left out of learning: heats that nobody pressed or told since (unknown is not one), the step in
which a piece was spoilt, handfuls of small parts (their heats are not heats a piece), steps that
the recipe planned no heats for by that method, and a step done again because the recipe moved.
Practice and real work are never mixed.
"""

from __future__ import annotations

from collections.abc import Iterable

from forgelog.learn.heats import HeatRecord
from forgelog.learn.minutes import TimeRecord
from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import StepRow
from forgelog.work.state import State

HAND_S_A_HEAT = 60.0
"""Yardstick for the time in hand of one planned heat, s; a stretch at the anvil is 20 to 90 s
(common practice). The smith's own records turn it into his own figure."""


def done_steps(state: State, *, practice: bool = False) -> tuple[StepRow, ...]:
    """All steps done on all pieces, finished and scrapped ones too, oldest first.

    Args:
        state: What stands.
        practice: True for the practice sessions, False for real work; never both.
    """
    return tuple(row for row in make_rows(state).steps if row.practice == practice)


def heat_records(done: Iterable[StepRow]) -> list[HeatRecord]:
    """The records of heats that can be learnt from, in the order given."""
    return [
        HeatRecord(
            step=d.key,
            taken=d.heats,
            planned=d.planned,
            workpiece=d.workpiece,
            session=d.session,
            ended_s=d.ended_s,
            run=d.run,
            shared=d.shared,
            corrected=d.corrected,
        )
        for d in done
        if d.heats and d.planned and teaches(d)
    ]


def heats_to_tell(done: Iterable[StepRow]) -> list[StepRow]:
    """Steps whose heats nobody pressed and nobody has told since; handfuls are not asked about."""
    return [d for d in done if d.heats_unknown and not d.lot]


def teaches(done: StepRow) -> bool:
    """Whether a forging step can be learnt from."""
    return done.forged and not (done.scrapped or done.again or done.lot)


def hand_times(done: Iterable[StepRow]) -> list[TimeRecord]:
    """Records of the time in hand of forging steps, against a yardstick of the planned heats."""
    return [
        TimeRecord(
            step=d.key,
            taken_s=d.work_s,
            planned_s=HAND_S_A_HEAT * d.planned,
            run=d.run,
        )
        for d in done
        if d.work_s > 0.0 and d.planned and d.heats and teaches(d)
    ]


def bench_times(done: Iterable[StepRow]) -> list[TimeRecord]:
    """Records of the time of cold steps, against the minutes that the recipe plans."""
    return [
        TimeRecord(
            step=(*d.key[:3], ""),
            taken_s=d.work_s,
            planned_s=d.minutes_s,
            run=d.run,
        )
        for d in done
        if d.work_s > 0.0 and d.minutes_s and not (d.forged or d.scrapped or d.again or d.lot)
    ]
