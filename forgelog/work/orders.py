"""Facts of orders: taken, changed, held, closed, and the recipe they work from."""

from __future__ import annotations

from forgelog.work.changes import CannotBe, at_step, made, put, replace, step_named
from forgelog.work.facts import (
    BarChosen,
    OrderClosed,
    OrderDelivered,
    OrderFreed,
    OrderHeld,
    OrderPromised,
    OrderTaken,
    RecipePinned,
    SizeChanged,
    SparesAdded,
)
from forgelog.work.state import SCRAPPED, Order, SpareWanted, State


def _order(state: State, order: str) -> Order:
    found = state.orders.get(order)
    if found is None:
        raise CannotBe(f"there is no order {order}")
    return found


def _with(state: State, order: Order) -> State:
    return replace(state, orders={**state.orders, order.id: order})  # type: ignore[no-any-return]


def order_taken(state: State, fact: OrderTaken) -> State:
    """A new order."""
    if fact.order in state.orders:
        raise CannotBe(f"there is an order {fact.order} already")
    return _with(
        state,
        Order(
            id=fact.order,
            label=fact.label,
            title=fact.title,
            recipe=fact.recipe,
            count=fact.count,
            sizes_mm=fact.sizes_mm,
            promised=fact.promised,
            for_shop=fact.for_shop,
            free=fact.free,
            taken_s=state.moment.rest_s,
        ),
    )


def size_changed(state: State, fact: SizeChanged) -> State:
    """Another size; pieces follow it once a recipe with it is pinned."""
    order = _order(state, fact.order)
    return _with(state, replace(order, sizes_mm={**order.sizes_mm, fact.size: fact.mm}))


def bar_chosen(state: State, fact: BarChosen) -> State:
    """Another bar, or the recipe's own; pieces follow it once a recipe with it is pinned."""
    order = _order(state, fact.order)
    bars = {name: bar for name, bar in order.bars.items() if name != fact.component}
    if fact.section is not None:
        bars[fact.component] = fact.section
    return _with(state, replace(order, bars=bars))


def order_promised(state: State, fact: OrderPromised) -> State:
    """A date, another date, or none."""
    return _with(state, replace(_order(state, fact.order), promised=fact.promised))


def order_held(state: State, fact: OrderHeld) -> State:
    """Held."""
    return _with(state, replace(_order(state, fact.order), held=fact.why or "held"))


def order_freed(state: State, fact: OrderFreed) -> State:
    """No longer held."""
    return _with(state, replace(_order(state, fact.order), held=None))


def order_closed(state: State, fact: OrderClosed) -> State:
    """Done with."""
    words = fact.why or ("called off" if fact.called_off else "closed")
    order = _order(state, fact.order)
    return _with(state, replace(order, closed=words, called_off=fact.called_off))


def order_delivered(state: State, fact: OrderDelivered) -> State:
    """The customer has it."""
    how = fact.how or "delivered"
    words = how if how == "delivered" else f"delivered, {how}"
    order = _order(state, fact.order)
    notes = (*order.notes, fact.note) if fact.note else order.notes
    return _with(
        state,
        replace(order, closed=words, delivered=how, delivered_on=fact.day, notes=notes),
    )


def spares_added(state: State, fact: SparesAdded) -> State:
    """Spares come into being, or are wanted of the first lay-out."""
    order = _order(state, fact.order)
    if not order.pins:
        wanted = SpareWanted(component=fact.component, mark=fact.mark, count=fact.count)
        return _with(state, replace(order, spares=(*order.spares, wanted)))
    for new in fact.made:
        state = made(state, order.id, new, pin=len(order.pins) - 1)
    return state


def recipe_pinned(state: State, fact: RecipePinned) -> State:
    """The order works from this recipe from now on; pieces named in `moved` go over to it."""
    order = _order(state, fact.order)
    pin = len(order.pins)
    state = _with(state, replace(order, pins=(*order.pins, fact.recipe)))
    for new in fact.made:
        state = made(state, order.id, new, pin=pin)
    for workpiece, step in fact.moved.items():
        piece = state.pieces.get(workpiece)
        if piece is None or piece.order != order.id:
            raise CannotBe(f"there is no workpiece {workpiece} in this order")
        if piece.place == SCRAPPED:
            continue
        rest = replace(piece.rest, waits=False) if piece.rest is not None else None
        over = replace(piece, pin=pin, rest=rest)
        index = step_named(state, over, step)
        over = over if index == piece.step else at_step(over, index)
        state = put(state, replace(over, pin=pin))
    return state
