"""Presses with only what concerns some orders, so that a shop's years need not be folded each time.

A press keeps its number and its time, so undo still finds it; it may be left with no facts.
"""

from __future__ import annotations

from collections.abc import Container, Iterable

import msgspec

from forgelog.work.facts import (
    AnyFact,
    BarChosen,
    FireWentOut,
    HoursTold,
    OrderClosed,
    OrderCost,
    OrderDelivered,
    OrderFreed,
    OrderHeld,
    OrderPromised,
    OrderTaken,
    Press,
    QuoteAnswered,
    QuoteMade,
    SizeChanged,
    ToolSeen,
)

_HEADS = (
    *(OrderTaken, SizeChanged, BarChosen, OrderPromised),
    *(OrderHeld, OrderFreed, OrderClosed, OrderDelivered),
    *(QuoteMade, QuoteAnswered, OrderCost, HoursTold),
)


def order_of(workpiece: str) -> str:
    """The order that a workpiece belongs to, from its id."""
    return workpiece.partition("/")[0]


def orders_in(presses: Iterable[Press]) -> frozenset[str]:
    """Every order that these presses say something of."""
    return frozenset(o for press in presses for fact in press.facts for o in orders_of(fact))


def orders_of(fact: AnyFact) -> tuple[str, ...]:
    """The orders that a fact says something of; none for facts of session, fire and tools."""
    order = getattr(fact, "order", "") or order_of(getattr(fact, "workpiece", ""))
    return (order,) if order else ()


def narrowed(press: Press, orders: Container[str], *, heads: bool = True) -> Press:
    """The press without the facts that concern other orders.

    Args:
        press: As the journal has it.
        orders: Ids of the orders that are wanted.
        heads: True keeps what was agreed on every order (taken, promised, closed and so on), which
            is little; False drops that too.
    """
    kept: list[AnyFact] = []
    for fact in press.facts:
        if isinstance(fact, FireWentOut):
            hot = {w: h for w, h in fact.hot.items() if order_of(w) in orders}
            fact = fact if len(hot) == len(fact.hot) else FireWentOut(hot=hot)
        about = orders_of(fact)
        if about and about[0] not in orders and not (heads and isinstance(fact, _HEADS)):
            continue
        kept.append(fact)
    facts = tuple(kept)
    return press if facts == press.facts else msgspec.structs.replace(press, facts=facts)


def only_tools(press: Press) -> Press:
    """The press with nothing but what was seen of tools, and the beginning of its session."""
    first = press.facts[:1] if press.seq == 0 else ()
    seen = tuple(f for f in press.facts if isinstance(f, ToolSeen))
    return msgspec.structs.replace(press, facts=(*first, *seen))
