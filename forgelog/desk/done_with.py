"""When an order is done with: delivered, closed, or called off."""

from __future__ import annotations

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.in_play import left_lying
from forgelog.desk.orders import date_of, line_of, must_be_open
from forgelog.desk.shop import Shop
from forgelog.desk.undone_words import undone_lines
from forgelog.desk.writing import write_down
from forgelog.floor.along import tools_made_by
from forgelog.recipe.plain import listed, quoted
from forgelog.work.facts import AnyFact, Noted, OrderClosed, OrderDelivered
from forgelog.work.outstanding import spares_left
from forgelog.work.state import Order, State

HOW = ("fetched", "sent", "fitted")
"""How a customer gets the work."""
KEPT = "spare, kept on the shelf"


def deliver_order(
    shop: Shop,
    order: Order,
    how: str = "",
    note: str = "",
    *,
    day: str = "",
    keep_spares: bool = False,
    clock: Clock | None = None,
) -> State:
    """The customer has it: it is fetched, sent or fitted, and done with.

    Args:
        shop: The book.
        order: The order.
        how: One of HOW, or "" where nobody says.
        note: A few words: who fetched it, the carrier.
        day: When, YYYY-MM-DD; today where "".
        keep_spares: True notes of the spares that they are kept on the shelf.
        clock: Of this machine where None.

    Raises:
        CannotDo: it is closed, or not finished (says what is undone), or that is no day.
    """
    must_be_open(order)
    if how and how not in HOW:
        raise CannotDo(f"{quoted(how)} is no way to deliver; write {listed(HOW)}")
    must_be_done(shop.state, order, "delivered")
    stamp = (clock or RealClock()).stamp()
    when = date_of(day) or local_day(stamp.wall, stamp.offset).isoformat()
    fact = OrderDelivered(order=order.id, how=how, day=when, note=line_of(note, "note"))
    return _done_with(shop, order, fact, keep_spares=keep_spares, clock=clock)


def close_order(
    shop: Shop,
    order: Order,
    why: str = "",
    *,
    keep_spares: bool = False,
    clock: Clock | None = None,
) -> State:
    """Finished and done with, but not delivered: kept, given away, and the like.

    Raises:
        CannotDo: it is closed already, or not finished; says what is undone.
    """
    must_be_open(order)
    must_be_done(shop.state, order, "closed")
    fact = OrderClosed(order=order.id, why=line_of(why, "reason"))
    return _done_with(shop, order, fact, keep_spares=keep_spares, clock=clock)


def call_off(shop: Shop, order: Order, why: str, *, clock: Clock | None = None) -> State:
    """Give an order up, whatever is still undone.

    Raises:
        CannotDo: it is closed already, or no reason is given.
    """
    must_be_open(order)
    why = line_of(why, "reason")
    if not why:
        raise CannotDo("say why it is called off, in a few words")
    return _done_with(
        shop, order, OrderClosed(order=order.id, why=why, called_off=True), clock=clock
    )


def must_be_done(state: State, order: Order, deed: str) -> None:
    """Refuse where steps are undone.

    Raises:
        CannotDo: says which, piece by piece, and what can be done all the same.
    """
    lines = undone_lines(state, order)
    if lines:
        label = quoted(order.label)
        raise CannotDo(
            "\n".join(
                (
                    f"order {label} cannot be {deed}: {lines[0]}",
                    *(f"    {line}" for line in lines[1:]),
                    "    an order that is given up is called off, with a reason",
                )
            )
        )


def _done_with(
    shop: Shop,
    order: Order,
    fact: AnyFact,
    *,
    keep_spares: bool = False,
    clock: Clock | None = None,
) -> State:
    kept: list[AnyFact] = []
    if keep_spares:
        kept = [Noted(workpiece=p.id, words=KEPT) for p in spares_left(shop.state, order)]
    made = tools_made_by(shop.state, order)
    return write_down(shop, *left_lying(shop.state, order.id), *kept, *made, fact, clock=clock)
