"""Keeps an order's rows in the index, and what they add up to: tallies of rests, sums of steps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from forgelog.book.index_draft import Draft
from forgelog.book.index_piles import ROWS, TAIL, keep_piles, tail_name
from forgelog.book.index_records import (
    LAST_TOLD,
    NEWEST_ROWS,
    KeyName,
    Mishaps,
    OrderKept,
    Share,
    Spent,
    Sum,
    Tail,
    Tally,
)
from forgelog.learn.records import bench_times, hand_times, heat_records
from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import CRACKED, SCRAPPED, UNSURE, Rows, StepRow
from forgelog.recipe.resolved import at_the_fire
from forgelog.work.changes import replace
from forgelog.work.state import Order, State, Workpiece


def keep_rows(
    draft: Draft, order: Order, pieces: Iterable[Workpiece], practised: frozenset[str]
) -> None:
    """Keep the rows of an order in the place of those that were kept before.

    Args:
        draft: The index; the order is in its list.
        order: With its recipes.
        pieces: All its pieces.
        practised: Ids of the practice sessions.
    """
    state = State(orders={order.id: order}, pieces={piece.id: piece for piece in pieces})
    rows = make_rows(state, (order.id,), practised)
    by_key: dict[KeyName, list[StepRow]] = {}
    for row in rows.steps:
        by_key.setdefault((row.practice, *row.key), []).append(row)
    before = draft.orders[order.id]
    draft.put(ROWS, order.id, rows)
    _keep_mishaps(draft, order.id, rows)
    draft.orders[order.id] = replace(
        before,
        row=rows.orders[0],
        tallies=_tallies(rows),
        spent=_spent(rows),
        keys=tuple(by_key),
    )
    keys = dict.fromkeys((*before.keys, *by_key))
    keep_piles(
        draft, [key for key in keys if _keep_step(draft, key, order.id, by_key.get(key, []))]
    )


def forget_rows(draft: Draft, order: str) -> None:
    """Forget the rows of an order; it is still in the list of orders."""
    kept: OrderKept = draft.orders[order]
    draft.drop(ROWS, order)
    draft.mishaps.pop(order, None)
    keep_piles(draft, [key for key in kept.keys if _keep_step(draft, key, order, [])])


def _tallies(rows: Rows) -> tuple[Tally, ...]:
    found: dict[tuple[bool, str], dict[str, int]] = {}
    for rest in rows.rests:
        counts = found.setdefault((rest.practice, rest.recipe), {})
        for name, holds in (
            (rest.verdict, True),
            ("faults", rest.faulty),
            ("doubts", rest.verdict == UNSURE and not rest.faulty),
        ):
            counts[name] = counts.get(name, 0) + holds
    for spoilt in rows.spoilt:
        counts = found.setdefault((spoilt.practice, spoilt.recipe), {})
        counts["scrapped"] = counts.get("scrapped", 0) + (spoilt.kind == SCRAPPED)
    worked = {(row.practice, row.workpiece): row for row in rows.steps}
    for row in worked.values():
        counts = found.setdefault((row.practice, row.recipe), {})
        counts["worked"] = counts.get("worked", 0) + (row.lot or 1)
    for spoilt in rows.spoilt:
        if spoilt.kind == SCRAPPED and (spoilt.practice, spoilt.workpiece) in worked:
            counts = found[spoilt.practice, spoilt.recipe]
            counts["lost"] = counts.get("lost", 0) + 1
    return tuple(
        Tally(practice=practice, recipe=recipe, **counts)
        for (practice, recipe), counts in found.items()
    )


def _spent(rows: Rows) -> tuple[Spent, ...]:
    found: dict[tuple[bool, str], list[float]] = {}
    for row in rows.steps:
        times = found.setdefault((row.practice, row.session), [0.0, 0.0])
        times[0 if at_the_fire(row.kind) else 1] += row.work_s
    return tuple(
        Spent(practice=practice, session=session, hand_s=hand_s, bench_s=bench_s)
        for (practice, session), (hand_s, bench_s) in found.items()
    )


def _keep_mishaps(draft: Draft, order: str, rows: Rows) -> None:
    if not rows.spoilt:
        draft.mishaps.pop(order, None)
        return
    lost = {row.workpiece for row in rows.spoilt if row.kind in (SCRAPPED, CRACKED)}
    cycles = tuple(r for r in rows.rests if r.lost_cycle and r.workpiece in lost)
    draft.mishaps[order] = Mishaps(spoilt=rows.spoilt, lost=cycles)


def _keep_step(draft: Draft, key: KeyName, order: str, rows: Sequence[StepRow]) -> bool:
    """Keep a step's newest rows and its sum; returns whether anything of it has changed."""
    name = tail_name(key)
    was = draft.get(TAIL, name, Tail) or Tail()
    shares = {other: share for other, share in was.shares.items() if other != order}
    others = [row for row in was.rows if row.order != order]
    newest = _newest([*others, *rows])
    if rows:
        shares[order] = _share(rows)
    if not shares:
        draft.drop(TAIL, name)
        draft.sums.pop(key, None)
        return True
    cut = len(was.rows) >= NEWEST_ROWS
    if cut and (len(newest) < NEWEST_ROWS or _age(newest[0]) < _age(was.rows[0])):
        newest = _gathered(draft, key, shares, {order: rows})
    now = Tail(rows=tuple(newest), shares=shares)
    if now == was:
        return False
    draft.put(TAIL, name, now)
    draft.sums[key] = Sum(
        key=key,
        all=_together(shares.values()),
        last=tuple((row.ended_s, row.heats, row.work_s) for row in _last_told(newest)),
        newest=newest[-1],
    )
    return True


