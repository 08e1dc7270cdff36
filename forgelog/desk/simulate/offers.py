"""Prices that the simulated shop offered, and what it told of its hours: our own invention."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import msgspec

from forgelog.desk.simulate.plan import PlannedOrder
from forgelog.money.lines import Line, priced, quantity_of
from forgelog.money.price import Price, Remakes, price_of
from forgelog.money.rates import Rates
from forgelog.work.facts import AnyFact, HoursTold, QuoteAnswered, QuoteMade


class PlannedOffer(msgspec.Struct, frozen=True, kw_only=True):
    """What the smith reckoned with when the order came in."""

    hours: dict[str, str]
    stock_kg: dict[str, str] = {}
    """By the ids of the quote's lines."""
    fuel_kg: str
    answered: bool = True
    """False where the customer still thinks about it."""
    took: dict[str, str] = {}
    """What was told at the end of hours that no step stands for."""


OFFERS = {
    "D-104": PlannedOffer(
        hours={"design": "1", "lay-out": "0.75", "fire": "2.2", "bench": "6", "finish": "1"},
        stock_kg={
            "stock:40-x-8-mm-flat-mild": "2.434",
            "stock:25-mm-square-mild": "1.205",
            "stock:25-x-12-mm-flat-mild": "0.133",
            "stock:50-x-6-mm-flat-mild": "0.257",
        },
        fuel_kg="1.98",
        took={"design": "1.75", "lay-out": "0.75", "pack": "0.5"},
    ),
    "D-106": PlannedOffer(
        hours={"design": "2", "lay-out": "0.75", "fire": "1.8", "bench": "8", "finish": "1.2"},
        stock_kg={"stock:25-x-8-mm-flat-mild": "1.941", "stock:12-x-6-mm-flat-mild": "0.994"},
        fuel_kg="1.62",
        took={"design": "2.5", "lay-out": "1", "pack": "0.5"},
    ),
    "D-107": PlannedOffer(
        hours={"design": "0.5", "lay-out": "0.5", "fire": "1.5", "bench": "3.5", "finish": "0.3"},
        stock_kg={"stock:45-mm-square-1045": "1.073"},
        fuel_kg="1.35",
        took={"design": "0.5", "lay-out": "0.5", "pack": "0.25"},
    ),
    "D-108": PlannedOffer(
        hours={"design": "1.5", "lay-out": "0.75", "fire": "1.6", "bench": "7.5", "finish": "1.2"},
        stock_kg={"stock:40-x-8-mm-flat-mild": "2.434", "stock:25-mm-square-mild": "1.167"},
        fuel_kg="1.44",
    ),
    "D-110": PlannedOffer(
        hours={"design": "2", "lay-out": "0.75", "fire": "1.4", "bench": "9", "finish": "1.2"},
        stock_kg={"stock:25-x-8-mm-flat-mild": "2.010", "stock:12-x-6-mm-flat-mild": "1.006"},
        fuel_kg="1.26",
        answered=False,
    ),
}
"""By the order's label; the other orders were agreed without a written offer."""


def offered(order: PlannedOrder, order_id: str, rates: Rates) -> tuple[AnyFact, ...]:
    """The offer that went out when the order came in, and its answer.

    Args:
        order: As the customer gave it.
        order_id: Its id in the journal.
        rates: Of the demo shop.
    """
    plan = OFFERS.get(order.label)
    if plan is None:
        return ()
    price = _price(plan, rates)
    plain = rates.currency.plain
    made = QuoteMade(
        order=order_id,
        net=plain(price.net),
        tax=plain(price.tax or Decimal(0)),
        total=plain(price.total),
        deposit=plain(price.deposit or Decimal(0)),
        currency=rates.currency.code,
        count=order.count,
        valid_until=(order.taken + timedelta(days=rates.valid_days or 0)).isoformat(),
        amounts={line.id: plain(line.amount) for line in price.lines if line.amount is not None},
        quantities={
            line.id: f"{line.quantity:f} {line.unit}".rstrip()
            for line in price.lines
            if line.quantity is not None
        },
        hours={kind: f"{quantity_of(Decimal(hours)):f}" for kind, hours in plan.hours.items()},
    )
    return (made, QuoteAnswered(order=order_id, accepted=True)) if plan.answered else (made,)


def took(order: PlannedOrder, order_id: str) -> tuple[AnyFact, ...]:
    """What the smith told of his hours at the end."""
    plan = OFFERS.get(order.label)
    if plan is None or not plan.took:
        return ()
    hours = {kind: f"{quantity_of(Decimal(hours)):f}" for kind, hours in plan.took.items()}
    return (HoursTold(order=order_id, hours=hours),)


def _price(plan: PlannedOffer, rates: Rates) -> Price:
    hours = {kind: quantity_of(Decimal(text)) for kind, text in plan.hours.items()}

    def line(id_: str, group: str, quantity: Decimal, unit: str, each: Decimal | None) -> Line:
        return priced(
            rates.currency,
            id=id_,
            group=group,
            words=id_,
            quantity=quantity,
            unit=unit,
            each=each,
            unset="",
            at_risk=group in ("material", "fire"),
        )

    lines = [
        *(
            line(name, "material", Decimal(kg), "kg", rates.steel_kg.get(name.rsplit("-", 1)[1]))
            for name, kg in plan.stock_kg.items()
        ),
        line("fuel", "fire", Decimal(plan.fuel_kg), "kg", rates.fuel_kg.get("gas")),
        *(
            line(f"hours:{kind}", "work", hour, "h", rates.hour.get(kind))
            for kind, hour in hours.items()
        ),
        line("overhead", "overhead", sum(hours.values(), Decimal(0)), "h", rates.overhead_hour),
    ]
    return price_of(lines, rates, Remakes(share=rates.remakes))
