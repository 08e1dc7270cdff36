"""What is settled about the price of an order: offers, answers, its own costs, hours it took."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_HALF_UP, Decimal

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.quote_told import QuoteTold
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.money.amounts import read_money
from forgelog.money.rates import HOURS as HOURS
from forgelog.money.rates import OF_STEPS
from forgelog.recipe.plain import did_you_mean, harmless, hidden_signs, listed, quoted
from forgelog.units import ReadError, parse_time
from forgelog.work.facts import HoursTold, OrderCost, QuoteAnswered, QuoteMade
from forgelog.work.state import Order, State

LONGEST = 60
"""Letters of the words of an order's own cost."""
MOST_HOURS = 10_000
TOLD_KINDS = tuple(kind for kind in HOURS if kind not in OF_STEPS)
"""Hours that no step of a recipe stands for."""


def make_offer(
    shop: Shop,
    told: QuoteTold,
    *,
    hours: Mapping[str, Decimal | None] | None = None,
    clock: Clock | None = None,
) -> State:
    """Write down that a price is offered to the customer; offers before it no longer hold.

    Args:
        shop: The book.
        told: The quote, as it was shown.
        hours: Hours that the smith named for it, by kind.
        clock: Of this machine where None.

    Raises:
        CannotDo: the order is closed, or no line of the quote has an amount yet.
    """
    order = _open(shop, told.order)
    column = told.chosen
    if not column.net:
        raise CannotDo("nothing is priced yet: set your rates in shop.toml, as the lines say")
    told_hours = dict(order.quotes[-1].told) if order.quotes else {}
    told_hours |= {kind: f"{h:f}" for kind, h in (hours or {}).items() if h is not None}
    forgotten = {kind for kind, h in (hours or {}).items() if h is None}
    fact = QuoteMade(
        order=order.id,
        net=column.net,
        tax=column.tax,
        total=column.total,
        deposit=column.deposit,
        currency=told.currency,
        method=told.method,
        count=told.count,
        valid_until=told.valid_until,
        amounts={line.id: line.amount for line in column.lines if line.amount},
        quantities={line.id: line.quantity for line in column.lines if line.quantity},
        hours={one.kind: one.hours for one in column.hours if one.hours},
        told={kind: text for kind, text in told_hours.items() if kind not in forgotten},
        without=column.without,
    )
    return write_down(shop, fact, clock=clock)


def answer_offer(shop: Shop, order: Order, *, accepted: bool, clock: Clock | None = None) -> State:
    """Write down what the customer said to the last offer; it may be put right.

    Raises:
        CannotDo: no price was offered.
    """
    if not order.quotes:
        raise CannotDo(f"no price was offered for {quoted(order.label)} yet")
    fact = QuoteAnswered(order=order.id, accepted=accepted)
    return write_down(shop, fact, clock=clock)


def set_costs(
    shop: Shop, order: Order, costs: Mapping[str, str], *, clock: Clock | None = None
) -> State:
    """Costs of this order alone: site survey, carriage, galvanising by somebody else.

    Args:
        shop: The book.
        order: The order.
        costs: An amount of each, by its words; "none" takes it off again.
        clock: Of this machine where None.

    Raises:
        CannotDo: the order is closed, one of them is no amount, or there is none to take off.
    """
    _open(shop, order.id)
    currency = shop.settings.shop.rates.currency
    facts: list[OrderCost] = []
    for name, text in costs.items():
        words = _words(name)
        if text.strip().casefold() == "none":
            if words not in order.costs:
                own = listed(map(harmless, order.costs), "and") or "none"
                raise CannotDo(f"the order has no cost {quoted(words)}; it has {own}")
            facts.append(OrderCost(order=order.id, words=words))
            continue
        try:
            amount = currency.rounded(read_money(text, currency))
        except ReadError as problem:
            raise CannotDo(f"{quoted(words)}: {problem}") from None
        facts.append(OrderCost(order=order.id, words=words, amount=f"{amount:f}"))
    return write_down(shop, *facts, clock=clock)


