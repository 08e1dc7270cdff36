"""Facts of the shop around the work: tools and the smith's own words."""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class ToolSeen(Fact, frozen=True, kw_only=True, tag="tool seen"):
    """State of a tool: have, to be made, to be repaired or proved."""

    tool: str
    state: str
    setting: str = ""


class JigSet(Fact, frozen=True, kw_only=True, tag="jig set"):
    """A step was begun that wants a jig at another setting than it had: it is set so now."""

    tool: str
    setting: str
    """As the recipe says it; resolved prose."""
    workpiece: str
    step: str


class Noted(Fact, frozen=True, kw_only=True, tag="noted"):
    """The smith's own words, on a workpiece, an order or the session."""

    words: str
    workpiece: str = ""
    order: str = ""
