"""The rows of an order's page: who it is for, sizes, what to buy, pieces, spares, how it ends."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from forgelog.desk.done_with import HOW
from forgelog.desk.order_view import OrderShown
from forgelog.recipe.resolved import Component
from forgelog.screens.chooser import Item

HOW_WORDS = {
    "fetched": "deliver it: the customer fetches it",
    "sent": "deliver it: it is sent",
    "fitted": "deliver it: it is fitted on site",
}

SHEETS = (
    ("job", "job sheet: every step with its boxes"),
    ("cut", "cut list: bar by bar"),
    ("quote", "quote for the customer"),
    ("pack", "pack list: what goes out, its finish and its weight"),
)
"""What can be printed of an order."""


def customer_rows(shown: OrderShown) -> tuple[Item, ...]:
    """Who it is for, where it goes, and what the smith noted of the way there."""
    one = shown.customer
    if shown.for_shop:
        return (Item(id="customer 0", words="for the shop itself", title="WHO FOR"),)
    if one is None:
        return (Item(id="customer", words="who for", right="nobody named", title="WHO FOR"),)
    rows = [f"who for: {one.name or 'no name'}"]
    rows += [f"    {line}" for line in one.address]
    rows += [f"notes: {one.notes}"] if one.notes else []
    rows += [f"    {line}" for line in one.more]
    rows += [f"look at: {one.problem}"] if one.problem else []
    return _titled("WHO FOR", (Item(id=f"customer {i}", words=row) for i, row in enumerate(rows)))


def size_rows(shown: OrderShown) -> tuple[Item, ...]:
    """The customer's sizes, and those that are the recipe's."""
    return _titled(
        "SIZES",
        (
            Item(
                id=f"size {size.name}",
                words=f"{size.name}: {size.says}" if size.says else size.name,
                right=size.shown + ("" if size.given else ", as the recipe"),
            )
            for size in shown.sizes
        ),
    )


def bought_rows(shown: OrderShown) -> tuple[Item, ...]:
    """What is to be bought for it."""
    return _titled("TO BUY", (Item(id=f"bought {one.id}", words=one.words) for one in shown.bought))


def piece_rows(shown: OrderShown) -> tuple[Item, ...]:
    """Where each piece is, and what is next of it."""
    return _titled(
        "PIECES",
        (
            Item(
                id=f"piece {piece.id}",
                words=f"{piece.slot}: {piece.step or 'all steps done'}",
                right=f"{piece.done} of {piece.steps}, {piece.where or piece.place}",
            )
            for piece in shown.pieces
        ),
    )


def spare_rows(shown: OrderShown, components: Iterable[tuple[Component, str]]) -> tuple[Item, ...]:
    """What spares there are, and what more could be made.

    Args:
        shown: The order.
        components: What spares can be made of, each with its hand or variant.
    """
    rows = [Item(id=f"of spare {i}", words=spare) for i, spare in enumerate(shown.spares)]
    rows += [
        Item(
            id=f"spare {component.id} {mark}",
            words=f"make a spare {component.name}" + (f", {mark}" if mark else ""),
        )
        for component, mark in components
    ]
    return _titled("SPARES", rows)


def ending_rows(shown: OrderShown) -> tuple[Item, ...]:
    """The ways in which an order is done with."""
    not_yet = shown.undone[0] if shown.undone else ""
    ways = () if shown.for_shop else HOW
    to_close = "the tool is made" if shown.for_shop else "finished, and not delivered"
    return _titled(
        "DONE WITH",
        (
            *(Item(id=f"deliver {how}", words=HOW_WORDS[how], right=not_yet) for how in ways),
            Item(id="close", words=f"close it: {to_close}", right=not_yet),
            Item(id="call off", words="call it off: it is given up"),
        ),
    )


def _titled(title: str, rows: Iterable[Item]) -> tuple[Item, ...]:
    """The rows with a title over the first."""
    return tuple(replace(row, title=title) if i == 0 else row for i, row in enumerate(rows))


def sheet_rows() -> tuple[Item, ...]:
    """What can be printed of it."""
    return tuple(
        Item(id=f"sheet {kind}", words=words, title="TO PRINT" if i == 0 else "")
        for i, (kind, words) in enumerate(SHEETS)
    )
