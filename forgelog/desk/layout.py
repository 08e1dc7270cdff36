"""The lay-out before the fire is lit: every tool, bar, caution and choice of the session."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.desk.layout_doubts import doubts_of
from forgelog.desk.layout_stock import StockShown, stock_shown
from forgelog.desk.layout_tools import ToolShown, tools_shown
from forgelog.desk.order_view import OrderShown, order_shown, recipe_of_order
from forgelog.desk.recipe_moved import CHOICE_WORDS, PieceMoved, recipe_moved
from forgelog.desk.shop import Shop
from forgelog.floor.names import short_name
from forgelog.floor.sums import degc_now
from forgelog.recipe.method_words import METHOD_NAMES
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import METHODS, Recipe, Step
from forgelog.trade.cautions import CAUTIONS, usual_for
from forgelog.trade.cooling import HAND_WARM_DEGC
from forgelog.trade.words import in_dialect
from forgelog.units import show_temperature
from forgelog.work.apply import now
from forgelog.work.moments import Stamp
from forgelog.work.queries import live, pieces_of, steps_of
from forgelog.work.state import FITTED, SCRAPPED, Order, State, Workpiece

LIGHT_WORDS = {"dim": "dim light", "day": "daylight"}


class LiesShown(msgspec.Struct, frozen=True, kw_only=True):
    """Where one workpiece lies."""

    workpiece: str
    words: str
    """ "A strap, left 1: box 2, next: roll the eye"."""
    note: str = ""
    """The last one."""


class Option(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to choose: a fire, a method, the light."""

    id: str
    words: str


class Options(msgspec.Struct, frozen=True, kw_only=True):
    """What there is to choose, and which one is chosen at first."""

    title: str
    options: tuple[Option, ...]
    at: int = 0


class MovedShown(msgspec.Struct, frozen=True, kw_only=True):
    """The recipe of one order has changed since it was begun: asks what to do."""

    order: str
    words: str
    """ "gate 14: the recipe, a size or a bar has changed since it was begun"."""
    steps: tuple[str, ...]
    """Each step that differs, with old and new."""
    pieces: tuple[PieceMoved, ...]
    """Workpieces that have finished such a step; each wants an answer."""
    choices: tuple[Option, ...]
    """Ids for `desk.recipe_moved.take_over`."""


class LayoutView(msgspec.Struct, frozen=True, kw_only=True):
    """Everything that the lay-out shows. All texts are final and harmless."""

    orders: tuple[OrderShown, ...]
    moved: tuple[MovedShown, ...] = ()
    problems: tuple[str, ...] = ()
    """Why the fire cannot be lit on these orders; empty where it can."""
    doubts: tuple[str, ...] = ()
    """What will not do at the orders' sizes, with what would; the fire can be lit all the same."""
    lies: tuple[LiesShown, ...] = ()
    """Pieces that were begun: where they lie."""
    hot: tuple[str, ...] = ()
    """What is hot still, of any order."""
    stock: tuple[StockShown, ...] = ()
    """What is to be cut, for pieces that were not begun."""
    tools: tuple[ToolShown, ...] = ()
    """For the steps that are left; what is missing first."""
    cautions: tuple[str, ...] = ()
    """Whole sentences; local codes and licensed practice decide."""
    fires: Options
    methods: Options
    lights: Options
    air: str
    """ "air 20 degC", by which rests are reckoned."""


