"""Stock to cut for a session: how many of which bar, how long, and what lies on the rack."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.book.settings import Bar
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Component, Recipe, Stock
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem, show_length
from forgelog.work.queries import live, pieces_of
from forgelog.work.state import Order, State


class StockShown(msgspec.Struct, frozen=True, kw_only=True):
    """What one component is cut from."""

    order: str
    component: str
    name: str
    section: str
    """ "40 x 8 mm flat", in the shop's units."""
    steel: str
    pieces: int
    """How many are to be cut."""
    each_mm: float
    each: str
    """Length of each, in the shop's units."""
    from_sum: bool
    """True where the sum gives the length; False where the recipe has one that proved itself."""
    sum: str = ""
    """What the sum says, where the proved length is taken; "" where the recipe gives no form."""
    total_mm: float
    total: str
    rack: str = ""
    """What lies on the rack of it: "2 bars of 3 m"; "" where nothing is listed."""

    @property
    def words(self) -> str:
        """ "strap: 2 of 40 x 8 mm flat, 480 mm each (proved; the sum says 474 mm)"."""
        many = f"{self.pieces} of " if self.pieces > 1 else ""
        if not self.each_mm:
            return f"{self.name}: {many}{self.section}; the recipe gives no length"
        how = "by the sum" if self.from_sum else "proved"
        if self.sum:
            how += f"; the sum says {self.sum}"
        each = " each" if self.pieces > 1 else ""
        return f"{self.name}: {many}{self.section}, {self.each}{each} ({how})"


def stock_shown(shop: Shop, recipes: Iterable[tuple[Order, Recipe]]) -> tuple[StockShown, ...]:
    """What is to be cut, for pieces that were not begun; alike bars side by side.

    Args:
        shop: The book.
        recipes: Each order with the recipe that it works from.
    """
    units = shop.settings.shop.units
    found: list[StockShown] = []
    for order, recipe in recipes:
        for component in recipe.components:
            count = to_cut(shop.state, order, component)
            if component.stock is None or not count:
                continue
            stock = component.stock
            by_sum_mm = stock.sum_mm if stock.volume_mm3 > 0 else 0.0
            each_mm = stock.cut_mm if stock.cut_mm is not None else by_sum_mm
            found.append(
                StockShown(
                    order=order.id,
                    component=component.id,
                    name=harmless(component.name),
                    section=show_section(stock.section, units),
                    steel=harmless(recipe.steel),
                    pieces=count,
                    each_mm=each_mm,
                    each=show_length(each_mm, units),
                    from_sum=stock.cut_mm is None,
                    sum=_sum_words(stock, units),
                    total_mm=each_mm * count,
                    total=show_length(each_mm * count, units),
                    rack=on_rack(shop.settings.bars, stock, recipe.steel, shop),
                )
            )
    return tuple(sorted(found, key=lambda s: (s.section, -s.each_mm)))


def _sum_words(stock: Stock, units: UnitSystem | str) -> str:
    if stock.cut_mm is None or stock.volume_mm3 <= 0:
        return ""
    return show_length(stock.sum_mm, units)


def to_cut(state: State, order: Order, component: Component) -> int:
    """How many pieces of a component are still to be cut."""
    if not order.pins:
        return component.each * order.count
    waiting = [
        p
        for p in pieces_of(state, order.id)
        if p.component == component.id and live(p) and not p.begun
    ]
    return sum(p.lot or 1 for p in waiting)


def on_rack(bars: Iterable[Bar], stock: Stock, steel: str, shop: Shop) -> str:
    """What lies on the rack of a bar: "2 bars of 3000 mm, offcut B2 of 340 mm"."""
    units = shop.settings.shop.units
    words = []
    for bar in bars:
        if not _same(bar.section, stock.section) or bar.steel.casefold() != steel.casefold():
            continue
        long = show_length(bar.long_mm, units)
        if bar.offcut:
            words.append(f"offcut {harmless(bar.label)} of {long}".replace("  ", " "))
        else:
            words.append(f"{bar.count} {'bar' if bar.count == 1 else 'bars'} of {long}")
    return ", ".join(words)


def _same(one: Section, other: Section) -> bool:
    return one.kind == other.kind and all(
        abs(a - b) < 0.05 for a, b in zip(one.sizes_mm, other.sizes_mm, strict=True)
    )
