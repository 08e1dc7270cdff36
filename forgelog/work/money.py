"""Facts of money: offers and their answers, an order's own costs, hours that were told."""

from __future__ import annotations

from forgelog.work.changes import CannotBe, replace
from forgelog.work.facts import HoursTold, OrderCost, QuoteAnswered, QuoteMade
from forgelog.work.state import Order, QuoteRecord, State

ACCEPTED, DECLINED, SUPERSEDED = "accepted", "declined", "superseded"


def _changed(state: State, order_id: str, **changes: object) -> State:
    order = _order(state, order_id)
    orders = {**state.orders, order_id: replace(order, **changes)}
    return replace(state, orders=orders)  # type: ignore[no-any-return]


def _order(state: State, order_id: str) -> Order:
    order = state.orders.get(order_id)
    if order is None:
        raise CannotBe(f"there is no order {order_id}")
    return order


def quote_made(state: State, fact: QuoteMade) -> State:
    """A later offer takes the place of all that are open."""
    before = (
        quote if quote.answer else replace(quote, answer=SUPERSEDED)
        for quote in _order(state, fact.order).quotes
    )
    record = QuoteRecord(
        made_s=state.moment.rest_s,
        offset=state.stamp.offset if state.stamp else 0,
        net=fact.net,
        tax=fact.tax,
        total=fact.total,
        deposit=fact.deposit,
        currency=fact.currency,
        method=fact.method,
        count=fact.count,
        valid_until=fact.valid_until,
        amounts=fact.amounts,
        quantities=fact.quantities,
        hours=fact.hours,
        told=fact.told,
        without=fact.without,
    )
    return _changed(state, fact.order, quotes=(*before, record))


def quote_answered(state: State, fact: QuoteAnswered) -> State:
    """The answer to the last offer; it may be put right."""
    quotes = _order(state, fact.order).quotes
    if not quotes:
        raise CannotBe("no price was offered yet")
    answer = ACCEPTED if fact.accepted else DECLINED
    return _changed(state, fact.order, quotes=(*quotes[:-1], replace(quotes[-1], answer=answer)))


def order_cost(state: State, fact: OrderCost) -> State:
    """A cost of the order's own, another amount of it, or none any more."""
    costs = {**_order(state, fact.order).costs, fact.words: fact.amount}
    costs = {words: amount for words, amount in costs.items() if amount}
    return _changed(state, fact.order, costs=costs)


def hours_told(state: State, fact: HoursTold) -> State:
    """Hours that it took, by kind."""
    hours = {**_order(state, fact.order).hours, **fact.hours}
    hours = {kind: text for kind, text in hours.items() if text}
    return _changed(state, fact.order, hours=hours)
