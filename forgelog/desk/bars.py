"""The bar that lies there in place of the recipe's: what there is to choose, and the choice."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.desk.clock import Clock
from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout_doubts import doubts_of
from forgelog.desk.layout_stock import on_rack
from forgelog.desk.orders import follows_recipe
from forgelog.desk.rack import rack
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.resolved import Stock
from forgelog.recipe.rules.found import section_of
from forgelog.recipe.written import WrittenComponent
from forgelog.trade.bars import USUAL_MM
from forgelog.trade.sections import Section, SectionError, area_mm2, parse_section, show_section
from forgelog.units import show_length
from forgelog.work.facts import BarChosen
from forgelog.work.state import Order, State

AS_RECIPE = "recipe"
"""What is written for the recipe's own bar."""
LEAST, MOST = 0.6, 1.8
"""Bars between these shares of the area of the recipe's own are offered; others can be written."""
NARROW, WIDE = 0.65, 1.55
"""And between these of each side, so that a flat is offered for a flat that is like it."""
FAR = 10.0
"""A bar of so many times the area of the recipe's own, or less than its tenth, is refused."""
NEAR = 2
"""So many usual bars on either side of the recipe's own are offered."""


class BarRow(msgspec.Struct, frozen=True, kw_only=True):
    """One bar that can be chosen."""

    section: Section | None
    """None for the recipe's own."""
    words: str
    """ "12.7 mm square", in the shop's units."""
    whence: str
    """Where it comes from: "the recipe's", "on the rack: 2 bars of 3000 mm", "a usual size"."""
    cut: str = ""
    """Length of each; "" where the recipe gives none."""
    left: str = ""
    """What to cut where the finished piece may stay as thick as the bar; "" where none is known."""
    problems: tuple[str, ...] = ()
    """What it has too little for and what else will not do, or why it cannot be at all."""
    can_be: bool = True


class BarsShown(msgspec.Struct, frozen=True, kw_only=True):
    """The bars of one component; all texts are final and harmless."""

    title: str
    """ "gate 14: strap"."""
    rows: tuple[BarRow, ...]
    """The recipe's own first, then from thin to thick."""
    at: int
    """Which one is chosen now."""


def bars_shown(shop: Shop, order: Order, component: str) -> BarsShown:
    """What a component can be cut from: the recipe's own bar, the rack, and usual bars near it.

    Only bars of the recipe's shape and steel; any other can be written, as `choose_bar` takes it.

    Raises:
        CannotDo: the recipe is gone or has errors, or nothing of that name is cut.
    """
    part = _part(shop, order, component)
    own = _own(part)
    chosen = order.bars.get(part.id)
    lying = [
        bar.section
        for bar in rack(shop)
        if bar.steel.casefold() == shop.recipe(order.recipe).steel.casefold()
        and _within(bar.section, own)
    ]
    usual = _usual(own)
    others = dict.fromkeys((*lying, *usual, *([chosen] if chosen else [])))
    rows = [_row(shop, order, part, own, None)]
    rows.extend(
        _row(shop, order, part, own, section)
        for section in sorted(others, key=lambda s: (area_mm2(s), s.sizes_mm))
        if section != own
    )
    at = next((i for i, row in enumerate(rows) if row.section == chosen), 0)
    return BarsShown(
        title=f"{harmless(order.label)}: {harmless(part.name)}", rows=tuple(rows), at=at
    )


def choose_bar(
    shop: Shop, order: Order, component: str, section: Section | None, *, clock: Clock | None = None
) -> State:
    """Cut a component from another bar, or (None) from the recipe's own again.

    Work that was begun follows at the next lay-out.

    Args:
        shop: The book, opened just now.
        order: An open order.
        component: Its id or name.
        section: Any bar with an area; it need not be on the rack.
        clock: Of this machine where None.

    Raises:
        CannotDo: the order is closed, nothing of that name is cut, the bar cannot be, or it is
            chosen already.
    """
    return choose_bars(shop, order, {component: section}, clock=clock)


def choose_bars(
    shop: Shop,
    order: Order,
    chosen: dict[str, Section | None],
    *,
    clock: Clock | None = None,
) -> State:
    """Several bars at once; they stand or fall together. See `choose_bar`."""
    if order.closed is not None:
        raise CannotDo(f"order {quoted(order.label)} is closed ({harmless(order.closed)})")
    bars = dict(order.bars)
    facts = []
    for name, section in chosen.items():
        known = name if section is None and name in order.bars else ""
        part = None if known else _part(shop, order, name)
        component = known or (part.id if part else "")
        if part is not None and section == _own(part):
            section = None
        if bars.get(component) == section:
            bar = "the recipe's own bar" if section is None else show_section(section)
            raise CannotDo(f"{harmless(name)} is cut from {bar} already")
        bars.pop(component, None)
        if section is not None:
            bars[component] = section
            if part is not None:
                _near_enough(part, section)
        facts.append(BarChosen(order=order.id, component=component, section=section))
    if bars:
        shop.resolved(order.recipe, order.sizes_mm, bars)
    return write_down(shop, *facts, clock=clock)


