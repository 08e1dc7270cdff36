"""An order that nobody placed, worked on a made-up clock: for pictures of the screen."""

from __future__ import annotations

from pathlib import Path

from forgelog.book.device import Device
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import take_order
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import Shop

DEVICE = Device(id="picture0")
"""The same for every picture, so that two of them can be compared."""


def posed_session(folder: Path, recipes: list[str], count: int, clock: FakeClock) -> FloorSession:
    """A floor on made-up orders in a new book.

    Args:
        folder: Where the book is made; not there yet, or empty.
        recipes: Ids of shipped recipes, an order each; the first one shipped where empty.
        count: Sets of each order.
        clock: Made up.

    Raises:
        CannotDo: no such recipe, or a count that cannot be.
    """
    shipped = shipped_recipes()
    if not shipped:
        raise CannotDo("this copy of forgelog came without recipes")
    make_book(folder, shipped)
    for recipe in recipes or [shipped[0].stem]:
        take_order(Shop(folder, DEVICE), recipe, count=count, clock=clock)
    shop = Shop(folder, DEVICE)
    return start(shop, shop.state.orders, clock=clock)
