"""Facts of the saw: which pieces came off which bar, and that taken back.

They name no order as such, and are written at the desk, so that every look at the book sees them.
What becomes of labelled rests stands beside them: `OffcutUsed` and `OffcutKept` of the same press.
"""

from __future__ import annotations

import msgspec

from forgelog.trade.sections import Section
from forgelog.work.facts.base import Fact


class SawnPieces(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Alike pieces that were sawn from one bar."""

    order: str
    component: str
    cut_mm: float
    """Of each."""
    count: int
    workpieces: tuple[str, ...] = ()
    """Ids, where the order's workpieces had been made."""


class BarCut(Fact, frozen=True, kw_only=True, tag="bar cut"):
    """A bar or a rest was sawn."""

    cut: str
    """An id of its own."""
    section: Section
    long_mm: float
    """Before it was sawn."""
    steel: str = "mild"
    label: str = ""
    where: str = ""
    kind: str = "bar"
    """bar (of the rack), offcut, or new: bought for it and never on the rack."""
    listed: int = 0
    """How many bars of just this kind the smith's list of the rack said there are."""
    pieces: tuple[SawnPieces, ...]
    rest_mm: float = 0.0
    rest_label: str = ""
    """Under which the rest was kept; "" where it was not."""


class BarNotCut(Fact, frozen=True, kw_only=True, tag="bar not cut"):
    """A bar was not sawn after all: what was written down of it is taken back."""

    cut: str
