"""What steps and rests add up to, for a review: from the index's sums, or from rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from forgelog.book.index_records import KeyName, Sum
from forgelog.desk.indexed import Index
from forgelog.desk.review_scope import Scope
from forgelog.learn.heats import StepKey
from forgelog.learn.rests import tally_rests
from forgelog.learn.rows import UNSURE, RestRow, StepRow
from forgelog.learn.rule import MOST_RECORDS


class Done(msgspec.Struct, frozen=True, kw_only=True):
    """A step by one method, as often as it was done."""

    key: StepKey
    taken: tuple[tuple[float, int | None, float], ...]
    """End, heats and time at it of pieces that were not spoilt in it, oldest first; of a sum only
    the last ones."""
    shared: int
    corrected: int
    spoilt: int
    worked: int
    """Pieces with a time at it."""
    first_s: float
    newest: StepRow


class Rested(msgspec.Struct, frozen=True, kw_only=True):
    """How many rests went how."""

    kept: int = 0
    unsure: int = 0
    short: int = 0
    skipped: int = 0
    broken: int = 0
    faults: int = 0
    doubts: int = 0


class Sums(msgspec.Struct, frozen=True, kw_only=True):
    """What is told of steps and rests without their rows."""

    steps: tuple[Done, ...]
    """By their first piece, the oldest first."""
    rests: Rested


def sums_of_rows(steps: Iterable[StepRow], rests: Iterable[RestRow], scope: Scope) -> Sums:
    """The sums of some rows, oldest first, as far as the scope takes them."""
    by_key: dict[StepKey, list[StepRow]] = {}
    for row in steps:
        if scope.takes(row.recipe, row.session):
            by_key.setdefault(row.key, []).append(row)
    taken = [rest for rest in rests if scope.takes(rest.recipe, rest.session)]
    tally = tally_rests(taken)
    return Sums(
        steps=_by_age(_of_rows(key, rows) for key, rows in by_key.items()),
        rests=Rested(
            kept=tally.kept,
            unsure=tally.unsure,
            short=tally.short,
            skipped=tally.skipped,
            broken=tally.broken,
            faults=sum(rest.faulty for rest in taken),
            doubts=sum(rest.verdict == UNSURE and not rest.faulty for rest in taken),
        ),
    )


def sums_of_index(index: Index, practice: bool, recipe: str) -> Sums:
    """The sums of all sessions, of one recipe or of all of them ("")."""
    names = ("kept", "unsure", "short", "skipped", "broken", "faults", "doubts")
    counts = dict.fromkeys(names, 0)
    for order in index.kept_orders.values():
        for tally in order.tallies:
            if tally.practice == practice and recipe in ("", tally.recipe):
                for name in names:
                    counts[name] += getattr(tally, name)
    return Sums(
        steps=_by_age(
            _of_sum(key, found)
            for key, found in index.sums.items()
            if key[0] == practice and recipe in ("", key[1])
        ),
        rests=Rested(**counts),
    )


def beside_session(index: Index, session: str, practice: bool) -> tuple[StepRow, ...]:
    """What was done in a session, and so much before it of the same steps as it is judged by."""
    rows: list[StepRow] = []
    for key, last_s in _last_of(index, session).items():
        if key[0] == practice:
            newest = index.newest(key, MOST_RECORDS, upto_s=last_s, without=session)
            rows += newest
    return tuple(sorted(rows, key=lambda r: (r.ended_s, r.order, r.serial, r.nth)))


def _last_of(index: Index, session: str) -> dict[KeyName, float]:
    steps = index.rows(index.orders_of(session)).steps
    return {(row.practice, *row.key): row.ended_s for row in steps if row.session == session}


def _by_age(steps: Iterable[Done]) -> tuple[Done, ...]:
    return tuple(sorted(steps, key=lambda one: (one.first_s, one.key)))


def _of_rows(key: StepKey, rows: list[StepRow]) -> Done:
    sound = [row for row in rows if not row.scrapped]
    return Done(
        key=key,
        taken=tuple(_taken(sound)),
        shared=sum(row.shared for row in sound),
        corrected=sum(row.corrected for row in sound),
        spoilt=len(rows) - len(sound),
        worked=sum(row.work_s > 0.0 for row in rows),
        first_s=rows[0].ended_s,
        newest=rows[-1],
    )


def _taken(sound: Iterable[StepRow]) -> Iterator[tuple[float, int | None, float]]:
    return ((row.ended_s, row.heats, row.work_s) for row in sound)


def _of_sum(key: KeyName, found: Sum) -> Done:
    return Done(
        key=key[1:],
        taken=found.last,
        shared=found.all.shared,
        corrected=found.all.corrected,
        spoilt=found.all.spoilt,
        worked=found.all.worked,
        first_s=found.all.first_s,
        newest=found.newest,
    )
