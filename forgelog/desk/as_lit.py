"""What would stand at the fire now with every open order in play: for advice and plans.

Nothing is written. Where a session runs or was cut off, what it left in fire and hand is there.
"""

from __future__ import annotations

import msgspec

from forgelog.desk.clock import Clock, PracticeClock, RealClock
from forgelog.desk.cut_off import unfinished
from forgelog.desk.demo import demo_clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.in_play import in_play, left_lying
from forgelog.desk.review_words import order_words
from forgelog.desk.session import pinned
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.work.apply import happened, now, settle
from forgelog.work.facts import AnyFact, FireLit
from forgelog.work.moments import Moment, Stamp
from forgelog.work.state import State


class Lit(msgspec.Struct, frozen=True, kw_only=True):
    """The floor as it would be."""

    state: State
    now: Moment
    stamp: Stamp
    clock: Clock
    running: bool
    """A session runs, or was cut off and can go on."""
    left_out: tuple[str, ...] = ()
    """Open orders that cannot be worked on, each with the reason."""


def clock_of(shop: Shop) -> Clock:
    """The clock that the newest session of a book goes by: the machine's, or one of practice."""
    record = unfinished(shop)
    if record is not None and record.practice > 0:
        return PracticeClock(record.practice, start=shop.state.stamp)
    own = demo_clock(shop) if shop.is_practice_copy else None
    return own or RealClock()


def as_if_lit(shop: Shop, clock: Clock | None = None, *, after_s: float = 0.0) -> Lit:
    """Every open order in play.

    Args:
        shop: The book, opened just now.
        clock: As for the session; None for the book's own.
        after_s: How long from now it is lit; above 0 no session runs by then.

    Raises:
        CannotDo: no order can be worked on.
    """
    clock = clock or clock_of(shop)
    stamp = later(clock.stamp(), after_s)
    record = unfinished(shop) if after_s <= 0 else None
    left_out: list[str] = []
    pins: list[AnyFact] = []
    wanted: list[str] = []
    for order in shop.state.orders.values():
        if order.closed is not None:
            continue
        if order.held is not None:
            left_out.append(f"{order_words(order)} is held ({harmless(order.held)})")
            continue
        if not order.pins:
            try:
                pins.append(pinned(shop, order))
            except CannotDo as problem:
                left_out.append(f"{order_words(order)}: {str(problem).splitlines()[0]}")
                continue
        wanted.append(order.id)
    if not wanted:
        raise CannotDo("\n".join(["there is no order to work on", *left_out]))
    state = in_play(shop, wanted, stamp, checked=False)
    moment = now(state, stamp)
    state = msgspec.structs.replace(settle(state, moment), moment=moment, stamp=stamp)
    if record is None:
        place = shop.settings.shop.fires[0]
        lit = FireLit(
            fire=place.name,
            fire_kind=place.kind,
            places=place.places,
            method=shop.settings.shop.methods[0],
            light=shop.settings.shop.light,
            air_degc=shop.settings.shop.air_degc,
            orders=tuple(wanted),
        )
        pins = [*left_lying(state), *pins, lit]
    return Lit(
        state=happened(state, tuple(pins)),
        now=moment,
        stamp=stamp,
        clock=clock,
        running=record is not None,
        left_out=tuple(left_out),
    )


def later(stamp: Stamp, seconds: float) -> Stamp:
    """All clocks so much further on."""
    if seconds <= 0:
        return stamp
    return msgspec.structs.replace(
        stamp,
        wall=stamp.wall + seconds,
        steady=stamp.steady + seconds,
        awake=stamp.awake + seconds,
    )
