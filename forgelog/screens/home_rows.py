"""The rows of Home: open orders first, then the day's pages, then what took longer to read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from forgelog.screens.chooser import Item

if TYPE_CHECKING:
    from forgelog.desk.first_look import FirstLook
    from forgelog.desk.home import HomeView

RESUME, TAKE, FREE, PLAN, CUT = "resume", "take", "free", "plan", "cut"
EVENING, REVIEW, LEARNT, TRENDS = "evening", "review", "learnt", "trends"
SUMS, DEVICE, LEAVE = "sums", "device", "leave"


def home_rows(orders: FirstLook, rest: HomeView | None) -> tuple[Item, ...]:
    """Every row, in the order in which it may be wanted.

    Args:
        orders: The open orders as they stand.
        rest: Recipes, sessions and what needs seeing to; None until they have been read.
    """
    return (
        *_order_rows(orders),
        Item(id=EVENING, words="the evening: five minutes after the fire", title="AFTER THE FIRE"),
        Item(id=REVIEW, words="look back over all sessions"),
        Item(id=LEARNT, words="what your own pieces teach"),
        Item(id=TRENDS, words="trends: heats, hours, fire and hands"),
        *(_read_rows(rest) if rest is not None else ()),
        Item(id=SUMS, words="the sums of the trade", title="SUMS"),
        Item(id=DEVICE, words="keys, bell and view", title="THIS DEVICE"),
        Item(id=LEAVE, words="leave forgelog"),
    )


def _order_rows(orders: FirstLook) -> Iterator[Item]:
    if orders.resume_id:
        words = f"go on with the session of {orders.resume}"
        yield Item(id=RESUME, words=words, title="CUT OFF")
    title = "OPEN ORDERS"
    for order in orders.orders:
        yield Item(
            id=f"order {order.id}",
            words=order.words,
            right=order.far,
            title=title,
            markable=not order.held,
        )
        title = ""
    yield Item(id=TAKE, words="take an order", title=title)
    yield Item(id=FREE, words="work without a recipe")
    if any(not order.held for order in orders.orders):
        yield Item(id=PLAN, words="plan the day")
        yield Item(id=CUT, words="cut list: what is sawn from which bar, what to buy")


def _read_rows(rest: HomeView) -> Iterator[Item]:
    recipes = [
        (f"recipe {r.id}", f"{r.name}: {r.says}" if r.says else r.name, r.problems)
        for r in rest.recipes
    ]
    parts = (
        ("NEEDS SEEING TO", [(f"need {i}", need.words, "") for i, need in enumerate(rest.needs)]),
        ("RECIPES", recipes),
        ("PAST SESSIONS", [(f"session {s.session}", s.words, "") for s in rest.sessions]),
    )
    for title, rows in parts:
        for i, (id_, words, right) in enumerate(rows):
            yield Item(id=id_, words=words, right=right, title=title if i == 0 else "")
