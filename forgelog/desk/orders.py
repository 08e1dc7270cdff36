"""Customers' orders: taken, found, changed, held, closed. The readout is in order_view."""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import count as count_from

from forgelog.book.device import tail
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.desk.shop import at_sizes as at_sizes
from forgelog.desk.writing import write_down
from forgelog.recipe.plain import did_you_mean, harmless, hidden_signs, listed, quoted
from forgelog.units import ReadError, parse_length
from forgelog.work.facts import (
    OrderFreed,
    OrderHeld,
    OrderPromised,
    OrderTaken,
    SizeChanged,
)
from forgelog.work.state import Order, State

MOST_SETS = 200
LONGEST = 80
"""Letters of a label or title."""


def take_order(
    shop: Shop,
    recipe: str,
    *,
    label: str = "",
    title: str = "",
    count: int = 1,
    sizes_mm: Mapping[str, float] | None = None,
    promised: str = "",
    for_shop: bool = False,
    clock: Clock | None = None,
) -> Order:
    """Take a customer's order.

    Args:
        shop: The book.
        recipe: Id or name of a recipe in it.
        label: The smith's own number; the id's tail where "".
        title: What it is called on the screen; where "", the recipe's name, numbered if an open
            order bears that.
        count: How many sets.
        sizes_mm: The customer's sizes by name.
        promised: A date, YYYY-MM-DD, or "".
        for_shop: True for a tool of the shop's own: it is there once the order is finished.
        clock: Of this machine where None.

    Raises:
        CannotDo: no such recipe or size, a size out of range, a label that is taken, and so on.
    """
    written = shop.recipe(recipe)
    shop.resolved(recipe, sizes_mm or {})
    if not 1 <= count <= MOST_SETS:
        raise CannotDo(f"{count} sets cannot be ordered; write a number from 1 to {MOST_SETS}")
    random = new_tail(shop)
    label = free_label(shop, label, random)
    taken = OrderTaken(
        order=f"{shop.device.id}-{random}",
        label=label,
        title=line_of(title, "title") or _own_title(shop, written.name),
        recipe=written.id,
        count=count,
        sizes_mm=dict(sizes_mm or {}),
        promised=date_of(promised),
        for_shop=for_shop,
    )
    return write_down(shop, taken, clock=clock).orders[taken.order]


def has_been(day: str, *, clock: Clock | None = None) -> bool:
    """Whether a day that was promised is over: a slip most often, but an old order may be noted.

    Args:
        day: YYYY-MM-DD; "" for none.
        clock: Of this machine where None.
    """
    stamp = (clock or RealClock()).stamp()
    return bool(day) and day < local_day(stamp.wall, stamp.offset).isoformat()


def _own_title(shop: Shop, name: str) -> str:
    """The recipe's name, numbered in front where an open order bears it already.

    Pages that name no label (the plan, the advice) would tell two orders by one name.
    """
    taken = {o.title.casefold() for o in shop.state.orders.values() if o.closed is None}
    titles = (name if n == 1 else f"{n}. {name}" for n in count_from(1))
    return next(title for title in titles if title.casefold() not in taken)


def new_tail(shop: Shop) -> str:
    """The random end of an id that no order of this device has."""
    random = tail()
    while f"{shop.device.id}-{random}" in shop.state.orders:
        random = tail()
    return random


def free_label(shop: Shop, label: str, otherwise: str) -> str:
    """A label that no other open order has: the smith's own, or the other where there is none.

    Raises:
        CannotDo: an open order has it.
    """
    label = line_of(label, "label") or otherwise
    for order in shop.state.orders.values():
        if order.closed is None and order.label.casefold() == label.casefold():
            raise CannotDo(f"there is an open order {quoted(label)} already")
    return label


def follows_recipe(order: Order) -> None:
    """See that an order has a recipe whose sizes and bars can be changed.

    Raises:
        CannotDo: it is work without one.
    """
    if order.free:
        raise CannotDo(
            f"order {quoted(order.label)} is worked without a recipe: it has no sizes and bars to "
            "change; begin another one instead"
        )


