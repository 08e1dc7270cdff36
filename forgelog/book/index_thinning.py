"""What stood before a session is kept densely for the last ones and thinly for the years before."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable

from forgelog.book.index_draft import Draft
from forgelog.book.index_versions import STANDING, VERSION, version_name
from forgelog.work.changes import replace

DENSE = 8
"""For so many of the last sessions, what stood before each is kept."""
THIN = 50
"""Before them, of so many sessions one."""


def thin_out(draft: Draft, orders: Iterable[str]) -> None:
    """Forget what stood before most of the sessions of long ago.

    Args:
        draft: The index.
        orders: Ids of those that were changed since the last time.
    """
    dense = len(draft.marks) - DENSE
    stands: list[int] = []
    for stand in draft.tip.stands:
        if stand >= dense or not stands or stand // THIN > stands[-1] // THIN:
            stands.append(stand)
        else:
            draft.drop(STANDING, str(stand))
    draft.tip = replace(draft.tip, stands=tuple(stands))
    for order in orders:
        kept = draft.orders[order]
        wanted = {kept.versions[-1]}
        for stand in stands:
            before = bisect_left(kept.versions, stand)
            if before:
                wanted.add(kept.versions[before - 1])
        for version in kept.versions:
            if version not in wanted:
                draft.drop(VERSION, version_name(order, version))
        draft.orders[order] = replace(kept, versions=tuple(sorted(wanted)))
