"""What the evening asks and says, as records. Texts are final and harmless."""

from __future__ import annotations

import msgspec

from forgelog.desk.review_facts import AskHeats
from forgelog.trade.sections import Section


class Lying(msgspec.Struct, frozen=True, kw_only=True):
    """Alike pieces that lie in one place."""

    workpieces: tuple[str, ...]
    words: str
    """ "orchard gate: strap, left 1 and 2"."""
    where: str
    """ "box 2", "on the bench"; "" where nobody has said."""
    can_be_told: bool = True
    """False for what is in the hand or the fire still."""


class FuelAsked(msgspec.Struct, frozen=True, kw_only=True):
    """Fuel of the last session at the fire."""

    session: str
    fire: str
    kind: str
    weighed: bool
    """A bottle, weighed before and after; else so many kg."""
    before_kg: float | None = None
    """Its weight when it was weighed last."""
    told: str = ""
    """What is written down already: "2.60 kg, from 21.4 kg to 18.8 kg"."""


class CutAsked(msgspec.Struct, frozen=True, kw_only=True):
    """A cut length of which it could be said how it came out."""

    recipe: str
    component: str
    order: str
    section: Section
    cut_mm: float
    asked_mm: float
    """What the recipe told to cut."""
    words: str
    """ "paddock gate: strap, 480 mm of 40 x 8 mm flat"."""
    told: str = ""
    """What was said last: "came out 6 mm short of 480 mm: try 486 mm"."""


class OffcutShown(msgspec.Struct, frozen=True, kw_only=True):
    """A labelled offcut on the rack."""

    label: str
    words: str
    """ "K3: 340 mm of 12 mm square, mild"."""


class KeptBar(msgspec.Struct, frozen=True, kw_only=True):
    """A bar of which a rest may be left."""

    section: Section
    steel: str
    words: str
    """ "12 mm square, mild"."""


class Evening(msgspec.Struct, frozen=True, kw_only=True):
    """What the evening page asks and says. Texts are final and harmless."""

    session: str
    """The last session at the fire; "" where there is none."""
    day: str
    """When it began: "Fri 20 Nov 2026, 08:22"; "" where there is none."""
    heats: tuple[AskHeats, ...]
    """Heats that nobody pressed, the latest first."""
    lying: tuple[Lying, ...]
    """Pieces of the session's orders; those of which nobody has said where first."""
    places: tuple[str, ...]
    """Where things lie in this shop, to choose from."""
    fuel: FuelAsked | None
    bars: tuple[KeptBar, ...]
    """Bars that the session's orders are cut from."""
    offcuts: tuple[OffcutShown, ...]
    label: str
    """What to write on the next offcut."""
    cuts: tuple[CutAsked, ...]
    next: tuple[str, ...]
    """The first things of the next day, first thing first."""
    sheets: tuple[str, ...]
    """What prints the sheets for them."""
    orders: tuple[str, ...] = ()
    """Ids of the orders that the first things belong to."""
