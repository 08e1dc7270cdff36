"""The readout of an order: what was agreed, and how far it is."""

from __future__ import annotations

import msgspec

from forgelog.desk.bought import BoughtShown, to_buy
from forgelog.desk.customers import CustomerShown, customer_of
from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.desk.dates import due_words as due_words
from forgelog.desk.dates import local_day as local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_state import state_with
from forgelog.desk.shop import Shop
from forgelog.desk.undone_words import left_out_lines, spare_lines, spares_words, undone_lines
from forgelog.floor.card import as_made
from forgelog.floor.names import letters, remade_words
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import show_section, write_section
from forgelog.units import show_length
from forgelog.work.progress import Progress, planned_progress, progress_of
from forgelog.work.queries import live, pieces_of, step_of, steps_of
from forgelog.work.state import Order, State, Workpiece
from forgelog.work.twins import twin_sizes


class SizeShown(msgspec.Struct, frozen=True, kw_only=True):
    """One size of an order."""

    name: str
    mm: float
    shown: str
    """In the shop's units."""
    says: str = ""
    """What is measured, and where."""
    given: bool = False
    """True where the customer gave it; else it is the recipe's."""


class BarShown(msgspec.Struct, frozen=True, kw_only=True):
    """The bar that one component is cut from."""

    component: str
    """Its id."""
    name: str
    section: str
    """As it is written: "40 x 8 mm flat"."""
    shown: str
    """In the shop's units."""
    cut_mm: float
    """Length of each; 0 where the recipe gives none."""
    cut: str
    given: bool = False
    """True where the smith chose it; else it is the recipe's."""
    own: str = ""
    """The recipe's, where another was chosen: "40 x 8 mm flat"; in the shop's units."""
    own_cut: str = ""
    """What would be cut of the recipe's."""


class PieceShown(msgspec.Struct, frozen=True, kw_only=True):
    """One workpiece of an order."""

    id: str
    slot: str
    place: str
    step: str
    """What it stands at: "roll the eye"; "" when all is done."""
    done: int
    steps: int
    where: str = ""
    note: str = ""
    """The last one."""
    make_as: tuple[str, ...] = ()
    """Of one under way that stands for a scrapped one: its twin's sizes, old and drawn."""
    spare: bool = False
    """Made beyond the slots; not counted in how far the order is."""


class OrderShown(msgspec.Struct, frozen=True, kw_only=True):
    """An order, as `order show` and its JSON give it."""

    id: str
    letter: str
    """That the floor calls it by; "" where there is only one."""
    label: str
    title: str
    recipe: str
    free: bool = False
    """Work without a recipe of the book."""
    count: int
    sizes: tuple[SizeShown, ...]
    bars: tuple[BarShown, ...] = ()
    bought: tuple[BoughtShown, ...] = ()
    """What is to be bought for it, by the recipe as it is now."""
    taken: str
    """YYYY-MM-DD."""
    promised: str
    for_shop: bool = False
    """For the shop itself: a tool or jig of its own."""
    held: str | None
    closed: str | None
    called_off: bool = False
    """True where it was closed with work still to be done."""
    delivered: str = ""
    """fetched, sent, fitted, or delivered; "" where it is not."""
    delivered_on: str = ""
    """YYYY-MM-DD."""
    undone: tuple[str, ...] = ()
    """What is still to be done before it can be delivered; empty for one that is done with."""
    spares: tuple[str, ...] = ()
    """Spares that took no slot, or are asked for."""
    left_out: tuple[str, ...] = ()
    """Scrapped pieces that no other was made for."""
    begun: bool
    """True once its workpieces have been made."""
    steps_done: int
    steps: int
    customer_file: str
    """Path in the book; the smith's own file, which may be there or not."""
    customer: CustomerShown | None = None
    """What that file says; None where it is not there."""
    problems: tuple[str, ...] = ()
    """Why it could not be worked on as it is."""
    offered: str = ""
    """The last price that was offered, and the answer: "672.00 EUR, accepted"; "" without."""
    notes: tuple[str, ...] = ()
    pieces: tuple[PieceShown, ...] = ()

    @property
    def progress(self) -> Progress:
        """How far it is."""
        return Progress(done=self.steps_done, steps=self.steps)


def orders_shown(shop: Shop, *, closed: bool = False) -> tuple[OrderShown, ...]:
    """The open orders, the one that is promised first first; then those without a date.

    Args:
        shop: The book.
        closed: True for closed ones as well, after the open ones.
    """
    orders = [o for o in shop.state.orders.values() if closed or o.closed is None]
    orders.sort(key=_urgency)
    return tuple(order_shown(shop, order) for order in orders)


