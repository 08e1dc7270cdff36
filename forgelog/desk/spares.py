"""Spares made in the run: a piece or two more than the order wants, for the one that is spoilt."""

from __future__ import annotations

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_view import recipe_of_order
from forgelog.desk.orders import must_be_open
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.resolved import Component, Recipe
from forgelog.work.facts import NewPiece, SparesAdded
from forgelog.work.making import make_spares
from forgelog.work.queries import pieces_of
from forgelog.work.state import Order, State

MOST = 20
"""So many spares of a component at once."""


def recipe_for_spares(shop: Shop, order: Order) -> Recipe:
    """The recipe that new workpieces of an order would follow.

    Raises:
        CannotDo: it cannot be worked from.
    """
    if order.pins:
        return order.pins[-1]
    recipe, problems = recipe_of_order(shop, order)
    if recipe is None:
        raise CannotDo("\n".join(problems))
    return recipe


def components_for_spares(recipe: Recipe) -> tuple[tuple[Component, str], ...]:
    """What spares can be made of: components cut from the bar, each with each of its marks."""
    return tuple(
        (component, mark)
        for component in recipe.components
        if not component.lot and not component.needs
        for mark in dict.fromkeys(component.marks or ("",))
    )


def add_spares(
    shop: Shop,
    order: Order,
    component: str,
    count: int = 1,
    *,
    mark: str = "",
    clock: Clock | None = None,
) -> State:
    """Make more of a component than the order wants.

    Before the first lay-out they are only asked for; it makes them with all other workpieces.

    Args:
        shop: The book.
        order: An open order.
        component: Id or name of a component that is cut from the bar.
        count: How many.
        mark: Which hand or variant, where it has several.
        clock: Of this machine where None.

    Raises:
        CannotDo: no such component or mark, or one of which no spares are made; it is closed.
    """
    must_be_open(order)
    if not 1 <= count <= MOST:
        raise CannotDo(f"{count} spares cannot be made; write a number from 1 to {MOST}")
    recipe = recipe_for_spares(shop, order)
    found = _component(recipe, component)
    mark = _mark(found, mark)
    made: tuple[NewPiece, ...] = ()
    if order.pins:
        mine = [p for p in pieces_of(shop.state, order.id) if p.component == found.id]
        before = sum(p.spare or p.from_spare for p in mine if p.mark == mark)
        made = make_spares(order.id, found, mark, count, after=order.serials, before=before)
    fact = SparesAdded(order=order.id, component=found.id, mark=mark, count=count, made=made)
    return write_down(shop, fact, clock=clock)


def _component(recipe: Recipe, name: str) -> Component:
    by_name = {c.id: c for c in recipe.components}
    wanted = " ".join(name.split())
    found = by_name.get(wanted) or next((c for c in recipe.components if c.name == wanted), None)
    if found is None:
        hint = did_you_mean(wanted, by_name)
        words = f"there is no component {quoted(wanted)}; there are {listed(by_name, 'and')}"
        raise CannotDo(f"{words}\n    {hint}" if hint else words)
    if found.lot:
        raise CannotDo(f"{harmless(found.name)} is a handful: cut some more of it with the others")
    if found.needs:
        parts = listed((need.component for need in found.needs), "and")
        raise CannotDo(f"{harmless(found.name)} is put together: make spares of {parts}")
    return found


def _mark(component: Component, mark: str) -> str:
    marks = tuple(dict.fromkeys(m for m in component.marks if m))
    if not marks and mark:
        raise CannotDo(f"all of {harmless(component.name)} are alike: say no {quoted(mark)}")
    if marks and mark not in marks:
        found = f"{harmless(component.name)} has no {quoted(mark)}" if mark else "say which one"
        raise CannotDo(f"{found}: {listed(map(harmless, marks))}")
    return mark
