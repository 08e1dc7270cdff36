"""What is doubtful about the sizes and bars of an order, said before the fire is lit."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.recipe.other_bar import refused_bars, too_little_for, with_bars
from forgelog.recipe.plain import harmless
from forgelog.recipe.read import in_words
from forgelog.recipe.rules.found import sizes_at
from forgelog.recipe.rules.sizing import RULES
from forgelog.recipe.written import WrittenComponent
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem
from forgelog.work.state import Order


def doubts_of(
    shop: Shop, order: Order, bars: Mapping[str, Section] | None = None
) -> tuple[str, ...]:
    """Blanks, tenons, threads, upsets and targets that will not do at the order's sizes and bars.

    Each is one line with the numbers and the smallest thing that would do. A recipe that cannot
    be read, or worked from its bars, says nothing here: the lay-out says so already.

    Args:
        shop: The book.
        order: The order.
        bars: As if these bars were chosen for it; its own choice where None.
    """
    try:
        recipe = shop.recipe(order.recipe)
    except CannotDo:
        return ()
    sizes = sizes_at(recipe, order.sizes_mm)
    bars = order.bars if bars is None else bars
    if refused_bars(recipe, sizes, bars):
        return ()
    units = shop.settings.shop.units
    short = [
        f"{harmless(c.name)}: {_too_little(c, sizes, bars[c.id], units)}"
        for c in recipe.component
        if c.id in bars and too_little_for(c, sizes, bars[c.id])
    ]
    actual = with_bars(recipe, sizes, bars)
    table = msgspec.to_builtins(actual)
    return (
        *short,
        *(
            in_words(one.path, one.fault, table, "error").text.split("\n")[0]
            for rule in RULES
            for one in rule(actual, sizes)
        ),
    )


def _too_little(
    component: WrittenComponent,
    sizes_mm: Mapping[str, float],
    bar: Section,
    units: UnitSystem | str,
) -> str:
    """What a bar has too little steel for: "20 mm square is too little for ..."; "" if enough."""
    short = too_little_for(component, sizes_mm, bar)
    if short is None:
        return ""
    has, wants = show_section(bar, units), show_section(short, units)
    return f"{has} is too little for {wants}; it would have to be upset"
