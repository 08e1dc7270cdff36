"""What goes out with an order, as records. The sheet makes its texts harmless."""

from __future__ import annotations

from forgelog.desk.bought import BoughtShown
from forgelog.desk.job_told import OnPaper
from forgelog.desk.order_view import OrderShown
from forgelog.recipe.step_words import Fact


class PartPacked(OnPaper, frozen=True, kw_only=True):
    """Finished parts of one kind that go into the parcel as they are."""

    name: str
    count: int
    marks: str = ""
    """ "left and right"."""
    made_of: str = ""
    """ "2 strap and 2 pintle" of an assembly."""
    each_kg: float | None
    """Finished, by the form of the recipe; None where the recipe gives none."""
    mass: str
    """Of all of them, in the shop's units; "" where it is not known."""


class FinishPacked(OnPaper, frozen=True, kw_only=True):
    """A finish, and how long it dries."""

    name: str
    """Of the component."""
    do: str
    says: str
    dries: str = ""
    """ "24 h"; "" where the recipe does not say."""
    done: int
    """Pieces that have it."""
    of: int
    dry_from: str = ""
    """ "Fri 27 Nov 2026, 14:05", when the last one is dry, once all are done."""


class PackTold(OnPaper, frozen=True, kw_only=True):
    """What is packed."""

    order: OrderShown
    day: str
    inch: bool
    customer: tuple[Fact, ...] = ()
    recipe: str
    steel: str
    parts: tuple[PartPacked, ...]
    bought: tuple[BoughtShown, ...]
    bought_mass: tuple[str, ...]
    """Of each of `bought`, in the shop's units; "" where it is not known."""
    finishes: tuple[FinishPacked, ...]
    mass: str
    """Of all whose mass is known."""
    not_weighed: tuple[str, ...] = ()
    """Things whose mass is not known."""
    open_steps: int
    """Steps that are still to be done."""
