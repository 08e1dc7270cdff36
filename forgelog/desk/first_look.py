"""The little that Home shows at once: open orders, and a session to go on with.

What else Home has takes reading every recipe; it comes a moment later, from `desk.home`.
"""

from __future__ import annotations

from datetime import date

import msgspec

from forgelog.desk.cut_off import unfinished
from forgelog.desk.dates import due_words, local_day
from forgelog.desk.review_words import day_words, local_time
from forgelog.desk.shop import Shop
from forgelog.floor.names import letters
from forgelog.recipe.plain import harmless
from forgelog.work.moments import Stamp
from forgelog.work.progress import progress_of
from forgelog.work.state import Order, State


class OrderGlimpse(msgspec.Struct, frozen=True, kw_only=True):
    """An open order, in words."""

    id: str
    words: str
    """ "A  orchard gate (14), 2 sets"."""
    far: str
    """ "12 of 84 steps, in 3 days"; "not begun"."""
    held: bool = False


class FirstLook(msgspec.Struct, frozen=True, kw_only=True):
    """What is seen at once. Texts are final and harmless."""

    book: str
    practice_copy: bool
    orders: tuple[OrderGlimpse, ...]
    """The one that is promised first first; then those without a date."""
    resume: str = ""
    """When the session began that was cut off: "Fri 30 Jan 2026, 08:15"; "" where none was."""
    resume_id: str = ""


def first_look(shop: Shop, stamp: Stamp) -> FirstLook:
    """What Home shows at once.

    Args:
        shop: The book, opened just now.
        stamp: The clocks now.
    """
    today = local_day(stamp.wall, stamp.offset)
    state = shop.state
    named = letters(state)
    orders = [o for o in state.orders.values() if o.closed is None]
    orders.sort(key=lambda o: (o.promised or "9999", o.taken_s, o.id))
    cut_off = unfinished(shop)
    resume = ""
    if cut_off is not None:
        resume = day_words(local_time(cut_off.began_s, cut_off.offset))
    return FirstLook(
        book=harmless(shop.book.name),
        practice_copy=shop.is_practice_copy,
        orders=tuple(_glimpse(state, order, named.get(order.id, ""), today) for order in orders),
        resume=resume,
        resume_id=cut_off.id if cut_off is not None else "",
    )


def _glimpse(state: State, order: Order, letter: str, today: date) -> OrderGlimpse:
    begun = progress_of(state, order).words if order.pins else "not begun"
    held = "held" if order.held is not None else ""
    sets = f", {order.count} sets" if order.count > 1 else ""
    label = f" ({order.label})" if order.label != order.title else ""
    words = f"{letter}  " if letter else ""
    return OrderGlimpse(
        id=order.id,
        words=harmless(f"{words}{order.title}{label}{sets}"),
        far=", ".join(part for part in (held, begun, due_words(order.promised, today)) if part),
        held=order.held is not None,
    )
