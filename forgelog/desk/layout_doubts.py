"""What is doubtful about the sizes of an order, said before the fire is lit."""

from __future__ import annotations

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.recipe.read import in_words
from forgelog.recipe.rules.found import default_sizes_mm
from forgelog.recipe.rules.sizing import RULES
from forgelog.work.state import Order


def doubts_of(shop: Shop, order: Order) -> tuple[str, ...]:
    """Blanks, tenons, threads, upsets and targets that will not do at the order's sizes.

    Each is one line with the numbers and the smallest thing that would do. A recipe that cannot
    be read says nothing here: the lay-out says so already.
    """
    try:
        recipe = shop.recipe(order.recipe)
    except CannotDo:
        return ()
    sizes = {**default_sizes_mm(recipe), **order.sizes_mm}
    table = msgspec.to_builtins(recipe)
    return tuple(
        in_words(one.path, one.fault, table, "error").text.split("\n")[0]
        for rule in RULES
        for one in rule(recipe, sizes)
    )
