"""Facts that take back and put back."""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class Undone(Fact, frozen=True, kw_only=True, tag="undone"):
    """A whole press was taken back."""

    press: int
    session: str = ""
    """Where that press stands; "" for this session."""


class Redone(Fact, frozen=True, kw_only=True, tag="put back"):
    """A press that had been taken back was put back."""

    press: int
    session: str = ""
