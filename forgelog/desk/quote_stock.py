"""What an order's quote is made from, and its stock: what is cut, from which bar, at what price."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from forgelog.desk.quote_past import Past
from forgelog.money.amounts import show_share
from forgelog.money.lines import Line, priced, quantity_of
from forgelog.money.rates import Rates
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Component, Recipe, Stock
from forgelog.recipe.slugs import slug
from forgelog.trade.errors import SumError
from forgelog.trade.sections import Section, SectionError, mass_kg_per_m, show_section
from forgelog.trade.stock import KERF_MM
from forgelog.units import UnitSystem, show_length
from forgelog.work.state import State


class Costing(msgspec.Struct, frozen=True, kw_only=True):
    """What the lines of an order are made from."""

    recipe: Recipe
    count: int
    rates: Rates
    past: Past
    state: State
    """What stands, with the order's workpieces."""
    fire: str
    """Kind of the fire."""
    units: UnitSystem
    kerf_mm: float = KERF_MM
    spares: Mapping[str, int] = {}
    """Pieces beyond those that the sets want, by component."""
    own: Mapping[str, str] = {}
    """Costs of this order alone, by their words."""

    def pieces(self, component: Component) -> int:
        """How many are made of a component."""
        return component.each * self.count + self.spares.get(component.id, 0)


def cut_kg(stock: Stock, kerf_mm: float) -> float | None:
    """What is cut for one piece, the kerf of the saw with it, kg; None where no length is known.

    Args:
        stock: What it is cut from.
        kerf_mm: Width of one saw cut, mm.

    Raises:
        SectionError: the section has no mass a metre.
    """
    long_mm = stock.cut_mm
    if long_mm is None:
        long_mm = stock.sum_mm if stock.volume_mm3 > 0 else 0.0
    return mass_kg_per_m(stock.section) * (long_mm + kerf_mm) / 1000 if long_mm > 0 else None


def stock_id(section: Section, steel: str, units: UnitSystem) -> str:
    """The id of the line of a bar."""
    return f"stock:{slug(f'{show_section(section, units)} {steel}')}"


def stock_lines(costing: Costing) -> Iterator[Line]:
    """A line for each bar; lengths to cut with grip and kerf, and the ends that are no use."""
    rates, steel = costing.rates, costing.recipe.steel
    kg_of: dict[Section, float] = {}
    for component in costing.recipe.components:
        stock = component.stock
        if stock is None:
            continue
        try:
            each_kg = cut_kg(stock, costing.kerf_mm)
        except (SectionError, SumError):
            each_kg = None
        if each_kg is None:
            yield Line(
                id=f"stock:{component.id}",
                group="material",
                words=f"stock of {harmless(component.name)}",
                missing="the recipe gives no length of it",
            )
            continue
        kg = each_kg * costing.pieces(component)
        kg_of[stock.section] = kg_of.get(stock.section, 0.0) + kg
    for section, kg in kg_of.items():
        words = f"{show_section(section, costing.units)}, {harmless(steel)}"
        kerf = show_length(costing.kerf_mm, costing.units)
        note = f"lengths to cut with {kerf} for each saw cut"
        if rates.waste:
            note += f", and {show_share(rates.waste)} for ends"
        yield priced(
            rates.currency,
            id=stock_id(section, steel, costing.units),
            group="material",
            words=words,
            quantity=quantity_of(kg * (1 + float(rates.waste)), 3),
            unit="kg",
            each=rates.bar_kg(section, steel),
            unset=f'[prices.steel] "{harmless(steel)}"',
            note=note,
            at_risk=True,
        )
