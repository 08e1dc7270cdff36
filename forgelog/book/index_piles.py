"""Keeps of each step what is learnt from, piled up; only steps that changed are gathered anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from forgelog.book.index_draft import Draft
from forgelog.book.index_records import KeyName, Tail
from forgelog.learn.heats import pile_heats
from forgelog.learn.minutes import pile_times
from forgelog.learn.records import bench_times, hand_times, heat_records
from forgelog.learn.rows import Rows, StepRow
from forgelog.learn.rule import MOST_RECORDS
from forgelog.recipe.resolved import METHODS

ROWS, TAIL = "rows", "tail"


def tail_name(key: KeyName) -> str:
    """The name under which the tail of a step is kept."""
    return "\n".join(("practice" if key[0] else "real", *key[1:]))


def newest_rows(
    draft: Draft,
    key: KeyName,
    count: int,
    wanted: Callable[[StepRow], bool],
    upto_s: float | None = None,
) -> list[StepRow]:
    """The newest rows of a step, oldest first, so many of which are wanted ones; or all of them.

    Args:
        draft: The index.
        key: The step.
        count: How many wanted ones there must be, at least.
        wanted: Whether a row is one.
        upto_s: Only rows that ended until then.
    """
    tail = draft.get(TAIL, tail_name(key), Tail) or Tail()
    found = [row for row in tail.rows if upto_s is None or row.ended_s <= upto_s]
    all_of_it = sum(share.made + share.spoilt for share in tail.shares.values())
    if all_of_it == len(tail.rows) or sum(map(wanted, found)) >= count:
        return found
    found = []
    for order, share in sorted(tail.shares.items(), key=lambda pair: -pair[1].last_s):
        if upto_s is not None and share.first_s > upto_s:
            continue
        ends = [row.ended_s for row in found if wanted(row)]
        if len(ends) >= count and share.last_s < sorted(ends)[-count]:
            break
        found += [
            row
            for row in draft.need(ROWS, order, Rows).steps
            if (row.practice, *row.key) == key and (upto_s is None or row.ended_s <= upto_s)
        ]
    return sorted(found, key=lambda r: (r.ended_s, r.order, r.serial, r.nth))


def keep_piles(draft: Draft, keys: Iterable[KeyName]) -> None:
    """Pile up anew what some steps teach.

    Args:
        draft: The index; the tails and sums of these steps are kept already.
        keys: Steps whose rows have changed, or that are gone.
    """
    places: dict[KeyName, None] = {}
    for key in keys:
        kept = draft.sums.get(key)
        draft.heats.pop(key, None)
        draft.hand.pop(key, None)
        places[(*key[:4], "")] = None
        if kept is None:
            continue
        if kept.all.taught:
            rows = newest_rows(draft, key, MOST_RECORDS, lambda row: bool(heat_records([row])))
            if heats := heat_records(rows):
                draft.heats[key] = pile_heats(heats, kept.all.taught)
        if kept.all.timed and kept.newest.forged:
            rows = newest_rows(draft, key, MOST_RECORDS, lambda row: bool(hand_times([row])))
            if times := hand_times(rows):
                draft.hand[key] = pile_times(times, kept.all.timed)
    for place in places:
        _keep_bench(draft, place)


def _keep_bench(draft: Draft, place: KeyName) -> None:
    """Pile up the times at the bench of one step, by all methods together."""
    draft.bench.pop(place, None)
    rows: list[StepRow] = []
    timed = 0
    for method in ("", *METHODS):
        key = (*place[:4], method)
        kept = draft.sums.get(key)
        if kept is not None and kept.all.timed and not kept.newest.forged:
            timed += kept.all.timed
            rows += newest_rows(draft, key, MOST_RECORDS, lambda row: bool(bench_times([row])))
    rows.sort(key=lambda r: (r.ended_s, r.order, r.serial, r.nth))
    if times := bench_times(rows):
        draft.bench[place] = pile_times(times, timed)
