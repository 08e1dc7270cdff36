"""The evening: what the record still wants to know of the day, and what comes first tomorrow.

Nothing here has to be told. What nobody tells stays unknown, and is never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator
from shlex import quote

import msgspec

from forgelog.book.sessions import read_sessions
from forgelog.desk.clock import Clock
from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.desk.errors import CannotDo
from forgelog.desk.evening_told import CutAsked, Evening, FuelAsked, KeptBar, Lying, OffcutShown
from forgelog.desk.in_play import LEFT_LYING
from forgelog.desk.rack import bar_words, cut_words, offcuts, propose_label
from forgelog.desk.review_facts import AskHeats
from forgelog.desk.review_heats import ask_heats
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import day_words, local_time, order_words
from forgelog.desk.shop import Shop
from forgelog.floor.list_else import PLACES_TO_LIE
from forgelog.floor.names import kind_name, number_of
from forgelog.learn.row_making import make_rows
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Stock
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem, show_length, show_mass
from forgelog.work.facts import FireLit
from forgelog.work.queries import component_of, pieces_of, recipe_of
from forgelog.work.rack import last_cut
from forgelog.work.state import BENCH, FIRE, FITTED, HAND, SCRAPPED, FuelRecord, State, Workpiece

FIRST_THINGS = 3
MOST_PLACES = 9
WEIGHED = "gas"
"""The kind of fire whose fuel comes out of a bottle, which is weighed before and after."""


def evening(shop: Shop, *, clock: Clock | None = None) -> Evening:
    """What there is to tell tonight.

    Args:
        shop: The book, opened just now.
        clock: Of this machine where None.
    """
    state, units = shop.state, shop.settings.shop.units
    session, offset, lit = _last_session(shop)
    mine = [
        piece
        for order in (lit.orders if lit is not None else ())
        if order in state.orders and state.orders[order].closed is None
        for piece in pieces_of(state, order)
    ]
    first, orders = _first_things(shop, clock)
    return Evening(
        session=session,
        day=day_words(local_time(offset[0], offset[1])) if session else "",
        heats=_heats(shop, units),
        lying=_lying(state, mine),
        places=_places(state),
        fuel=_fuel(state, session, lit, units) if lit is not None else None,
        bars=_bars(state, mine, units),
        offcuts=tuple(
            OffcutShown(
                label=bar.label,
                words=bar_words(bar, units),
            )
            for bar in offcuts(shop)
        ),
        label=propose_label(shop),
        cuts=tuple(_cuts(state, session, mine, units)),
        next=first,
        sheets=tuple(
            f"forgelog sheet {_as_typed(state.orders[o].label or o)}"
            for o in orders
            if o in state.orders
        ),
        orders=orders,
    )


def _last_session(shop: Shop) -> tuple[str, tuple[float, int], FireLit | None]:
    """The last session at the fire, when and by which clock it began, and its fire."""
    found = [
        (path, header)
        for path, header in shop.headers.items()
        if header is not None and header.kind == "floor"
        if (header.practice > 0.0) == shop.is_practice_copy
    ]
    if not found:
        return "", (0.0, 0), None
    path, header = max(found, key=lambda pair: pair[1].session)
    presses = [p for file in read_sessions([path]) for p in file.presses]
    lit = [f for p in presses for f in p.facts if isinstance(f, FireLit)]
    fire = lit[-1] if lit else FireLit(orders=header.orders)
    at = presses[0].at
    # A session that goes on from one that was cut off names its orders in its first line alone.
    orders = fire.orders or header.orders
    return header.session, (at.wall, at.offset), msgspec.structs.replace(fire, orders=orders)


def _as_typed(label: str) -> str:
    """A label as it is typed in a shell: in quotes where it has more than letters and digits."""
    plain = harmless(label)
    return plain if plain.isascii() and plain.replace("-", "").isalnum() else quote(plain)


def _heats(shop: Shop, units: UnitSystem) -> tuple[AskHeats, ...]:
    rows = make_rows(shop.state)
    done = [row for row in rows.steps if row.practice == shop.is_practice_copy]
    return ask_heats(done, {row.order: row for row in rows.orders}, Scope(units=units))


def _lying(state: State, mine: list[Workpiece]) -> tuple[Lying, ...]:
    groups: dict[tuple[str, str, str, bool], list[Workpiece]] = {}
    for piece in mine:
        if not piece.begun or piece.place in (SCRAPPED, FITTED):
            continue
        moving = piece.place in (HAND, FIRE)
        where = f"in the {piece.place}" if moving else piece.where
        if not where and piece.place == BENCH:
            where = "on the bench"
        groups.setdefault((piece.order, kind_name(state, piece), where, moving), []).append(piece)
    told = [
        Lying(
            workpieces=tuple(p.id for p in pieces),
            words=f"{order_words(state.orders[order])}: {harmless(name)}{_numbers(state, pieces)}",
            where=harmless(where),
            can_be_told=not moving,
        )
        for (order, name, where, moving), pieces in groups.items()
    ]
    return tuple(sorted(told, key=lambda one: bool(one.where)))


def _places(state: State) -> tuple[str, ...]:
    """Places that were named before, the newest first; then the usual ones."""
    pieces = sorted(state.pieces.values(), key=lambda piece: -piece.since_s)
    named = [piece.where for piece in pieces if piece.where and piece.where != LEFT_LYING]
    return tuple(harmless(where) for where in dict.fromkeys((*named, *PLACES_TO_LIE)))[:MOST_PLACES]


def _numbers(state: State, pieces: list[Workpiece]) -> str:
    """Which of several alike: " 1 and 3"; "" for the only one."""
    numbers = [number_of(state, piece) for piece in pieces]
    if all(of == 1 for _, of in numbers):
        return ""
    row = [str(number) for number, _ in sorted(numbers)]
    return " " + (row[0] if len(row) == 1 else f"{', '.join(row[:-1])} and {row[-1]}")


def _fuel(state: State, session: str, lit: FireLit, units: UnitSystem) -> FuelAsked:
    known = state.fuel.get(session)
    weighed = [
        one.after_kg
        for other, one in state.fuel.items()
        if other != session and one.fire == lit.fire and one.after_kg is not None
    ]
    return FuelAsked(
        session=session,
        fire=harmless(lit.fire),
        kind=lit.fire_kind,
        weighed=lit.fire_kind == WEIGHED,
        before_kg=known.before_kg if known is not None else weighed[-1] if weighed else None,
        told=fuel_words(known, units) if known is not None else "",
    )


def fuel_words(fuel: FuelRecord, units: UnitSystem) -> str:
    """What was burnt: "2.60 kg, from 21.4 kg to 18.8 kg"."""
    words = show_mass(fuel.kg, units)
    if fuel.before_kg is None or fuel.after_kg is None:
        return words
    before, after = show_mass(fuel.before_kg, units), show_mass(fuel.after_kg, units)
    return f"{words}, from {before} to {after}"


def _bars(state: State, mine: list[Workpiece], units: UnitSystem) -> tuple[KeptBar, ...]:
    found: dict[tuple[Section, str], None] = {}
    for piece in mine:
        stock = component_of(state, piece).stock
        if stock is not None and piece.begun:
            found[(stock.section, recipe_of(state, piece).steel)] = None
    return tuple(
        KeptBar(
            section=section,
            steel=steel,
            words=f"{show_section(section, units)}, {harmless(steel)}",
        )
        for section, steel in found
    )


def _cuts(
    state: State, session: str, mine: list[Workpiece], units: UnitSystem
) -> Iterator[CutAsked]:
    seen: set[tuple[str, str, Section, float]] = set()
    for piece in mine:
        component, recipe = component_of(state, piece), recipe_of(state, piece)
        stock = component.stock
        if stock is None or not any(r.session == session for r in piece.done):
            continue
        asked_mm = cut_mm = _cut_mm(stock, units)
        key = (recipe.id, component.id, stock.section, asked_mm)
        if key in seen or not asked_mm:
            continue
        seen.add(key)
        last = last_cut(state, recipe.id, component.id, stock.section, asked_mm)
        told = ""
        if last is not None:
            told = cut_words(last.cut_mm, last.over_mm, units)
            cut_mm = last.cut_mm if last.worked_for == piece.order else last.try_mm
        yield CutAsked(
            recipe=recipe.id,
            component=component.id,
            order=piece.order,
            section=stock.section,
            cut_mm=cut_mm,
            asked_mm=asked_mm,
            words=f"{order_words(state.orders[piece.order])}: {harmless(component.name)}, "
            f"{show_length(cut_mm, units)} of {show_section(stock.section, units)}",
            told=told,
        )


def _cut_mm(stock: Stock, units: UnitSystem) -> float:
    """What the smith was told to cut; 0 where the recipe gives no length."""
    if stock.cut_mm is not None:
        return as_cut_mm(stock.cut_mm, units)
    return as_cut_mm(stock.sum_mm, units) if stock.volume_mm3 > 0.0 else 0.0


def _first_things(shop: Shop, clock: Clock | None) -> tuple[tuple[str, ...], tuple[str, ...]]:
    from forgelog.desk.next_up import next_up

    try:
        first = next_up(shop, clock=clock).next[:FIRST_THINGS]
    except CannotDo:
        return (), ()
    words = tuple(f"{one.order}: {one.piece}, {one.step} ({one.why})" for one in first)
    orders = dict.fromkeys(one.workpiece.partition("/")[0] for one in first)
    return words, tuple(orders)
