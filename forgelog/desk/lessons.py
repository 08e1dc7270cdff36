"""What all records teach, learnt once for each state of the index and kept in it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from forgelog.desk.indexed import Index
from forgelog.learn.heats import LearntSteps, StepKey, learn_heats
from forgelog.learn.minutes import LearntTimes, learn_times
from forgelog.learn.records import bench_times, hand_times, heat_records
from forgelog.learn.rows import StepRow
from forgelog.learn.rule import MOST_RECORDS, Learnt
from forgelog.work.changes import replace

KIND = "lessons"


class Lessons(msgspec.Struct, frozen=True, kw_only=True):
    """What was learnt of real work, or of practice."""

    heats: LearntSteps
    hand: LearntTimes
    bench: LearntTimes


def lessons(index: Index, practice: bool) -> Lessons:
    """What all records teach.

    Args:
        index: The index.
        practice: Of practice alone, or of real work alone.
    """
    name = "practice" if practice else "real"
    return index.once(KIND, name, Lessons, lambda: _learnt(index, practice))


def _learnt(index: Index, practice: bool) -> Lessons:
    rows: list[StepRow] = []
    taught: dict[StepKey, int] = {}
    timed: dict[StepKey, int] = {}
    benched: dict[StepKey, int] = {}
    for key, found in index.sums.items():
        if key[0] != practice or not (found.all.taught or found.all.timed):
            continue
        rows += index.newest(key, MOST_RECORDS)
        if found.newest.forged:
            taught[key[1:]] = found.all.taught
            timed[key[1:]] = found.all.timed
        else:
            place = (key[1], key[2], key[3], "")
            benched[place] = benched.get(place, 0) + found.all.timed
    rows.sort(key=lambda row: (row.ended_s, row.order, row.serial, row.nth))
    heats = learn_heats(heat_records(rows))
    hand, bench = learn_times(hand_times(rows)), learn_times(bench_times(rows))
    return Lessons(
        heats=replace(heats, learnt=_counted(heats.learnt, taught)),
        hand=replace(hand, learnt=_counted(hand.learnt, timed)),
        bench=replace(bench, learnt=_counted(bench.learnt, benched)),
    )


def _counted(learnt: Learnt, counts: Mapping[StepKey, int]) -> Learnt:
    """What was learnt from the newest records, with the count of all of them."""
    return replace(  # type: ignore[no-any-return]
        learnt,
        steps={
            key: replace(step, records=max(step.records, counts.get(key, 0)))
            for key, step in learnt.steps.items()
        },
    )
