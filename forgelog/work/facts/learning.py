"""Facts of what the journal teaches: a suggestion taken up, or not wanted, or asked for again.

They name no order and are written at the desk, so that every look at the book sees them. A file
that the smith wrote is never changed by them.
"""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class SuggestionAccepted(Fact, frozen=True, kw_only=True, tag="suggestion accepted"):
    """The smith took a suggestion up: its figure is the book's own from now on."""

    suggestion: str
    """Its id, the same for ever: "heats/hinge/strap/roll-the-eye/hand"."""
    what: str
    """heats, or another kind of suggestion, which changes no figure."""
    recipe: str
    component: str = ""
    step: str = ""
    method: str = ""
    heats: int | None = None
    """The planned heats that hold from now on; None where it is not about heats."""
    instead_of: int | None = None
    """The recipe's plan then."""


class SuggestionDeclined(Fact, frozen=True, kw_only=True, tag="suggestion declined"):
    """The smith does not want it: it is not made again. A figure taken up before goes with it."""

    suggestion: str
    what: str = ""
    recipe: str = ""
    component: str = ""
    step: str = ""
    method: str = ""


class SuggestionReopened(Fact, frozen=True, kw_only=True, tag="suggestion reopened"):
    """The answer to a suggestion is taken back: it may be made again."""

    suggestion: str
