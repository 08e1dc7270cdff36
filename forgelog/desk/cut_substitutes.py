"""Bars that the shop takes in place of others: told where one on the rack saves a new bar."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.desk.cut_plan import SectionPlanned, plan_section
from forgelog.desk.cut_wanted import Wanted, same_section
from forgelog.desk.errors import CannotDo
from forgelog.desk.rack import rack
from forgelog.desk.review_words import counted
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.trade.sections import Section, show_section, write_section


def substitutes_for(shop: Shop, one: SectionPlanned) -> Iterator[str]:
    """What another bar of the rack would save, where shop.toml says that it will do.

    It is only told: taking it is a choice for the order (`forgelog order bar`), which works the
    length and every mark out anew and writes it down.

    Args:
        shop: The book, opened just now.
        one: A section for which bars have to be bought, or pieces are longer than any.
    """
    if not one.plan.new:
        return
    for substitute in shop.settings.shop.saw.substitutes:
        if not same_section(substitute.planned, one.section):
            continue
        for wanted in one.wanted:
            saved = _saved(shop, one, wanted, substitute.bar)
            if saved > 0:
                bar = show_section(substitute.bar, shop.settings.shop.units)
                name = harmless(wanted.component.name)
                label = harmless(wanted.order.label)
                written = f'"{wanted.component.id}={write_section(substitute.bar)}"'
                yield (
                    f"{name} ({label}) from {bar} on the rack would save {counted(saved, 'bar')}: "
                    f"`forgelog order bar {label} {written}`"
                )


def _saved(shop: Shop, one: SectionPlanned, wanted: Wanted, bar: Section) -> int:
    """New bars that are saved; 0 where the other bar would have to be bought too."""
    order = wanted.order
    bars = {**order.bars, wanted.component.id: bar}
    try:
        recipe = shop.resolved(order.recipe, order.sizes_mm, bars)
    except CannotDo:
        return 0
    stock = next((c.stock for c in recipe.components if c.id == wanted.component.id), None)
    if stock is None:
        return 0
    moved = msgspec.structs.replace(wanted, stock=stock, recipe=recipe)
    lying = rack(shop)
    if not moved.long_mm:
        return 0
    there = plan_section(shop, [moved], lying)
    if there.plan.new or there.plan.lacking:
        return 0
    others = [w for w in one.wanted if w is not wanted]
    new = plan_section(shop, others, lying).plan.new if others else 0
    return one.plan.new - new
