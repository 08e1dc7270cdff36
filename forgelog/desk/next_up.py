"""What to take next, away from the floor: the floor's own advice on every open order."""

from __future__ import annotations

import msgspec

from forgelog.desk.as_lit import as_if_lit
from forgelog.desk.clock import Clock
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.review_words import order_words, slot_words, step_words
from forgelog.desk.session import floor_settings
from forgelog.desk.shop import Shop
from forgelog.floor.advice import advise, next_step
from forgelog.recipe.plain import harmless


class NextUp(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to take."""

    workpiece: str
    piece: str
    order: str
    """What the order is called."""
    step: str
    why: str
    """At most six words."""


class NextView(msgspec.Struct, frozen=True, kw_only=True):
    """The advice now. Texts are final and harmless."""

    running: bool
    """By a session that runs or was cut off; else as if the fire were lit on all open orders."""
    next: tuple[NextUp, ...]
    """The first thing first."""
    left_out: tuple[str, ...] = ()


def next_up(shop: Shop, *, clock: Clock | None = None) -> NextView:
    """The advice now.

    Args:
        shop: The book, opened just now.
        clock: None for the book's own.

    Raises:
        CannotDo: no order can be worked on.
    """
    lit = as_if_lit(shop, clock)
    settings = floor_settings(shop, lit.clock, lit.stamp, learnt_so_far(shop))
    found: list[NextUp] = []
    for advice in advise(lit.state, lit.now, settings):
        piece = lit.state.pieces[advice.piece]
        step = next_step(lit.state, piece)
        found.append(
            NextUp(
                workpiece=piece.id,
                piece=slot_words(lit.state, piece),
                order=order_words(lit.state.orders[piece.order]),
                step=step_words(step, "", settings.units),
                why=harmless(advice.why),
            )
        )
    return NextView(running=lit.running, next=tuple(found), left_out=lit.left_out)
