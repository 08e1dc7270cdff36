"""An order, and the prices that were offered for it."""

from __future__ import annotations

import msgspec

from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import Section


class QuoteRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A price that was offered; amounts are text in whole coins."""

    made_s: float
    offset: int = 0
    """Local time less UTC then, minutes."""
    net: str
    tax: str = ""
    total: str
    deposit: str = ""
    currency: str = ""
    method: str = "hand"
    count: int = 1
    valid_until: str = ""
    amounts: dict[str, str] = {}
    quantities: dict[str, str] = {}
    hours: dict[str, str] = {}
    told: dict[str, str] = {}
    without: tuple[str, ...] = ()
    answer: str = ""
    """accepted, declined, superseded; "" while it is open."""


class SpareWanted(msgspec.Struct, frozen=True, kw_only=True):
    """Spares of a component that an order is to have."""

    component: str
    mark: str = ""
    count: int = 1


class Order(msgspec.Struct, frozen=True, kw_only=True):
    """A customer's order."""

    id: str
    label: str
    title: str
    recipe: str
    count: int = 1
    sizes_mm: dict[str, float] = {}
    bars: dict[str, Section] = {}
    """The bars that are used in place of the recipe's, by component."""
    taken_s: float = 0.0
    promised: str = ""
    for_shop: bool = False
    """For the shop itself: what its recipe makes is there once it is finished."""
    free: bool = False
    """Work without a recipe of the book."""
    held: str | None = None
    """Why it is held; None when it is not."""
    closed: str | None = None
    pins: tuple[Recipe, ...] = ()
    """Recipes it works from; empty until its first lay-out."""
    quotes: tuple[QuoteRecord, ...] = ()
    """Prices that were offered, the last one last."""
    costs: dict[str, str] = {}
    """Costs of this order alone, by their words."""
    hours: dict[str, str] = {}
    """Hours that were told, by kind."""
    called_off: bool = False
    """True where it was closed with work still to be done."""
    delivered: str = ""
    """How the customer got it: fetched, sent, fitted, or just "delivered"; "" where not."""
    delivered_on: str = ""
    """The day, YYYY-MM-DD."""
    spares: tuple[SpareWanted, ...] = ()
    """Asked for before the first lay-out, which makes them."""
    notes: tuple[str, ...] = ()
    serials: int = 0
    """Highest serial given out."""
