"""A bar of the rack, or a labelled rest of one."""

from __future__ import annotations

import msgspec

from forgelog.trade.sections import Section


class Bar(msgspec.Struct, frozen=True, kw_only=True):
    """Bars of one kind on the rack, or a labelled rest of one."""

    section: Section
    long_mm: float
    """Length of each."""
    count: int = 1
    steel: str = "mild"
    label: str = ""
    """What is written on it."""
    where: str = ""
    """Where it lies, in the smith's words."""
    offcut: bool = False
