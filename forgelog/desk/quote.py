"""The quote of an order: what it costs by each method of the shop, and what is asked for it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal

import msgspec

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_state import state_with
from forgelog.desk.quote_actual import actual_of
from forgelog.desk.quote_costs import cost_lines
from forgelog.desk.quote_hours import KindHours, hours_of
from forgelog.desk.quote_past import Past, number, past_of
from forgelog.desk.quote_stock import Costing
from forgelog.desk.quote_told import ColumnTold, HoursTold, LineTold, OfferTold, QuoteTold
from forgelog.desk.shop import Shop
from forgelog.money.amounts import Currency, show_share
from forgelog.money.lines import GROUPS, Line
from forgelog.money.price import Price, Remakes, price_of, remakes_of
from forgelog.money.rates import HOURS, Rates
from forgelog.recipe.plain import harmless, listed, quoted
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import METHODS, Recipe
from forgelog.units import show_length
from forgelog.work.queries import pieces_of
from forgelog.work.state import Order, QuoteRecord, State

METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "by power hammer",
    "press": "by press",
}


def quote_of(
    shop: Shop,
    order: Order,
    *,
    method: str = "",
    hours: Mapping[str, Decimal | None] | None = None,
    clock: Clock | None = None,
) -> QuoteTold:
    """The quote of an order as things stand.

    Args:
        shop: The book.
        order: Open or closed.
        method: By which the price is reckoned; the shop's usual one where "".
        hours: Hours that the smith names for this order, by kind; those that he named for the last
            offer hold until he names others, or None.
        clock: Of this machine where None.

    Raises:
        CannotDo: the recipe is gone or has errors, or there is no such method or kind of hour.
    """
    clock = clock or RealClock()
    past = past_of(shop, order.id, clock=clock)
    state = state_with(shop, order.id)
    order = state.orders[order.id]
    recipe = _recipe(shop, order)
    rates = shop.settings.shop.rates
    methods = _methods(shop, method)
    chosen = method or (order.quotes[-1].method if _quoted_by(order, methods) else methods[0])
    told = _told_hours(order, hours)
    costing = Costing(
        recipe=recipe,
        count=order.count,
        rates=rates,
        past=past,
        state=state,
        fire=shop.settings.shop.fires[0].kind,
        units=shop.settings.shop.units,
        kerf_mm=shop.settings.shop.saw.kerf_mm,
        spares=_spares(state, order),
        own=order.costs,
    )
    columns = tuple(_column(costing, one, told) for one in methods)
    stamp = clock.stamp()
    today = local_day(stamp.wall, stamp.offset)
    return QuoteTold(
        order=order.id,
        label=harmless(order.label),
        title=harmless(order.title),
        recipe=recipe.id,
        recipe_name=harmless(recipe.name),
        says=render(recipe.says, shop.settings.shop.units),
        count=order.count,
        sizes=_sizes(shop, recipe, order),
        shop=harmless(shop.settings.shop.name),
        day=today.isoformat(),
        valid_until=_valid_until(today, rates),
        promised=order.promised,
        currency=rates.currency.code,
        digits=rates.currency.digits,
        method=chosen,
        columns=columns,
        own=tuple(line for line in columns[0].lines if line.group == "order"),
        rounding=rounding_words(rates.currency),
        offers=tuple(_offer(n, quote, today) for n, quote in enumerate(order.quotes, start=1)),
        actual=actual_of(order, costing),
        problems=tuple(p.text for p in shop.settings.problems if p.file == "shop.toml"),
    )


def rounding_words(currency: Currency) -> str:
    """How it is rounded, in a sentence."""
    coin = f"{Decimal(1).scaleb(-currency.digits):f} {currency.code}".rstrip()
    return f"Each line is rounded half up to {coin}; sums are those of the lines shown."


def method_of(text: str) -> str:
    """A method by its id.

    Raises:
        CannotDo: there is none of this name.
    """
    if text and text not in METHODS:
        raise CannotDo(f"there is no method {quoted(text)}; write {listed(METHODS)}")
    return text


def _methods(shop: Shop, method: str) -> tuple[str, ...]:
    own = shop.settings.shop.methods
    return own if not method or method_of(method) in own else (*own, method)


def _quoted_by(order: Order, methods: tuple[str, ...]) -> bool:
    return bool(order.quotes) and order.quotes[-1].method in methods


def _recipe(shop: Shop, order: Order) -> Recipe:
    return order.pins[-1] if order.pins else shop.resolved(order.recipe, order.sizes_mm, order.bars)


def _told_hours(order: Order, hours: Mapping[str, Decimal | None] | None) -> dict[str, Decimal]:
    told: dict[str, Decimal] = {}
    for kind, text in (order.quotes[-1].told if order.quotes else {}).items():
        if kind in HOURS and (known := number(text)) is not None:
            told[kind] = known
    for kind, named in (hours or {}).items():
        if kind not in HOURS:
            raise CannotDo(f"there are no hours of {quoted(kind)}; write {listed(HOURS)}")
        if named is None:
            told.pop(kind, None)
        else:
            told[kind] = named
    return told


def _spares(state: State, order: Order) -> dict[str, int]:
    """Spares by component: those that were made, or before the first lay-out those asked for."""
    found: dict[str, int] = {}
    if order.pins:
        for piece in pieces_of(state, order.id):
            if piece.spare or piece.from_spare:
                found[piece.component] = found.get(piece.component, 0) + 1
        return found
    for one in order.spares:
        found[one.component] = found.get(one.component, 0) + one.count
    return found


def _column(costing: Costing, method: str, told: Mapping[str, Decimal]) -> ColumnTold:
    rates, past = costing.rates, costing.past
    hours = hours_of(
        costing.recipe,
        costing.count,
        method,
        past=past,
        rates=rates,
        told=told,
        spares=costing.spares,
    )
    remakes = remakes_in(past, costing.recipe.id, rates)
    price = _price(costing, hours, method, remakes)
    low = _price(costing, tuple(map(_at_low, hours)), method, remakes)
    high = _price(costing, tuple(map(_at_high, hours)), method, remakes)
    known = any(line.amount is not None for line in price.lines if line.group != "price")
    plain = rates.currency.plain
    return ColumnTold(
        method=method,
        words=METHOD_WORDS.get(method, method),
        lines=tuple(line_told(line, rates.currency) for line in price.lines),
        hours=tuple(_hours_told(one) for one in hours),
        cost=plain(price.cost) if known else "",
        net=plain(price.net) if known else "",
        net_low=plain(low.net) if known else "",
        net_high=plain(high.net) if known else "",
        tax=plain(price.tax) if known and price.tax is not None else "",
        tax_words=_tax_words(rates),
        total=plain(price.total) if known else "",
        deposit=plain(price.deposit) if known and price.deposit is not None else "",
        deposit_words=f"deposit {show_share(rates.deposit)}" if rates.deposit is not None else "",
        rest=plain(price.rest) if known and price.rest is not None else "",
        without=price.without,
        without_words=f"without {', '.join(price.without)}" if price.without else "",
    )


def remakes_in(past: Past, recipe: str, rates: Rates) -> Remakes:
    """The share of pieces to be made again, from the record."""
    spoilt, made = past.made.get(recipe, (0, 0))
    return remakes_of(
        spoilt,
        made,
        all_spoilt=sum(one[0] for one in past.made.values()),
        all_made=sum(one[1] for one in past.made.values()),
        rates=rates,
    )


def _price(costing: Costing, hours: tuple[KindHours, ...], method: str, remakes: Remakes) -> Price:
    return price_of(cost_lines(costing, hours, method), costing.rates, remakes)


def _at_low(one: KindHours) -> KindHours:
    return msgspec.structs.replace(one, hours=one.low if one.low is not None else one.hours)


def _at_high(one: KindHours) -> KindHours:
    return msgspec.structs.replace(one, hours=one.high if one.high is not None else one.hours)


def line_told(line: Line, currency: Currency) -> LineTold:
    """A line as it is shown."""
    quantity = "" if line.quantity is None else f"{line.quantity:f} {line.unit}".rstrip()
    return LineTold(
        id=harmless(line.id),
        group=line.group,
        title=GROUPS[line.group],
        words=line.words,
        quantity=quantity,
        each=currency.price(line.each) if line.each is not None else "",
        amount=currency.plain(line.amount) if line.amount is not None else "",
        missing=line.missing,
        note=line.note,
    )


def _hours_told(one: KindHours) -> HoursTold:
    return HoursTold(
        kind=one.kind,
        words=HOURS[one.kind],
        hours="" if one.hours is None else f"{one.hours:f}",
        low="" if one.low is None else f"{one.low:f}",
        high="" if one.high is None else f"{one.high:f}",
        source=one.source,
    )


def _tax_words(rates: Rates) -> str:
    if rates.tax is None:
        return "not set: shop.toml [tax] share"
    return f"{harmless(rates.tax_name) or 'tax'} {show_share(rates.tax)}"


def _valid_until(today: date, rates: Rates) -> str:
    if rates.valid_days is None:
        return ""
    return (today + timedelta(days=rates.valid_days)).isoformat()


def _sizes(shop: Shop, recipe: Recipe, order: Order) -> tuple[str, ...]:
    units = shop.settings.shop.units
    sizes_mm = {**recipe.sizes_mm, **order.sizes_mm}
    return tuple(f"{harmless(name)} {show_length(mm, units)}" for name, mm in sizes_mm.items())


def _offer(nth: int, quote: QuoteRecord, today: date) -> OfferTold:
    return OfferTold(
        number=nth,
        day=local_day(quote.made_s, quote.offset).isoformat(),
        valid_until=harmless(quote.valid_until),
        method=harmless(quote.method),
        net=harmless(quote.net),
        tax=harmless(quote.tax),
        total=harmless(quote.total),
        deposit=harmless(quote.deposit),
        currency=harmless(quote.currency),
        answer=quote.answer,
        lapsed=not quote.answer and bool(quote.valid_until) and quote.valid_until < str(today),
    )
