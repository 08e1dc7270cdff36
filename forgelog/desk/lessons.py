"""What all records teach, learnt once for each state of the index and kept in it."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

import msgspec

from forgelog.book.index_store import IndexShutError
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

    batch: int
    """State of the index that it was learnt from."""
    shown: str
    heats: LearntSteps
    before: LearntSteps
    """Heats without what the shown session adds: that is judged by it."""
    hand: LearntTimes
    bench: LearntTimes


def lessons(index: Index, practice: bool, shown: str = "") -> Lessons:
    """What all records teach.

    Args:
        index: The index.
        practice: Of practice alone, or of real work alone.
        shown: The session that is looked at closely; "" for none.
    """
    name = "practice" if practice else "real"
    kept = index.remembered(KIND, name, Lessons)
    if kept is not None and kept.batch == index.batch and shown in ("", kept.shown):
        return kept
    if not shown:
        shown = next((s.session for s in reversed(index.floors) if s.practice == practice), "")
    found = _learnt(index, practice, shown)
    if kept is None or kept.batch != index.batch:
        with suppress(IndexShutError):
            index.remember(KIND, name, found)
    return found


def _learnt(index: Index, practice: bool, shown: str) -> Lessons:
    rows: list[StepRow] = []
    earlier: list[StepRow] = []
    for key, found in index.sums.items():
        if key[0] != practice or not (found.all.taught or found.all.timed):
            continue
        newest = index.newest(key, MOST_RECORDS)
        rows += newest
        others = [row for row in newest if row.session != shown]
        if len(others) < len(newest):
            others = [
                row
                for row in index.newest(key, MOST_RECORDS, without=shown)
                if row.session != shown
            ]
        earlier += others
    sums = index.sums
    taught = {key[1:]: found.all.taught for key, found in sums.items() if key[0] == practice}
    timed = {key[1:]: found.all.timed for key, found in sums.items() if key[0] == practice}
    benched: dict[StepKey, int] = {}
    for key, found in sums.items():
        if key[0] == practice and not found.newest.forged:
            place = (key[1], key[2], key[3], "")
            benched[place] = benched.get(place, 0) + found.all.timed
    by_age = sorted(rows, key=_age)
    heats = learn_heats(heat_records(by_age))
    hand, bench = learn_times(hand_times(by_age)), learn_times(bench_times(by_age))
    return Lessons(
        batch=index.batch,
        shown=shown,
        heats=replace(heats, learnt=_counted(heats.learnt, taught)),
        before=learn_heats(heat_records(sorted(earlier, key=_age))),
        hand=replace(hand, learnt=_counted(hand.learnt, timed)),
        bench=replace(bench, learnt=_counted(bench.learnt, benched)),
    )


def _age(row: StepRow) -> tuple[float, str, int, int]:
    return (row.ended_s, row.order, row.serial, row.nth)


def _counted(learnt: Learnt, counts: Mapping[StepKey, int]) -> Learnt:
    """What was learnt from the newest records, with the count of all of them."""
    return replace(  # type: ignore[no-any-return]
        learnt,
        steps={
            key: replace(step, records=max(step.records, counts.get(key, 0)))
            for key, step in learnt.steps.items()
        },
    )