def read_bars(texts: Iterable[str]) -> dict[str, Section | None]:
    """Bars as they are written on the command line: ["strap=40 x 10 mm flat", "pin=recipe"].

    Raises:
        CannotDo: one of them is no bar; says how to write it.
    """
    bars: dict[str, Section | None] = {}
    for text in texts:
        name, sign, value = text.partition("=")
        name, value = name.strip(), value.strip()
        if not sign or not name or not value:
            raise CannotDo(
                f'{quoted(text)} is no bar; write it like "strap=40 x 10 mm flat", or '
                f'"strap={AS_RECIPE}" for the recipe\'s own'
            )
        if name in bars:
            raise CannotDo(f"the bar of {quoted(name)} is given twice")
        try:
            bars[name] = None if value == AS_RECIPE else parse_section(value)
        except SectionError as problem:
            raise CannotDo(f"bar of {quoted(name)}: {problem}") from None
    return bars


def _part(shop: Shop, order: Order, name: str) -> WrittenComponent:
    """A component that is cut from a bar, by its id or name."""
    follows_recipe(order)
    cut = [c for c in shop.recipe(order.recipe).component if c.stock is not None]
    for part in cut:
        if name in (part.id, part.name):
            return part
    ids = [part.id for part in cut]
    words = f"{quoted(name)} is cut from no bar in this recipe"
    if ids:
        words += f"; cut are {listed(ids, 'and')}"
    hint = did_you_mean(name, ids)
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def _own(part: WrittenComponent) -> Section:
    own = section_of(part.stock.section) if part.stock else None
    assert own is not None
    return own


def _near_enough(part: WrittenComponent, section: Section) -> None:
    """Refuse a bar by which the recipe would make no sense: a slip of the key, most often.

    Raises:
        CannotDo: it is far thicker or thinner than the recipe's own.
    """
    own = _own(part)
    try:
        share = area_mm2(section) / area_mm2(own)
    except SectionError:
        return
    if FAR**-1 <= share <= FAR:
        return
    times = f"{share:.0f} times" if share > 1.0 else f"a {1.0 / share:.0f}th of"
    raise CannotDo(
        f"{harmless(part.name)}: {show_section(section)} has {times} the area of "
        f"{show_section(own)}, the recipe's own bar; such work wants a recipe of its own"
    )


def _within(section: Section, own: Section) -> bool:
    if section.kind != own.kind or own.kind == "sheet":
        return False
    if not LEAST <= area_mm2(section) / area_mm2(own) <= MOST:
        return False
    sides = zip(section.sizes_mm, own.sizes_mm, strict=True)
    return all(NARROW <= side / other <= WIDE for side, other in sides)


def _usual(own: Section) -> list[Section]:
    sizes = USUAL_MM.get(own.kind, ())
    thin = [mm for mm in sizes if mm < own.a_mm][-NEAR:]
    thick = [mm for mm in sizes if mm > own.a_mm][:NEAR]
    bars = [Section(kind=own.kind, a_mm=float(mm)) for mm in (*thin, *thick)]
    return [bar for bar in bars if _within(bar, own)]


def _row(
    shop: Shop, order: Order, part: WrittenComponent, own: Section, section: Section | None
) -> BarRow:
    units = shop.settings.shop.units
    recipe = shop.recipe(order.recipe)
    bar = section or own
    lies = on_rack(rack(shop), bar, recipe.steel, units)
    known = own.kind in USUAL_MM and bar in _usual(own)
    whence = "the recipe's" if section is None else "a usual size" if known else "written by hand"
    if lies:
        whence = f"the recipe's; on the rack: {lies}" if section is None else f"on the rack: {lies}"
    words = show_section(bar, units)
    bars = {name: other for name, other in order.bars.items() if name != part.id}
    if section is not None:
        bars[part.id] = section
    try:
        resolved = shop.resolved(order.recipe, order.sizes_mm, bars)
    except CannotDo as problem:
        first = str(problem).partition("\n")[0]
        return BarRow(section=section, words=words, whence=whence, problems=(first,), can_be=False)
    stock = next(c.stock for c in resolved.components if c.id == part.id)
    assert stock is not None
    return BarRow(
        section=section,
        words=words,
        whence=whence,
        cut=show_length(as_cut_mm(mm, units), units, fine=True) if (mm := _cut_mm(stock)) else "",
        left=show_length(stock.left_mm, units) if stock.left_mm else "",
        problems=_new_doubts(shop, order, bars, part.id),
    )


def _new_doubts(
    shop: Shop, order: Order, bars: dict[str, Section], component: str
) -> tuple[str, ...]:
    """What will not do with this bar and would with the recipe's own."""
    if component not in bars:
        return ()
    others = {name: bar for name, bar in bars.items() if name != component}
    before = doubts_of(shop, order, others)
    return tuple(doubt for doubt in doubts_of(shop, order, bars) if doubt not in before)


def _cut_mm(stock: Stock) -> float:
    return stock.cut_mm if stock.cut_mm is not None else stock.sum_mm
