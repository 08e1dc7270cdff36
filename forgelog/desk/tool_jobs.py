"""Tools that have to be made or mended before work can go on: what each holds up, who makes it."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.desk.dates import local_day
from forgelog.desk.layout import steps_left
from forgelog.desk.layout_tools import ToolShown, tools_shown
from forgelog.desk.order_view import recipe_of_order
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless, listed
from forgelog.work.state import Order


class HeldUp(msgspec.Struct, frozen=True, kw_only=True):
    """An order that waits for a tool."""

    order: str
    """Id."""
    label: str
    steps: tuple[str, ...]
    """What cannot be done without it."""


class ToolJob(msgspec.Struct, frozen=True, kw_only=True):
    """A tool to be made or to be repaired. All texts are harmless."""

    id: str
    name: str
    state: str
    """to be made, or to be repaired."""
    since: str
    """YYYY-MM-DD: when the smith said so; where only tools.toml says it, when the first order
    that waits for it was taken."""
    holds_up: tuple[HeldUp, ...]
    """The order promised first first."""
    recipes: tuple[str, ...] = ()
    """Ids of the book's recipes that make it."""
    order: str = ""
    """Label of an open order for the shop that makes it."""

    @property
    def words(self) -> str:
        """ "scroll jig (to be made) holds up gate 14: draw the scroll"."""
        waits = listed((f"{one.label}: {', '.join(one.steps)}" for one in self.holds_up), "and")
        words = f"{self.name} ({self.state}) holds up {waits}"
        if self.order:
            return f"{words}; order {self.order} makes it"
        return f"{words}; the recipe {self.recipes[0]} makes it" if self.recipes else words


def tool_jobs(shop: Shop) -> tuple[ToolJob, ...]:
    """Every tool that a step of an open order waits for, the most urgent order's first."""
    found: dict[str, tuple[ToolShown, list[HeldUp]]] = {}
    orders = [o for o in shop.state.orders.values() if o.closed is None]
    orders.sort(key=lambda o: (o.promised or "9999", o.taken_s, o.id))
    for order in orders:
        for tool in _missing(shop, order):
            held = HeldUp(order=order.id, label=harmless(order.label), steps=tool.for_steps)
            found.setdefault(tool.id, (tool, []))[1].append(held)
    makers = _makers(shop) if found else {}
    making = _in_the_making(shop, orders) if found else {}
    return tuple(
        ToolJob(
            id=tool.id,
            name=tool.name,
            state=tool.state,
            since=_since(shop, tool.id, [shop.state.orders[h.order] for h in held]),
            holds_up=tuple(held),
            recipes=makers.get(tool.id, ()),
            order=making.get(tool.id, ""),
        )
        for tool, held in found.values()
    )


def _missing(shop: Shop, order: Order) -> Iterator[ToolShown]:
    recipe, _ = recipe_of_order(shop, order)
    works_from = order.pins[-1] if order.pins else recipe
    if works_from is None or order.held is not None:
        return
    steps = steps_left(shop.state, order, works_from)
    yield from (tool for tool in tools_shown(shop, steps) if tool.missing)


def _makers(shop: Shop) -> dict[str, tuple[str, ...]]:
    """Of each tool that some recipe of the book makes: the recipes' ids."""
    makers: dict[str, tuple[str, ...]] = {}
    for file in shop.recipes:
        if file.recipe is not None:
            for tool in file.recipe.makes:
                makers[tool] = (*makers.get(tool, ()), file.recipe.id)
    return makers


def _in_the_making(shop: Shop, orders: list[Order]) -> dict[str, str]:
    """Of each tool that an open order for the shop makes: that order's label."""
    found: dict[str, str] = {}
    for order in orders:
        recipe = order.pins[-1] if order.pins else recipe_of_order(shop, order)[0]
        if order.for_shop and recipe is not None:
            found.update((tool, harmless(order.label)) for tool in recipe.makes)
    return found


def _since(shop: Shop, tool: str, orders: list[Order]) -> str:
    said_s = shop.state.tools_since_s.get(tool)
    seconds = said_s if said_s is not None else min(order.taken_s for order in orders)
    offset = shop.state.sessions[-1].offset if shop.state.sessions else 0
    return local_day(seconds, offset).isoformat()
