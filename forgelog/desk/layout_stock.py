"""Stock to cut for a session: how many of which bar, how long, and what lies on the rack."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.desk.cut_wanted import Wanted, as_cut_mm, same_section, wanted_of
from forgelog.desk.rack import cut_words, rack
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Recipe, Stock
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem, show_length
from forgelog.work.bar import Bar
from forgelog.work.rack import last_cut
from forgelog.work.state import Order


class StockShown(msgspec.Struct, frozen=True, kw_only=True):
    """What one component is cut from."""

    order: str
    component: str
    name: str
    section: str
    """ "40 x 8 mm flat", in the shop's units."""
    steel: str
    pieces: int
    """How many are still to be cut."""
    sawn: int = 0
    """So many more were sawn already and lie ready."""
    each_mm: float
    """As it is cut: rounded up, as in the cut list."""
    each: str
    """Length of each, in the shop's units."""
    from_sum: bool
    """True where the sum gives the length; False where the recipe has one that proved itself."""
    sum: str = ""
    """What the sum says, where the proved length is taken; "" where the recipe gives no form."""
    total_mm: float
    total: str
    own: str = ""
    """The recipe's bar and its length, where another is used: "480 mm of 40 x 8 mm flat"."""
    left: str = ""
    """What to cut where the piece may stay as thick as that bar; "" where that is not known."""
    pending: str = ""
    """The bar that was chosen since, and is asked about first."""
    rack: str = ""
    """What lies on the rack of it: "2 bars of 3 m"; "" where nothing is listed."""
    came_out: str = ""
    """How such a length came out last: "480 mm came out 6 mm short: try 486 mm"."""

    @property
    def words(self) -> str:
        """ "strap: 2 of 40 x 8 mm flat, 480 mm each (proved; the sum says 474 mm)"."""
        if self.sawn and not self.pieces:
            return f"{self.name}: {self.sawn} sawn already, {self.section}, {self.each}"
        many = f"{self.pieces} of " if self.pieces > 1 else ""
        if not self.each_mm:
            own = f" in place of {self.own}" if self.own else ""
            return f"{self.name}: {many}{self.section}{own}; the recipe gives no length"
        how = "by the sum" if self.from_sum else "proved"
        if self.own:
            how = f"{how}; the recipe's is " if self.from_sum else "by area from the proved "
            how += self.own
        if self.sum:
            how += f"; the sum says {self.sum}"
        each = " each" if self.pieces > 1 else ""
        return f"{self.name}: {many}{self.section}, {self.each}{each} ({how})"

    @property
    def more(self) -> tuple[str, ...]:
        """What else has to be known of another bar than the recipe's."""
        lines = []
        if self.came_out:
            lines.append(f"yours: {self.came_out}")
        if self.sawn and self.pieces:
            lines.append(f"{self.sawn} more of it sawn already")
        if self.left:
            lines.append(f"drawn to the recipe's sizes; left as thick as the bar, cut {self.left}")
        if self.pending:
            lines.append(f"{self.pending} was chosen since: it is asked about on page 1")
        return tuple(lines)


def stock_shown(shop: Shop, recipes: Iterable[tuple[Order, Recipe]]) -> tuple[StockShown, ...]:
    """What is to be cut, for pieces that were not begun; alike bars side by side.

    Args:
        shop: The book.
        recipes: Each order with the recipe that it works from.
    """
    found = [
        _shown(shop, one)
        for order, newest in recipes
        for one in wanted_of(shop.state, order, newest)
    ]
    return tuple(sorted(found, key=lambda s: (s.section, -s.each_mm)))


def _shown(shop: Shop, one: Wanted) -> StockShown:
    units = shop.settings.shop.units
    order, component, stock = one.order, one.component, one.stock
    each_mm = as_cut_mm(one.long_mm, units)
    return StockShown(
        order=order.id,
        component=component.id,
        name=harmless(component.name),
        section=show_section(stock.section, units),
        steel=harmless(one.recipe.steel),
        pieces=one.to_cut,
        sawn=one.ready,
        each_mm=each_mm,
        each=show_length(each_mm, units, fine=True),
        from_sum=stock.cut_mm is None,
        sum=_sum_words(stock, units),
        total_mm=each_mm * one.to_cut,
        total=show_length(each_mm * one.to_cut, units),
        own=_own_words(stock, units),
        left=show_length(stock.left_mm, units) if stock.left_mm else "",
        pending=_pending(order, component.id, units),
        rack=on_rack(rack(shop), stock.section, one.recipe.steel, units),
        came_out=_came_out(shop, one),
    )


def _came_out(shop: Shop, one: Wanted) -> str:
    units = shop.settings.shop.units
    cut = last_cut(
        shop.state,
        one.recipe.id,
        one.component.id,
        one.stock.section,
        as_cut_mm(one.long_mm, units),
    )
    return "" if cut is None else cut_words(cut.cut_mm, cut.over_mm, units)


def _sum_words(stock: Stock, units: UnitSystem | str) -> str:
    if stock.cut_mm is None or stock.volume_mm3 <= 0:
        return ""
    return show_length(stock.sum_mm, units)


def _own_words(stock: Stock, units: UnitSystem | str) -> str:
    if stock.planned is None:
        return ""
    own = show_section(stock.planned, units)
    return f"{show_length(stock.planned_mm, units)} of {own}" if stock.planned_mm else own


def _pending(order: Order, component: str, units: UnitSystem | str) -> str:
    """The bar that was chosen after the order was begun, until the question is answered."""
    if not order.pins:
        return ""
    pinned = next((c.stock for c in order.pins[-1].components if c.id == component), None)
    if pinned is None:
        return ""
    wanted = order.bars.get(component, pinned.planned or pinned.section)
    return "" if wanted == pinned.section else show_section(wanted, units)


def on_rack(bars: Iterable[Bar], section: Section, steel: str, units: UnitSystem | str) -> str:
    """What lies on the rack of a bar: "2 bars of 3000 mm, offcut B2 of 340 mm"."""
    words = []
    for bar in bars:
        if not same_section(bar.section, section) or bar.steel.casefold() != steel.casefold():
            continue
        long = show_length(bar.long_mm, units)
        if bar.offcut:
            words.append(f"offcut {harmless(bar.label)} of {long}".replace("  ", " "))
        else:
            words.append(f"{bar.count} {'bar' if bar.count == 1 else 'bars'} of {long}")
    return ", ".join(words)
