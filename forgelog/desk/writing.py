"""Writes down what is settled at the desk, away from the fire: one small file a deed, whole."""

from __future__ import annotations

from forgelog import __version__
from forgelog.book.disk import why_not, write_new
from forgelog.book.naming import new_session
from forgelog.book.press_line import write_line
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop, seen_by
from forgelog.work.apply import CannotBe, apply
from forgelog.work.facts import AnyFact, Press, SessionBegan
from forgelog.work.only import orders_of
from forgelog.work.state import State


def write_down(
    shop: Shop,
    *facts: AnyFact,
    clock: Clock | None = None,
    state: State | None = None,
) -> State:
    """Write facts that stand or fall together, as one press of a session at the desk.

    Args:
        shop: The book.
        facts: What was settled.
        clock: Of this machine where None.
        state: What stands, where it is not the shop's state of open orders.

    Returns:
        What stands then.

    Raises:
        CannotDo: it cannot be, as things stand, or the disk does not take it.
    """
    stamp = (clock or RealClock()).stamp()
    device = shop.device.id
    orders = tuple(dict.fromkeys(o for fact in facts for o in orders_of(fact)))
    began = SessionBegan(
        version=__version__,
        session=new_session(shop.book, device, stamp.wall),
        device=device,
        who=shop.settings.shop.who,
        kind="desk",
        orders=orders,
        seen=seen_by(shop.files, orders),
    )
    header = Press(seq=0, at=stamp, facts=(began,))
    press = Press(seq=1, at=stamp, facts=facts)
    try:
        after = apply(apply(shop.state if state is None else state, header), press)
        data = write_line(header) + write_line(press)
    except CannotBe as problem:
        raise CannotDo(f"this cannot be: {problem}") from None
    except ValueError as problem:
        raise CannotDo(f"this cannot be written down: {problem}") from None
    path = shop.book / "journal" / began.session[:4] / f"{began.session}.jsonl"
    try:
        write_new(path, data)
    except OSError as problem:
        raise CannotDo(f"nothing was written down: {why_not(problem)}") from None
    return after


def mend(shop: Shop, *facts: AnyFact, clock: Clock | None = None) -> State:
    """Put right what the floor has down wrongly: heats that were not pressed, a step not done.

    Refused where later work rests on it, closed orders and all.

    Args:
        shop: The book.
        facts: Corrections; they stand or fall together.
        clock: Of this machine where None.

    Raises:
        CannotDo: it cannot be, or the disk does not take it.
    """
    from forgelog.desk.order_state import state_with

    orders = dict.fromkeys(order for fact in facts for order in orders_of(fact))
    return write_down(shop, *facts, clock=clock, state=state_with(shop, *orders))
