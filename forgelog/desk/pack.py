"""Gathers the pack list of an order: what goes out, its finish and its weight by the sum."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.clock import Clock
from forgelog.desk.job import customer_facts, day_of, look_of, works_from
from forgelog.desk.order_state import state_with
from forgelog.desk.order_view import order_shown
from forgelog.desk.pack_told import FinishPacked, PackTold, PartPacked
from forgelog.desk.review_words import day_words, local_time
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import listed
from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.recipe.step_words import StepWords
from forgelog.trade.sections import DENSITY_KG_M3
from forgelog.units import UnitSystem, show_mass, show_time
from forgelog.work.queries import pieces_of
from forgelog.work.state import SCRAPPED, Order, State


def pack_of(shop: Shop, order: Order, *, customer: bool = False, clock: Clock) -> PackTold:
    """What the pack list of an order tells.

    Args:
        shop: The book, opened just now.
        order: The order, open or closed.
        customer: True where the customer's own file is to be on it.
        clock: Gives the day.

    Raises:
        CannotDo: there is no recipe to work from, or the customer's file cannot be read.
    """
    state = state_with(shop, order.id)
    order = state.orders[order.id]
    recipe = works_from(shop, order)
    look = look_of(shop)
    words = StepWords(look)
    shown = order_shown(shop, order)
    parts = tuple(_parts(recipe, order.count, words))
    weighed = [part.each_kg * part.count for part in parts if part.each_kg is not None]
    weighed += [one.mass_kg for one in shown.bought if one.mass_kg is not None]
    unknown = [part.name for part in parts if part.each_kg is None]
    unknown += [one.name for one in shown.bought if one.mass_kg is None]
    return PackTold(
        order=shown,
        day=day_of(clock),
        inch=look.units == UnitSystem.INCH,
        customer=customer_facts(shop, order) if customer else (),
        recipe=words.say(recipe.name),
        steel=recipe.steel,
        parts=parts,
        bought=shown.bought,
        bought_mass=tuple(
            show_mass(one.mass_kg, look.units) if one.mass_kg is not None else ""
            for one in shown.bought
        ),
        finishes=tuple(_finishes(state, order, recipe, words)),
        mass=show_mass(sum(weighed), look.units) if weighed else "",
        not_weighed=tuple(unknown),
        open_steps=shown.steps - shown.steps_done,
    )


def finished_kg(recipe: Recipe, component: Component) -> float | None:
    """Mass of one finished component, kg: its form's volume, and that of all it is made of.

    None where the recipe gives a part of it no form. Scale is lost by then; what is filed off and
    what a finish adds are not in it.

    Source:
        Volume by the forms (`trade.solids`) times the density of EN 1993-1-2, 7850 kg/m3.
    """
    own = component.stock.volume_mm3 * DENSITY_KG_M3 / 1e9 if component.stock else 0.0
    if component.stock is not None and own <= 0.0:
        return None
    if component.stock is None and not component.needs:
        return None
    by_id = {c.id: c for c in recipe.components}
    for need in component.needs:
        part = finished_kg(recipe, by_id[need.component])
        if part is None:
            return None
        own += part * need.count
    return own


def made_of(recipe: Recipe, component: Component) -> str:
    """What an assembly holds, down to its last part: "2 hinge (each 1 strap and 1 pintle)"."""
    by_id = {c.id: c for c in recipe.components}
    held = []
    for need in component.needs:
        part = by_id[need.component]
        inside = made_of(recipe, part)
        each = "each " if need.count > 1 else ""
        held.append(f"{need.count} {part.name}" + (f" ({each}{inside})" if inside else ""))
    return listed(held, "and")


def _parts(recipe: Recipe, sets: int, words: StepWords) -> Iterator[PartPacked]:
    """What is left over when every assembly has taken up its parts."""
    taken: dict[str, int] = {}
    for component in recipe.components:
        for need in component.needs:
            taken[need.component] = taken.get(need.component, 0) + need.count * component.each
    for component in recipe.components:
        count = (component.each - taken.get(component.id, 0)) * sets
        if count <= 0:
            continue
        each_kg = finished_kg(recipe, component)
        marks = list(dict.fromkeys(mark for mark in component.marks if mark))
        yield PartPacked(
            name=words.say(component.name),
            count=count,
            marks=listed(marks, "and") if len(marks) > 1 else "",
            made_of=words.say(made_of(recipe, component)),
            each_kg=each_kg,
            mass=show_mass(each_kg * count, words.look.units) if each_kg is not None else "",
        )


def _finishes(
    state: State, order: Order, recipe: Recipe, words: StepWords
) -> Iterator[FinishPacked]:
    for component in recipe.components:
        for step in component.steps:
            if step.kind == "finish" and (step.dries_s or "oily-rags" in step.cautions):
                yield _finish(state, order, component, step, words)


def _finish(
    state: State, order: Order, component: Component, step: Step, words: StepWords
) -> FinishPacked:
    mine = [
        piece
        for piece in pieces_of(state, order.id)
        if piece.component == component.id and piece.place != SCRAPPED and not piece.spare
    ]
    ended = {p.id: r.ended_s for p in mine for r in p.done if r.step == step.id}
    of = len(mine) or (1 if component.lot else component.each * order.count)
    dry_from = ""
    if step.dries_s and len(ended) == of:
        offset = next((s.offset for s in reversed(state.sessions) if order.id in s.orders), 0)
        dry_from = day_words(local_time(max(ended.values()) + step.dries_s, offset))
    return FinishPacked(
        name=words.say(component.name),
        do=words.prose(step.do),
        says=words.prose(step.says),
        dries=show_time(step.dries_s) if step.dries_s else "",
        done=len(ended),
        of=of,
        dry_from=dry_from,
    )
