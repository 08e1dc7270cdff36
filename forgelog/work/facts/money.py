"""Facts of money. Amounts are text in whole coins ("133.00"), so that they stay what was said."""

from __future__ import annotations

from forgelog.work.facts.base import Fact


class QuoteMade(Fact, frozen=True, kw_only=True, tag="quote made"):
    """A price was offered to the customer. Open offers before it no longer hold."""

    order: str
    net: str
    """Without tax."""
    total: str
    """With tax, where a tax is set."""
    tax: str = ""
    """ "" where none is set."""
    deposit: str = ""
    currency: str = ""
    method: str = "hand"
    """By which the forging was reckoned."""
    count: int = 1
    """Sets that it was for."""
    valid_until: str = ""
    """YYYY-MM-DD, or ""."""
    amounts: dict[str, str] = {}
    """Of each line, by its id."""
    quantities: dict[str, str] = {}
    """Of each line that has one, with its unit: "3.50 h"."""
    hours: dict[str, str] = {}
    """By kind."""
    told: dict[str, str] = {}
    """Hours among them that the smith named for this order."""
    without: tuple[str, ...] = ()
    """What was left out because it was not set."""


class QuoteAnswered(Fact, frozen=True, kw_only=True, tag="quote answered"):
    """The customer took the last offer, or did not."""

    order: str
    accepted: bool


class OrderCost(Fact, frozen=True, kw_only=True, tag="order cost"):
    """A cost of this order alone: site survey, carriage, galvanising by somebody else."""

    order: str
    words: str
    amount: str = ""
    """ "" takes it off again."""


class HoursTold(Fact, frozen=True, kw_only=True, tag="hours told"):
    """Hours that no step of the recipe stands for: what they really took, by kind."""

    order: str
    hours: dict[str, str] = {}
    """Replaces what was said of the same kind before; "" takes it off again."""
