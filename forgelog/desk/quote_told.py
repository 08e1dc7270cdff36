"""What a quote tells, as records: keys of `forgelog quote --json`, and what pages are made from.

Texts are final and harmless. An amount of money is text in whole coins of the currency ("133.00"),
"" where it is not known; a quantity has its unit. Lines add up to `net` as they are shown.
"""

from __future__ import annotations

import msgspec


class Quoted(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records."""


class LineTold(Quoted, frozen=True, kw_only=True):
    """One line of cost or price."""

    id: str
    group: str
    """material, fire, work, overhead, order or price."""
    title: str
    """The group's title."""
    words: str
    quantity: str
    """ "3.50 h"; "" where the line has none."""
    each: str
    """Price of one unit, without the currency."""
    amount: str
    """ "" where it is blank: then `missing` says what to set."""
    missing: str
    note: str


class HoursTold(Quoted, frozen=True, kw_only=True):
    """Hours of one kind."""

    kind: str
    words: str
    hours: str
    """ "3.50"; "" where nobody has said."""
    low: str
    """Most often it takes from so many hours"""
    high: str
    """to so many; "" where the hours were told."""
    source: str


class ColumnTold(Quoted, frozen=True, kw_only=True):
    """The quote with the forging done by one method."""

    method: str
    words: str
    """ "by hand"."""
    lines: tuple[LineTold, ...]
    hours: tuple[HoursTold, ...]
    cost: str
    net: str
    """Without tax."""
    net_low: str
    """Net if the hours come out as low as they most often do"""
    net_high: str
    """and as high."""
    tax: str
    tax_words: str
    """ "VAT 20 %", or where it is set."""
    total: str
    """Net and tax."""
    deposit: str
    """ "" where the shop asks for none."""
    deposit_words: str
    rest: str
    """Total less deposit."""
    without: tuple[str, ...]
    """What is not in the sums because it is not set."""
    without_words: str
    """ "without margin, tax"; "" where nothing is missing."""


class OfferTold(Quoted, frozen=True, kw_only=True):
    """A price that was offered to the customer."""

    number: int
    """From 1, the first offer of the order."""
    day: str
    """YYYY-MM-DD."""
    valid_until: str
    """YYYY-MM-DD, or ""."""
    method: str
    net: str
    tax: str
    total: str
    deposit: str
    currency: str
    answer: str
    """ "" while it is open, accepted, declined, or superseded by a later one."""
    lapsed: bool
    """It is open and its last day is over."""


class ComparedTold(Quoted, frozen=True, kw_only=True):
    """Quoted against actual, for one kind of hour or one material."""

    id: str
    words: str
    quoted: str
    """With its unit; "" where it was not quoted."""
    actual: str
    """ "" where nobody knows."""
    difference: str
    """ "+1.20 h"; "" where either is not known."""
    why: str
    """The reason where the journal knows one."""


class ActualTold(Quoted, frozen=True, kw_only=True):
    """How the work came out."""

    finished: bool
    """Every piece is made."""
    lines: tuple[ComparedTold, ...]
    hours: str
    """All hours that are known, "12.40"."""
    earned_hour: str
    """What an hour earned: the price without tax less what was bought, over the hours."""
    earned_words: str
    """How that is reckoned, or what is missing for it."""


class QuoteTold(Quoted, frozen=True, kw_only=True):
    """The quote of an order."""

    order: str
    label: str
    title: str
    recipe: str
    recipe_name: str
    says: str
    """What the recipe says of the thing, in a sentence or two."""
    count: int
    """How many sets."""
    sizes: tuple[str, ...]
    """ "post 100 mm"."""
    shop: str
    """Name of the shop, or ""."""
    day: str
    """The day of the quote, YYYY-MM-DD."""
    valid_until: str
    """YYYY-MM-DD, or "" where the shop sets no validity."""
    promised: str
    """YYYY-MM-DD, or ""."""
    currency: str
    """Three letters, or ""."""
    digits: int
    """Decimals of the currency's smallest coin."""
    method: str
    """Of the column that the price is taken from."""
    columns: tuple[ColumnTold, ...]
    own: tuple[LineTold, ...]
    """The order's own lines (site survey, carriage), which the customer may see by name."""
    rounding: str
    """How it was rounded, in a sentence."""
    offers: tuple[OfferTold, ...]
    """The newest last."""
    actual: ActualTold | None
    """None before any work was done."""
    problems: tuple[str, ...]
    """What is wrong in the tables of money in shop.toml, and other things to know first."""

    @property
    def chosen(self) -> ColumnTold:
        """The column of `method`."""
        return next(c for c in self.columns if c.method == self.method)