def order_shown(shop: Shop, order: Order) -> OrderShown:
    """The readout of one order."""
    state = state_with(shop, order.id)
    order = state.orders[order.id]
    recipe, problems = recipe_of_order(shop, order)
    if order.pins:
        far = progress_of(state, order)
    elif recipe is not None:
        far = planned_progress(recipe, order.count)
    else:
        far = Progress(done=0, steps=0)
    return OrderShown(
        id=order.id,
        letter=letters(state).get(order.id, ""),
        label=harmless(order.label),
        title=harmless(order.title),
        recipe=order.recipe,
        free=order.free,
        count=order.count,
        sizes=_sizes(shop, order, recipe),
        bars=_bars(shop, recipe),
        bought=_bought(shop, order, recipe),
        taken=_day(state, order),
        promised=order.promised,
        for_shop=order.for_shop,
        held=harmless(order.held) if order.held is not None else None,
        closed=harmless(order.closed) if order.closed is not None else None,
        called_off=order.called_off,
        delivered=order.delivered,
        delivered_on=order.delivered_on,
        undone=undone_lines(state, order) if order.closed is None else (),
        left_out=left_out_lines(state, order),
        spares=(*spare_lines(state, order), *spares_words(order)),
        begun=bool(order.pins),
        steps_done=far.done,
        steps=far.steps,
        customer_file=f"customers/{order.id}.toml",
        customer=customer_of(shop, order.id),
        problems=problems,
        offered=_offered(order),
        notes=tuple(map(harmless, order.notes)),
        pieces=tuple(_piece(shop, state, p) for p in pieces_of(state, order.id)),
    )


def _offered(order: Order) -> str:
    if not order.quotes:
        return ""
    last = order.quotes[-1]
    price = f"{last.total} {last.currency}".rstrip()
    until = f", holds until {last.valid_until}" if last.valid_until and not last.answer else ""
    return harmless(f"{price}, {last.answer or 'not answered'}{until}")


def recipe_of_order(shop: Shop, order: Order) -> tuple[Recipe | None, tuple[str, ...]]:
    """The recipe of the book at the order's sizes and bars, as the file is now, or why not.

    Of work without a recipe it is what has been said so far.
    """
    if order.free and order.pins:
        return order.pins[-1], ()
    try:
        return shop.resolved(order.recipe, order.sizes_mm, order.bars), ()
    except CannotDo as problem:
        return None, (str(problem),)


def _urgency(order: Order) -> tuple[bool, str, float, str]:
    return order.closed is not None, order.promised or "9999", order.taken_s, order.id


def _day(state: State, order: Order) -> str:
    session = next((s for s in state.sessions if order.id in s.orders), None)
    return local_day(order.taken_s, session.offset if session else 0).isoformat()


def _sizes(shop: Shop, order: Order, recipe: Recipe | None) -> tuple[SizeShown, ...]:
    all_mm = dict(recipe.sizes_mm) if recipe is not None else {}
    all_mm |= order.sizes_mm
    try:
        written = shop.recipe(order.recipe).sizes
    except CannotDo:
        written = {}
    units = shop.settings.shop.units
    return tuple(
        SizeShown(
            name=harmless(name),
            mm=mm,
            shown=show_length(mm, units),
            says=render(written[name].says, units) if name in written else "",
            given=name in order.sizes_mm,
        )
        for name, mm in all_mm.items()
    )


def _bars(shop: Shop, recipe: Recipe | None) -> tuple[BarShown, ...]:
    units = shop.settings.shop.units
    found = []
    for component in recipe.components if recipe is not None else ():
        stock = component.stock
        if stock is None:
            continue
        cut_mm = stock.cut_mm if stock.cut_mm is not None else stock.sum_mm
        found.append(
            BarShown(
                component=component.id,
                name=harmless(component.name),
                section=write_section(stock.section),
                shown=show_section(stock.section, units),
                cut_mm=cut_mm,
                cut=show_length(as_cut_mm(cut_mm, units), units, fine=True) if cut_mm else "",
                given=stock.planned is not None,
                own=show_section(stock.planned, units) if stock.planned is not None else "",
                own_cut=show_length(stock.planned_mm, units) if stock.planned_mm else "",
            )
        )
    return tuple(found)


def _bought(shop: Shop, order: Order, recipe: Recipe | None) -> tuple[BoughtShown, ...]:
    """By the file as it is now, for no work hangs on it; by the pinned one where that is gone."""
    works_from = recipe or (order.pins[-1] if order.pins else None)
    return to_buy(works_from, order.count, shop.settings.shop.units) if works_from else ()


def _piece(shop: Shop, state: State, piece: Workpiece) -> PieceShown:
    step = step_of(state, piece)
    steps = len(steps_of(state, piece))
    return PieceShown(
        id=piece.id,
        slot=harmless(piece.slot) + (f", {remade_words(piece)}" if piece.remade_from else ""),
        make_as=tuple(
            f"{harmless(size.what)} {as_made(size, shop.settings.shop.units)}"
            f" ({harmless(state.pieces[size.twin].slot)})"
            for size in (twin_sizes(state, piece) if live(piece) else ())
        ),
        spare=piece.spare,
        place=piece.place,
        step=render(step.do, shop.settings.shop.units) if step is not None else "",
        done=min(piece.step, steps),
        steps=steps,
        where=harmless(piece.where),
        note=harmless(piece.notes[-1]) if piece.notes else "",
    )
