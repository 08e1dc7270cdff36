"""The real floor on a real book of the shipped recipes, in a folder given by FORGELOG_BOOK."""

from __future__ import annotations

import sys

from forgelog.book.folders import book_folder, is_book
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.orders import take_order
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import open_shop
from forgelog.screens.app import run
from forgelog.screens.floor import FloorScreen

RECIPES = ("gate-hinge-set", "leaf-coat-hooks")


def floor() -> FloorSession:
    """A session on two orders."""
    folder = book_folder()
    if not is_book(folder):
        make_book(folder, shipped_recipes())
        for recipe in RECIPES:
            take_order(open_shop(folder), recipe, count=2)
    shop = open_shop(folder)
    return start(shop, shop.state.orders)


if __name__ == "__main__":
    session = floor()
    sys.exit(run(lambda app: FloorScreen(session)))