def tell_hours(
    shop: Shop, order: Order, hours: Mapping[str, Decimal | None], *, clock: Clock | None = None
) -> State:
    """Hours that the order really took and that no step stands for: design, packing and so on.

    Args:
        shop: The book.
        order: Open or closed.
        hours: By kind; None takes off what was told before.
        clock: Of this machine where None.

    Raises:
        CannotDo: no hours are given, or they are of a kind that the floor keeps.
    """
    if not hours:
        raise CannotDo('say which hours, like "design=2.5"')
    for kind in hours:
        if kind in OF_STEPS:
            raise CannotDo(
                f"hours of {kind} are kept at the fire and the bench; told are {_told_kinds()}"
            )
        if kind not in TOLD_KINDS:
            raise CannotDo(_no_kind(kind, TOLD_KINDS))
    told = {kind: "" if h is None else f"{h:f}" for kind, h in hours.items()}
    fact = HoursTold(order=order.id, hours=told)
    return write_down(shop, fact, clock=clock)


def read_hours(texts: Iterable[str]) -> dict[str, Decimal | None]:
    """Hours as they are written on the command line: ["design=2", "pack=45 min", "fitting=none"].

    Returns:
        Hours by kind; None where what was said before is to be forgotten.

    Raises:
        CannotDo: one of them is none; says how to write it.
    """
    found: dict[str, Decimal | None] = {}
    for text in texts:
        kind, sign, value = text.partition("=")
        kind = "-".join(kind.split()).replace("_", "-").casefold()
        if not sign or not value.strip():
            raise CannotDo(f'{quoted(text)} are no hours; write them like "design=2.5"')
        if kind not in HOURS:
            raise CannotDo(_no_kind(kind, HOURS))
        if kind in found:
            raise CannotDo(f"hours of {kind} are given twice")
        forgotten = value.strip().casefold() == "none"
        found[kind] = None if forgotten else _hours(kind, value)
    return found


def read_costs(texts: Iterable[str]) -> dict[str, str]:
    """An order's own costs as they are written: ["carriage=35", "galvanising=none"].

    Raises:
        CannotDo: one of them is none; says how to write it.
    """
    found: dict[str, str] = {}
    for text in texts:
        words, sign, value = text.rpartition("=")
        if not sign or not words.strip() or not value.strip():
            raise CannotDo(f'{quoted(text)} is no cost; write it like "carriage=35"')
        found[_words(words)] = value
    return found


def _hours(kind: str, value: str) -> Decimal:
    plain = value.strip()
    try:
        hours = (
            Decimal(plain)
            if plain.replace(".", "", 1).isdecimal() and plain.isascii()
            else Decimal(repr(parse_time(plain))) / 3600
        )
    except ReadError as problem:
        raise CannotDo(f'hours of {kind}: {problem}; or a number of hours, like "2.5"') from None
    if hours > MOST_HOURS:
        raise CannotDo(f"hours of {kind}: {quoted(plain)} is more than {MOST_HOURS} h")
    return hours.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


def _no_kind(kind: str, kinds: Iterable[str]) -> str:
    names = list(kinds)
    words = f"there are no hours of {quoted(kind)}; write {listed(names)}"
    hint = did_you_mean(kind, names)
    return f"{words}\n    {hint}" if hint else words


def _told_kinds() -> str:
    return listed(TOLD_KINDS, "and")


def _words(text: str) -> str:
    words = " ".join(text.split())
    if hidden_signs(words):
        raise CannotDo(f"{quoted(words)} holds a sign that cannot be seen")
    if len(words) > LONGEST:
        raise CannotDo(f"{quoted(words)} has {len(words)} letters; write at most {LONGEST}")
    return words


def _open(shop: Shop, order_id: str) -> Order:
    order = shop.state.orders[order_id]
    if order.closed is not None:
        raise CannotDo(f"order {quoted(order.label)} is closed ({harmless(order.closed)})")
    return order
