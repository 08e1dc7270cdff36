"""From lines of cost to the price: remakes, margin, minimum charge, tax, deposit.

Every step is rounded to the coin by itself and all later sums are of rounded amounts.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from forgelog.money.amounts import added, show_share
from forgelog.money.lines import Line
from forgelog.money.rates import MoneyRecord, Rates


class Remakes(MoneyRecord, frozen=True, kw_only=True):
    """What share of pieces has to be made again, and how that is known."""

    share: Decimal | None
    """None where nothing is known."""
    note: str = ""


class Price(MoneyRecord, frozen=True, kw_only=True):
    """A price, and all that it is the sum of."""

    lines: tuple[Line, ...]
    """In order; `net` is the sum of their amounts."""
    cost: Decimal
    """Sum of the lines but margin and minimum charge."""
    net: Decimal
    tax: Decimal | None
    """None where it is not set."""
    total: Decimal
    """Net and tax."""
    deposit: Decimal | None
    """None where the shop asks for none."""
    rest: Decimal | None
    """Total less deposit."""
    without: tuple[str, ...]
    """Words of the lines that are blank, so are not in the sums."""


WEIGHT = 20
"""An assumed share counts for so many pieces of the record. Stated, not measured."""


def remakes_of(spoilt: int, made: int, *, all_spoilt: int, all_made: int, rates: Rates) -> Remakes:
    """Share of pieces to be made again: of this recipe, drawn to the shop's, drawn to the assumed.

    Args:
        spoilt: Pieces of the recipe that were scrapped.
        made: Pieces of it that were finished or scrapped.
        all_spoilt: The same of all recipes.
        all_made: The same.
        rates: Whose `remakes` is what the smith reckons with, if he said so.
    """
    assumed = rates.remakes
    if not all_made and assumed is None:
        return Remakes(share=None)
    if assumed is None:
        shop = Decimal(all_spoilt) / all_made
    else:
        shop = (all_spoilt + assumed * WEIGHT) / (all_made + WEIGHT)
    share = (spoilt + shop * WEIGHT) / (made + WEIGHT)
    note = f"{spoilt} of {made} pieces of this recipe scrapped, {all_spoilt} of {all_made} of all"
    if assumed is not None:
        note += f"; drawn to the assumed {show_share(assumed)} (shop.toml [quote] remakes)"
    return Remakes(share=share.quantize(Decimal("0.001")), note=note)


def price_of(lines: Sequence[Line], rates: Rates, remakes: Remakes) -> Price:
    """The price of an order.

    Args:
        lines: Of cost.
        rates: The shop's terms.
        remakes: How much is reckoned for pieces made again.
    """
    coin = rates.currency.rounded
    risk = added([line.amount for line in lines if line.at_risk])
    all_lines = [*lines, _remakes_line(risk, rates, remakes)]
    cost = added([line.amount for line in all_lines])
    all_lines.append(_margin_line(cost, rates))
    net = added([line.amount for line in all_lines])
    if rates.minimum is not None and net < coin(rates.minimum):
        raised = coin(rates.minimum) - net
        all_lines.append(
            Line(
                id="minimum",
                group="price",
                words="up to the minimum charge",
                amount=raised,
                note=f"minimum charge {rates.currency.shown(rates.minimum)}",
            )
        )
        net += raised
    tax = coin(net * rates.tax) if rates.tax is not None else None
    total = net + (tax or Decimal(0))
    deposit = coin(total * rates.deposit) if rates.deposit is not None else None
    without = [line.words for line in all_lines if line.missing]
    if tax is None:
        without.append("tax")
    return Price(
        lines=tuple(all_lines),
        cost=cost,
        net=net,
        tax=tax,
        total=total,
        deposit=deposit,
        rest=total - deposit if deposit is not None else None,
        without=tuple(without),
    )


def _remakes_line(risk: Decimal, rates: Rates, remakes: Remakes) -> Line:
    share = remakes.share
    words = "pieces made again"
    if share is None:
        missing = "no record yet, and not set: shop.toml [quote] remakes"
        return Line(id="remakes", group="price", words=words, missing=missing)
    return Line(
        id="remakes",
        group="price",
        words=f"{words}, {show_share(share)} of stock, fire and forging",
        amount=rates.currency.rounded(risk * share),
        note=remakes.note,
    )


def _margin_line(cost: Decimal, rates: Rates) -> Line:
    if rates.margin is None:
        missing = "not set: shop.toml [quote] margin"
        return Line(id="margin", group="price", words="margin", missing=missing)
    return Line(
        id="margin",
        group="price",
        words=f"margin, {show_share(rates.margin)} on the costs",
        amount=rates.currency.rounded(cost * rates.margin),
    )
