"""Facts of customers' orders."""

from __future__ import annotations

from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import Section
from forgelog.work.facts.base import Fact, NewPiece


class OrderTaken(Fact, frozen=True, kw_only=True, tag="order taken"):
    """A customer's order came in."""

    order: str
    label: str
    """The smith's own number or a short name."""
    title: str
    recipe: str
    """Id of the recipe in the book."""
    count: int = 1
    """How many sets."""
    sizes_mm: dict[str, float] = {}
    promised: str = ""
    """Date, YYYY-MM-DD; "" where none was promised."""
    for_shop: bool = False
    """True where it is for the shop itself: a tool or jig of its own."""
    free: bool = False
    """Work without a recipe: there is none in the book, and what is done is said as it is done."""


class SizeChanged(Fact, frozen=True, kw_only=True, tag="size changed"):
    """The customer's size is another one. Holds for pieces once a recipe with it is pinned."""

    order: str
    size: str
    mm: float


class BarChosen(Fact, frozen=True, kw_only=True, tag="bar chosen"):
    """A component is cut from the bar that lies there, or (None) from the recipe's own again.

    Holds for pieces once a recipe with it is pinned.
    """

    order: str
    component: str
    section: Section | None = None


class OrderPromised(Fact, frozen=True, kw_only=True, tag="order promised"):
    """A date was promised, or another one, or ("") none any more."""

    order: str
    promised: str


class OrderHeld(Fact, frozen=True, kw_only=True, tag="order held"):
    """Nothing is to be done on it for now."""

    order: str
    why: str = ""


class OrderFreed(Fact, frozen=True, kw_only=True, tag="order freed"):
    """It may be worked on again."""

    order: str


class OrderClosed(Fact, frozen=True, kw_only=True, tag="order closed"):
    """Done with, and not delivered: kept, given away, or called off."""

    order: str
    why: str = ""
    called_off: bool = False
    """True where it was given up with work still to be done."""


class OrderDelivered(Fact, frozen=True, kw_only=True, tag="order delivered"):
    """All of it is made, and the customer has it: the order is done with."""

    order: str
    how: str = ""
    """fetched, sent or fitted; "" where nobody said."""
    day: str = ""
    """The day by the calendar on the wall, YYYY-MM-DD."""
    note: str = ""


class SparesAdded(Fact, frozen=True, kw_only=True, tag="spares added"):
    """More of a component are made in the run than the order wants: "5 for 4"."""

    order: str
    component: str
    mark: str = ""
    count: int = 1
    made: tuple[NewPiece, ...] = ()
    """The new workpieces; none before the first lay-out, which makes them with all others."""


class RecipePinned(Fact, frozen=True, kw_only=True, tag="recipe pinned"):
    """The order works from this recipe, at these sizes, from now on.

    The first time, `made` holds every workpiece of the order. Later, `moved` says which pieces go
    over to the new recipe and at which step they go on; the others stay with theirs.
    """

    order: str
    recipe: Recipe
    made: tuple[NewPiece, ...] = ()
    moved: dict[str, str] = {}
