"""An order as it stood after a session, in the index."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.book.index_draft import Draft
from forgelog.book.index_fold import Pieces
from forgelog.book.index_records import Version
from forgelog.recipe.resolved import Recipe
from forgelog.work.changes import replace
from forgelog.work.state import Order

SESSION, STANDING, VERSION, RECIPE, LINE = "session", "standing", "version", "recipe", "line"
"""The kinds of what is kept in the index."""


def version_of(
    draft: Draft, order: str, recipe: Callable[[str], Recipe] | None = None
) -> tuple[Order, Pieces]:
    """An order with its pieces as it stands now.

    Args:
        draft: The index.
        order: Its id; it must be in the index.
        recipe: Gives the recipe of a hash; None reads it.
    """
    version = draft.need(VERSION, version_name(order, draft.orders[order].versions[-1]), Version)
    read = recipe or (lambda pin: draft.need(RECIPE, pin, Recipe))
    return replace(version.order, pins=tuple(map(read, version.pins))), version.pieces


def version_name(order: str, place: int) -> str:
    """Under which an order is kept as it stood after the session of a place."""
    return f"{order}@{place}"
