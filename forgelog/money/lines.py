"""One line of a quote: so much of something, at so much, or what has to be set first."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from forgelog.money.amounts import Currency
from forgelog.money.rates import MoneyRecord

GROUPS = {
    "material": "MATERIAL",
    "fire": "FIRE AND POWER",
    "work": "WORK",
    "overhead": "OVERHEAD",
    "order": "THIS ORDER'S OWN",
    "price": "PRICE",
}
"""Parts of a quote, in order, with their titles."""


class Line(MoneyRecord, frozen=True, kw_only=True):
    """One line. Either `amount` is there, or `missing` says what has to be set."""

    id: str
    """Unlike that of any other line: "stock:25-mm-square", "hours:fire"."""
    group: str
    """One of GROUPS."""
    words: str
    quantity: Decimal | None = None
    unit: str = ""
    each: Decimal | None = None
    """Price of one unit."""
    amount: Decimal | None = None
    """In whole coins."""
    missing: str = ""
    """ "not set: shop.toml [rates] fire_hour"."""
    note: str = ""
    """Where the quantity comes from, and how sure it is."""
    at_risk: bool = False
    """Spent again on a piece that is made again."""


def quantity_of(value: float | Decimal, places: int = 2) -> Decimal:
    """A quantity as it is shown, so that anybody can reckon the line after.

    >>> str(quantity_of(2.345))
    '2.35'
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def priced(
    currency: Currency,
    *,
    id: str,
    group: str,
    words: str,
    quantity: Decimal | None,
    unit: str,
    each: Decimal | None,
    unset: str,
    note: str = "",
    at_risk: bool = False,
    no_quantity: str = "",
) -> Line:
    """A line of so much at so much; blank where either is not known.

    Args:
        currency: Whose smallest coin the amount is rounded to, half up.
        id: Of the line.
        group: One of GROUPS.
        words: What it is for.
        quantity: How much, as it is shown.
        unit: Of the quantity.
        each: Price of one unit; None where it is not set.
        unset: Where the price is set: "[rates] fire_hour".
        note: Where the quantity comes from.
        at_risk: Spent again on a piece that is made again.
        no_quantity: What to do where there is no quantity.
    """
    missing = ""
    if quantity is None:
        missing = no_quantity
    elif each is None and quantity:
        missing = f"not set: shop.toml {unset}"
    known = not missing and quantity is not None
    return Line(
        id=id,
        group=group,
        words=words,
        quantity=quantity,
        unit=unit,
        each=each,
        amount=currency.rounded(quantity * (each or 0)) if known and quantity is not None else None,
        missing=missing,
        note=note,
        at_risk=at_risk,
    )
