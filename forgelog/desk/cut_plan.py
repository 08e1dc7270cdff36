"""The cut list as it is worked out: what is wanted of each bar, what lies there, what is sawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from forgelog.book.saw_settings import SawSettings
from forgelog.desk.cut_wanted import GRAIN_MM, Wanted, same_section, wanted_of
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_view import recipe_of_order
from forgelog.desk.rack import rack
from forgelog.desk.shop import Shop
from forgelog.money.cutting import CutPlan, Piece, Saw, StockBar, plan_cuts
from forgelog.recipe.plain import harmless, quoted
from forgelog.trade.sections import Section, show_section, write_section
from forgelog.units import UnitSystem
from forgelog.work.bar import Bar
from forgelog.work.state import Order


class SectionPlanned(msgspec.Struct, frozen=True, kw_only=True):
    """All that is cut of one section and steel."""

    section: Section
    steel: str
    wanted: tuple[Wanted, ...]
    """By its place, which is the id of its pieces in the plan."""
    bars: tuple[Bar, ...]
    """What lies on the rack of it; by its place, which is the id in the plan."""
    plan: CutPlan


class CutPlanned(msgspec.Struct, frozen=True, kw_only=True):
    """The whole of it."""

    sections: tuple[SectionPlanned, ...]
    all_wanted: tuple[Wanted, ...]
    """Also what is not cut: because it lies ready, or has no length."""
    left_out: tuple[str, ...]
    """Orders that are not in it, with the reason; harmless."""


def plan_of_orders(shop: Shop, orders: Iterable[str] = ()) -> CutPlanned:
    """Work the cut list out.

    Args:
        shop: The book, opened just now.
        orders: Ids of orders; none for all that are open and not held.

    Raises:
        CannotDo: an order is unknown or closed.
    """
    chosen, left_out = _chosen(shop, tuple(dict.fromkeys(orders)))
    wanted: list[Wanted] = []
    for order in chosen:
        recipe, why = recipe_of_order(shop, order)
        newest = order.pins[-1] if order.pins else recipe
        if newest is None:
            first = why[0].partition("\n")[0]
            left_out.append(f"{harmless(order.label)}: {first}")
            continue
        wanted.extend(wanted_of(shop.state, order, newest))
    return CutPlanned(
        sections=planned_sections(shop, wanted),
        all_wanted=tuple(wanted),
        left_out=tuple(left_out),
    )


def planned_sections(shop: Shop, wanted: Iterable[Wanted]) -> tuple[SectionPlanned, ...]:
    """What is cut from what, by section and steel."""
    groups: dict[tuple[str, str], list[Wanted]] = {}
    for one in wanted:
        if one.to_cut > 0 and one.long_mm and one.stock.section.kind != "sheet":
            key = next(
                (
                    key
                    for key, others in groups.items()
                    if key[1] == one.recipe.steel.casefold()
                    and same_section(others[0].stock.section, one.stock.section)
                ),
                (write_section(one.stock.section), one.recipe.steel.casefold()),
            )
            groups.setdefault(key, []).append(one)
    lying = rack(shop)
    found = [plan_section(shop, group, lying) for group in groups.values()]
    units = shop.settings.shop.units
    return tuple(sorted(found, key=lambda s: (show_section(s.section, units), s.steel)))


def plan_section(shop: Shop, wanted: Sequence[Wanted], lying: Iterable[Bar]) -> SectionPlanned:
    """What is cut from what; all wanted pieces are of one section and steel."""
    section, steel = wanted[0].stock.section, wanted[0].recipe.steel
    bars = tuple(
        bar
        for bar in lying
        if same_section(bar.section, section) and bar.steel.casefold() == steel.casefold()
    )
    pieces = [
        Piece(id=str(place), long_mm=one.long_mm, count=one.to_cut)
        for place, one in enumerate(wanted)
    ]
    stock = [
        StockBar(id=str(place), long_mm=bar.long_mm, count=bar.count, offcut=bar.offcut)
        for place, bar in enumerate(bars)
    ]
    plan = plan_cuts(pieces, stock, saw_for(shop.settings.shop.saw, shop.settings.shop.units))
    return SectionPlanned(section=section, steel=steel, wanted=tuple(wanted), bars=bars, plan=plan)


def saw_for(saw: SawSettings, units: UnitSystem) -> Saw:
    """The saw, with the grain of the shop's units."""
    return Saw(
        kerf_mm=saw.kerf_mm,
        new_mm=saw.bar_mm,
        least_mm=saw.least_mm,
        grain_mm=GRAIN_MM[units],
    )


def _chosen(shop: Shop, names: tuple[str, ...]) -> tuple[list[Order], list[str]]:
    if not names:
        still_open = [o for o in shop.state.orders.values() if o.closed is None]
        still_open.sort(key=lambda o: (o.promised or "9999", o.taken_s, o.id))
        left_out = [
            f"{harmless(o.label)} is held ({harmless(o.held)})"
            for o in still_open
            if o.held is not None
        ]
        return [o for o in still_open if o.held is None], left_out
    chosen = []
    for name in names:
        order = shop.state.orders.get(name)
        if order is None:
            raise CannotDo(f"there is no order {quoted(name)}")
        if order.closed is not None:
            raise CannotDo(f"order {quoted(order.label)} is closed ({harmless(order.closed)})")
        chosen.append(order)
    return chosen, []
