"""A book in which the same strap was drawn again and again: our own invention."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import msgspec

from forgelog.desk.shop import Shop as Book
from forgelog.work.facts import DayEnded, EndCutOff, FireLit, OrderTaken, RecipePinned
from tests.desk.past_work import FIRST, PastWork
from tests.learn.shop import LEFT, MADE, RECIPE

KEY = ("test-piece", "strap", "draw", "hand")
DESK = "20251009T080000Z-anvil7k-desk"
DRAW = "heats/test-piece/strap/draw/hand"


def taught(
    book: Path, heats: Sequence[int] = (6, 5, 5, 5, 5, 5, 14), *, practice: float = 0.0
) -> Book:
    """Orders of one strap each, one after the other; the last piece lost a burnt end."""
    past = PastWork(book)
    orders = [f"o{n}" for n in range(1, len(heats) + 1)]
    past.begin(DESK, kind="desk", orders=tuple(orders))
    for order in orders:
        made = tuple(
            msgspec.structs.replace(piece, id=piece.id.replace("o1/", f"{order}/"))
            for piece in MADE
        )
        past.press(
            0.0,
            OrderTaken(order=order, label=order, title=f"gate {order}", recipe="test-piece"),
            RecipePinned(order=order, recipe=RECIPE, made=made),
        )
    past.begin(
        FIRST, FireLit(orders=tuple(orders)), after_s=600.0, orders=tuple(orders), practice=practice
    )
    for order, count in zip(orders, heats, strict=True):
        piece = LEFT.replace("o1/", f"{order}/")
        if count > 10:
            past.press(1.0, EndCutOff(workpiece=piece, lost_mm=12.0))
        past.forge(piece, "draw", count)
        past.press(3600.0)
    past.press(60.0, DayEnded())
    return past.write()