def find_order(state: State, name: str) -> Order:
    """The order that is meant: by label, letter, id, or the beginning of one of these.

    Open orders go before closed ones.

    Raises:
        CannotDo: there is none, or several begin like this; names them.
    """
    from forgelog.floor.names import letters

    lettered = {letter: order for order, letter in letters(state).items()}
    if len(name) == 1 and name.upper() in lettered:
        return state.orders[lettered[name.upper()]]
    wanted = name.casefold()
    for orders in (
        [o for o in state.orders.values() if o.closed is None],
        [o for o in state.orders.values() if o.closed is not None],
    ):
        exact = [o for o in orders if wanted in _names(o)]
        begun = [o for o in orders if any(n.startswith(wanted) for n in _names(o))]
        found = exact or (begun if wanted else [])
        if len(found) == 1:
            return found[0]
        if found:
            names = listed((f"{quoted(o.label)} ({o.id})" for o in found), "and")
            raise CannotDo(f"{quoted(name)} may mean {names}; write more of it")
    known = [o.label for o in state.orders.values() if o.closed is None]
    words = f"there is no order {quoted(name)}"
    if known:
        words += f"; open are {listed(map(harmless, known), 'and')}"
    hint = did_you_mean(name, known)
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def change_sizes(
    shop: Shop, order: Order, sizes_mm: Mapping[str, float], *, clock: Clock | None = None
) -> State:
    """The customer's sizes are others. Work that was begun follows at the next lay-out.

    Raises:
        CannotDo: the order is closed, no such size, or one out of range.
    """
    must_be_open(order)
    follows_recipe(order)
    shop.resolved(order.recipe, {**order.sizes_mm, **sizes_mm}, order.bars)
    facts = [SizeChanged(order=order.id, size=size, mm=mm) for size, mm in sizes_mm.items()]
    return write_down(shop, *facts, clock=clock)


def hold_order(shop: Shop, order: Order, why: str = "", *, clock: Clock | None = None) -> State:
    """Nothing is to be done on it for now.

    Raises:
        CannotDo: it is closed, or held already.
    """
    must_be_open(order)
    if order.held is not None:
        raise CannotDo(f"order {quoted(order.label)} is held already")
    return write_down(shop, OrderHeld(order=order.id, why=line_of(why, "reason")), clock=clock)


def free_order(shop: Shop, order: Order, *, clock: Clock | None = None) -> State:
    """It may be worked on again.

    Raises:
        CannotDo: it is closed, or not held.
    """
    must_be_open(order)
    if order.held is None:
        raise CannotDo(f"order {quoted(order.label)} is not held")
    return write_down(shop, OrderFreed(order=order.id), clock=clock)


def promise_order(shop: Shop, order: Order, promised: str, *, clock: Clock | None = None) -> State:
    """A date is promised, or another, or ("") none any more.

    Raises:
        CannotDo: it is closed, or that is no date.
    """
    must_be_open(order)
    return write_down(shop, OrderPromised(order=order.id, promised=date_of(promised)), clock=clock)


def read_sizes(texts: list[str]) -> dict[str, float]:
    """Sizes as they are written on the command line: ["post=120 mm", "stand=1 3/4 in"].

    Raises:
        CannotDo: one of them is no size; says how to write it.
    """
    sizes: dict[str, float] = {}
    for text in texts:
        name, sign, value = text.partition("=")
        name = name.strip()
        if not sign or not name:
            raise CannotDo(f'{quoted(text)} is no size; write it like "post=120 mm"')
        if name in sizes:
            raise CannotDo(f"the size {quoted(name)} is given twice")
        try:
            sizes[name] = parse_length(value)
        except ReadError as problem:
            raise CannotDo(f"size {quoted(name)}: {problem}") from None
    return sizes


def date_of(text: str) -> str:
    """A date as the journal keeps it.

    Raises:
        CannotDo: it is no date of the calendar written YYYY-MM-DD.
    """
    from datetime import date

    text = text.strip()
    try:
        if text and (not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text) or not date.fromisoformat(text)):
            raise ValueError
    except ValueError:
        raise CannotDo(
            f'{quoted(text)} is no date; write year, month and day, like "2026-05-30"'
        ) from None
    return text


def _names(order: Order) -> tuple[str, ...]:
    return (order.label.casefold(), order.id, order.id.partition("-")[2])


def line_of(text: str, what: str) -> str:
    """A text on one line, as the journal keeps it.

    Raises:
        CannotDo: it is too long, or holds a sign that cannot be seen.
    """
    line = " ".join(text.split())
    if hidden_signs(line):
        raise CannotDo(f"the {what} {quoted(line)} holds a sign that cannot be seen")
    if len(line) > LONGEST:
        raise CannotDo(f"the {what} has {len(line)} letters; write at most {LONGEST}")
    return line


def must_be_open(order: Order) -> None:
    """Refuse an order that is done with.

    Raises:
        CannotDo: it is delivered or closed; says so.
    """
    if order.closed is not None:
        raise CannotDo(f"order {quoted(order.label)} is closed ({harmless(order.closed)})")