def layout(shop: Shop, orders: Iterable[str], stamp: Stamp) -> LayoutView:
    """What to lay out for a session on some orders.

    Args:
        shop: The book, opened just now.
        orders: Ids of open orders.
        stamp: The clocks now: what is hot still goes by them.

    Raises:
        KeyError: there is no such order: a fault of the program, not of a smith.
    """
    chosen = [shop.state.orders[order] for order in orders]
    shown = tuple(order_shown(shop, order) for order in chosen)
    problems: list[str] = []
    recipes: list[tuple[Order, Recipe]] = []
    for order in chosen:
        recipe, why = recipe_of_order(shop, order)
        if order.pins:
            recipes.append((order, order.pins[-1]))
        elif recipe is not None:
            recipes.append((order, recipe))
        else:
            problems.extend(f"{harmless(order.label)}: {text}" for text in why)
        if order.held is not None:
            problems.append(f"{harmless(order.label)} is held ({harmless(order.held)})")
    steps = [s for order, recipe in recipes for s in steps_left(shop.state, order, recipe)]
    own = shop.settings.shop
    return LayoutView(
        orders=shown,
        moved=tuple(m for order in chosen if (m := _moved(shop, order)) is not None),
        problems=tuple(problems),
        doubts=tuple(
            f"{harmless(order.label)}: {text}"
            for order in chosen
            for text in doubts_of(shop, order)
        ),
        lies=tuple(_lies(shop, p) for order in chosen for p in _begun(shop.state, order)),
        hot=still_hot(shop.state, stamp),
        stock=stock_shown(shop, recipes),
        tools=tools_shown(shop, steps),
        cautions=caution_lines(shop, [r for _, r in recipes], steps),
        fires=Options(
            title="fire",
            options=tuple(
                Option(id=f.id, words=f"{harmless(f.name)}, {f.places} places") for f in own.fires
            ),
        ),
        methods=Options(
            title="method",
            options=tuple(Option(id=m, words=METHOD_NAMES[m]) for m in _methods(own.methods)),
        ),
        lights=Options(
            title="light",
            options=tuple(Option(id=i, words=words) for i, words in LIGHT_WORDS.items()),
            at=list(LIGHT_WORDS).index(shop.device.light or own.light),
        ),
        air=f"air {show_temperature(own.air_degc, own.units)}",
    )


def steps_left(state: State, order: Order, recipe: Recipe) -> list[Step]:
    """Every step that is still to be done on any piece of an order, each once.

    Args:
        state: What stands.
        order: The order.
        recipe: That it will work from, where it has no pieces yet.
    """
    if not order.pins:
        return [step for component in recipe.components for step in component.steps]
    left: dict[tuple[str, str], Step] = {}
    for piece in pieces_of(state, order.id):
        if live(piece):
            for step in steps_of(state, piece)[piece.step :]:
                left.setdefault((piece.component, step.id), step)
    return list(left.values())


def caution_lines(shop: Shop, recipes: Iterable[Recipe], steps: Iterable[Step]) -> tuple[str, ...]:
    """The cautions of recipes, steps, fires and methods in whole sentences, each once."""
    own = shop.settings.shop
    wanted = {c for f in own.fires for c in usual_for("forge", fire=f.kind, methods=own.methods)}
    wanted |= {c for recipe in recipes for c in recipe.cautions}
    wanted |= {c for step in steps for c in step.cautions}
    dialect = shop.device.dialect or own.dialect
    return tuple(in_dialect(CAUTIONS[c].says, dialect) for c in CAUTIONS if c in wanted)


def still_hot(state: State, stamp: Stamp) -> tuple[str, ...]:
    """What is hot by the cooling sum, hottest first: "B strap, left: about 210 degC"."""
    moment = now(state, stamp)
    found = [
        (degc, piece)
        for workpiece in state.hot
        if (piece := state.pieces.get(workpiece)) is not None
        and (degc := degc_now(state, workpiece, moment)) > HAND_WARM_DEGC
    ]
    found.sort(key=lambda pair: -pair[0])
    return tuple(
        f"{harmless(short_name(state, piece, exact=True))}: about {show_temperature(degc)}"
        for degc, piece in found
    )


def _methods(methods: tuple[str, ...]) -> list[str]:
    return [m for m in methods if m in METHODS] or ["hand"]


def _begun(state: State, order: Order) -> list[Workpiece]:
    return [p for p in pieces_of(state, order.id) if p.begun and p.place not in (SCRAPPED, FITTED)]


def _lies(shop: Shop, piece: Workpiece) -> LiesShown:
    state = shop.state
    steps = steps_of(state, piece)
    words = harmless(short_name(state, piece, exact=True))
    where = harmless(piece.where) or {"waiting": "where it was laid"}.get(piece.place, piece.place)
    left = steps[piece.step :]
    then = f"next: {render(left[0].do, shop.settings.shop.units)}" if left else "finished"
    return LiesShown(
        workpiece=piece.id,
        words=f"{words}: {where}, {then}",
        note=harmless(piece.notes[-1]) if piece.notes else "",
    )


def _moved(shop: Shop, order: Order) -> MovedShown | None:
    moved = recipe_moved(shop, order)
    if moved is None:
        return None
    what = "the recipe, a size or a bar has changed since it was begun"
    return MovedShown(
        order=order.id,
        words=f"{harmless(order.label)}: {what}",
        steps=tuple(step.words for step in moved.steps),
        pieces=moved.pieces,
        choices=tuple(Option(id=i, words=words) for i, words in CHOICE_WORDS.items()),
    )