def _last_told(newest: Sequence[StepRow]) -> list[StepRow]:
    """The last pieces that were not spoilt, so many that enough have heats, or a time."""
    told: list[StepRow] = []
    known = 0
    for row in reversed(newest):
        if row.scrapped:
            continue
        told.append(row)
        known += bool(row.heats) if row.forged else row.work_s > 0.0
        if known == LAST_TOLD:
            break
    return told[::-1]


def _gathered(
    draft: Draft, key: KeyName, shares: dict[str, Share], at_hand: dict[str, Sequence[StepRow]]
) -> list[StepRow]:
    """The newest rows of a step, from the rows of the orders: newest orders first."""
    found: list[StepRow] = []
    for order, share in sorted(shares.items(), key=lambda pair: -pair[1].last_s):
        if len(found) >= NEWEST_ROWS and share.last_s < found[0].ended_s:
            break
        rows = at_hand.get(order)
        if rows is None:
            steps = draft.need(ROWS, order, Rows).steps
            rows = [row for row in steps if (row.practice, *row.key) == key]
        found = _newest([*found, *rows])
    return found


def _newest(rows: Iterable[StepRow]) -> list[StepRow]:
    return sorted(rows, key=_age)[-NEWEST_ROWS:]


def _age(row: StepRow) -> tuple[float, str, int, int]:
    return (row.ended_s, row.order, row.serial, row.nth)


def _share(rows: Sequence[StepRow]) -> Share:
    sound = [row for row in rows if not row.scrapped]
    return Share(
        made=len(sound),
        shared=sum(row.shared for row in sound),
        corrected=sum(row.corrected for row in sound),
        spoilt=len(rows) - len(sound),
        unknown=sum(not row.heats for row in sound),
        worked=sum(row.work_s > 0.0 for row in rows),
        taught=len(heat_records(rows)),
        timed=len(hand_times(rows) if rows[0].forged else bench_times(rows)),
        first_s=rows[0].ended_s,
        last_s=rows[-1].ended_s,
    )


def _together(shares: Iterable[Share]) -> Share:
    all_of = tuple(shares)
    counts = ("made", "shared", "corrected", "spoilt", "unknown", "worked", "taught", "timed")
    return Share(
        **{name: sum(getattr(share, name) for share in all_of) for name in counts},
        first_s=min(share.first_s for share in all_of),
        last_s=max(share.last_s for share in all_of),
    )
