"""Facts of the shop around the work: tools and the smith's own words."""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class ToolSeen(Fact, frozen=True, kw_only=True, tag="tool seen"):
    """State of a tool: have, to be made, to be repaired or proved."""

    tool: str
    state: str
    setting: str = ""


class Noted(Fact, frozen=True, kw_only=True, tag="noted"):
    """The smith's own words, on a workpiece, an order or the session."""

    words: str
    workpiece: str = ""
    order: str = ""
