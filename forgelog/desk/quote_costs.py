"""Lines of cost of an order by one method: material, fire, work, overhead, its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal

from forgelog.desk.bought import to_buy
from forgelog.desk.quote_hours import KindHours
from forgelog.desk.quote_past import number
from forgelog.desk.quote_stock import Costing, stock_lines
from forgelog.money.lines import Line, priced, quantity_of
from forgelog.money.rates import ALWAYS, HOURS, OF_STEPS, Rates
from forgelog.recipe.plain import harmless
from forgelog.trade.fuel import USE_KG_H
from forgelog.trade.sections import DENSITY_KG_M3

HAMMERS = ("power", "press")
"""Methods that draw current."""


def cost_lines(costing: Costing, hours: tuple[KindHours, ...], method: str) -> tuple[Line, ...]:
    """Every line of cost.

    Args:
        costing: The order.
        hours: By kind.
        method: By which it is forged.
    """
    return (
        *stock_lines(costing),
        *_bought_lines(costing),
        *_finish_line(costing),
        *_fire_lines(costing, {h.kind: h for h in hours}, method),
        *_hour_lines(costing.rates, hours),
        *_overhead_line(costing.rates, hours),
        *_own_lines(costing),
    )


def _bought_lines(costing: Costing) -> Iterator[Line]:
    for one in to_buy(costing.recipe, costing.count, costing.units):
        yield priced(
            costing.rates.currency,
            id=f"bought:{one.id}",
            group="material",
            words=one.name,
            quantity=Decimal(one.count),
            unit="",
            each=costing.rates.bought.get(one.id),
            unset=f"[prices.bought] {one.id}",
        )


def _finish_line(costing: Costing) -> Iterator[Line]:
    finishes = any(s.kind == "finish" for c in costing.recipe.components for s in c.steps)
    if not finishes and costing.rates.finish_kg is None:
        return
    volume_mm3 = sum(
        c.stock.volume_mm3 * costing.pieces(c)
        for c in costing.recipe.components
        if c.stock is not None
    )
    yield priced(
        costing.rates.currency,
        id="finish",
        group="material",
        words="oil, wax or paint",
        quantity=quantity_of(volume_mm3 * 1e-9 * DENSITY_KG_M3) if volume_mm3 else None,
        unit="kg",
        each=costing.rates.finish_kg,
        unset="[prices] finish_kg",
        note="for each kg of the finished forms",
        no_quantity="the recipe gives no finished form",
    )


def _fire_lines(costing: Costing, hours: Mapping[str, KindHours], method: str) -> Iterator[Line]:
    rates = costing.rates
    fire_h = hours["fire"].hours or Decimal(0)
    worked_h = fire_h + (hours["bench"].hours or Decimal(0))
    if fire_h:
        yield _fuel_line(costing, fire_h)
    drawn = rates.shop_kwh_h
    missing = "" if drawn is not None else "not set: shop.toml [fuel] shop_hour"
    kwh = (drawn or Decimal(0)) * worked_h
    if method in HAMMERS and fire_h:
        if rates.hammer_kwh_h is None:
            missing = "not set: shop.toml [fuel] hammer_hour"
        else:
            kwh += rates.hammer_kwh_h * hours["fire"].in_hand
    yield priced(
        rates.currency,
        id="electricity",
        group="fire",
        words="electricity",
        quantity=None if missing else quantity_of(kwh),
        unit="kWh",
        each=rates.kwh,
        unset="[fuel] electricity",
        at_risk=True,
        no_quantity=missing,
    )
    yield priced(
        rates.currency,
        id="consumables",
        group="fire",
        words="belts, discs, flux",
        quantity=worked_h,
        unit="h",
        each=rates.consumables_hour,
        unset="[prices] consumables_hour",
        at_risk=True,
    )


def _fuel_line(costing: Costing, fire_h: Decimal) -> Line:
    kind, rates = costing.fire, costing.rates
    weighed = costing.past.burnt.get(kind)
    usual = USE_KG_H.get(kind)
    use: Decimal | None = None
    note = ""
    if weighed is not None:
        use = quantity_of(weighed.kg_h, 3)
        note = f"{use.normalize():f} kg an hour there, weighed in {_sessions(weighed.sessions)}"
    elif kind in rates.fuel_kg_h:
        use = rates.fuel_kg_h[kind]
        note = f"{use.normalize():f} kg an hour, shop.toml [fuel] {kind}_hour"
    elif usual is not None:
        use = quantity_of((usual.low + usual.high) / 2)
        note = (
            f"{use.normalize():f} kg an hour assumed, the middle of {usual.low:g} to "
            f"{usual.high:g}: {usual.source}; weigh yours"
        )
    return priced(
        rates.currency,
        id="fuel",
        group="fire",
        words=kind,
        quantity=None if use is None else quantity_of(fire_h * use),
        unit="kg",
        each=rates.fuel_kg.get(kind),
        unset=f"[fuel] {kind}",
        note=note,
        at_risk=True,
        no_quantity=f"not set: shop.toml [fuel] {kind}_hour",
    )


def _sessions(count: int) -> str:
    return "1 session" if count == 1 else f"{count} sessions"


def _hour_lines(rates: Rates, hours: tuple[KindHours, ...]) -> Iterator[Line]:
    for one in hours:
        if one.kind not in ALWAYS and one.hours is None:
            continue
        if one.kind in OF_STEPS and not one.hours and one.source != "told":
            continue
        key = one.kind.replace("-", "_")
        yield priced(
            rates.currency,
            id=f"hours:{one.kind}",
            group="work",
            words=HOURS[one.kind],
            quantity=one.hours,
            unit="h",
            each=rates.hour.get(one.kind),
            unset=f"[rates] {key}_hour",
            note=hours_note(one),
            at_risk=one.kind in ("fire", "bench"),
            no_quantity=f"not known: --hours {one.kind}=1, or shop.toml [quote] {key}",
        )


def hours_note(one: KindHours) -> str:
    """How sure the hours are, and where they come from."""
    if one.low is None or one.high is None or one.low == one.high:
        return one.source
    return f"most often {one.low} to {one.high} h: {one.source}"


def _overhead_line(rates: Rates, hours: tuple[KindHours, ...]) -> Iterator[Line]:
    if rates.overhead_in_rates:
        return
    all_h = sum((one.hours for one in hours if one.hours is not None), Decimal(0))
    needs = "[overhead] sellable_hours" if rates.year else "[overhead.year], or in_rates = true"
    yield priced(
        rates.currency,
        id="overhead",
        group="overhead",
        words="the shop's yearly costs",
        quantity=all_h,
        unit="h",
        each=rates.overhead_hour,
        unset=needs,
        note="yearly costs over the hours that are sold in a year",
    )


def _own_lines(costing: Costing) -> Iterator[Line]:
    for words, text in costing.own.items():
        amount = number(text)
        yield Line(
            id=f"own:{words}",
            group="order",
            words=harmless(words),
            amount=costing.rates.currency.rounded(amount) if amount is not None else None,
            missing="the journal has no amount for it" if amount is None else "",
        )
