"""Gathers the job sheet of an order: what it is to be, and every step of every component."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forgelog.desk.clock import Clock
from forgelog.desk.customers import customer_of
from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.desk.errors import CannotDo
from forgelog.desk.job_form import form_of, forms_of
from forgelog.desk.job_told import ComponentOnJob, JobTold, PieceOnJob, StepOnJob
from forgelog.desk.layout import caution_lines
from forgelog.desk.layout_stock import stock_shown
from forgelog.desk.layout_tools import tools_shown
from forgelog.desk.learnt import heats_in_words
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.order_state import state_with
from forgelog.desk.order_view import order_shown, recipe_of_order
from forgelog.desk.plan_told import PlanTold
from forgelog.desk.recipe_moved import recipe_moved
from forgelog.desk.shop import Shop
from forgelog.floor.settings import LearntHeats
from forgelog.learn.heats import StepKey
from forgelog.recipe.plain import listed
from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.recipe.step_words import GAUGE, Fact, Look, StepWords
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem
from forgelog.work.facts import NewPiece
from forgelog.work.making import make_all
from forgelog.work.queries import pieces_of, steps_of
from forgelog.work.state import SCRAPPED, Order, State, Workpiece

MOST_PIECES = 60
"""Of one component: more are counted on the sheet, not ticked by name."""


def job_of(
    shop: Shop, order: Order, *, customer: bool = False, plan: bool = False, clock: Clock
) -> JobTold:
    """What the job sheet of an order tells.

    Args:
        shop: The book, opened just now.
        order: The order, open or closed.
        customer: True where the customer's own file is to be on it.
        plan: True where the plan of the day is to be on it.
        clock: Gives the day.

    Raises:
        CannotDo: there is no recipe to work from, the customer's file cannot be read, or there
            is nothing to plan.
    """
    state = state_with(shop, order.id)
    order = state.orders[order.id]
    recipe = works_from(shop, order)
    look = look_of(shop)
    learnt = learnt_so_far(shop)
    words = StepWords(look, heats_in_words(learnt, recipe.id))
    steps = [step for component in recipe.components for step in component.steps]
    teller = _Teller(shop, state, order, recipe, words, learnt)
    return JobTold(
        order=order_shown(shop, order),
        day=day_of(clock),
        inch=look.units == UnitSystem.INCH,
        customer=customer_facts(shop, order) if customer else (),
        recipe=words.say(recipe.name),
        says=words.prose(recipe.says),
        source=source_words(recipe),
        steel=recipe.steel,
        notes=tuple(teller.notes()),
        cautions=caution_lines(shop, [recipe], steps),
        stock=stock_shown(shop, [(order, recipe)]),
        tools=tools_shown(shop, steps),
        components=tuple(teller.component(component) for component in recipe.components),
        plan=_plan(shop, clock) if plan else None,
    )


def works_from(shop: Shop, order: Order) -> Recipe:
    """The recipe that an order works from: as it was pinned last, else as the file is now.

    Raises:
        CannotDo: it was not begun, and the recipe is gone or has errors.
    """
    if order.pins:
        return order.pins[-1]
    recipe, why = recipe_of_order(shop, order)
    if recipe is None:
        raise CannotDo("\n".join(why))
    return recipe


def look_of(shop: Shop) -> Look:
    """The shop's units and dialect, on this device."""
    own = shop.settings.shop
    return Look(units=own.units, dialect=shop.device.dialect or own.dialect)


def day_of(clock: Clock) -> str:
    """The day by the clock: YYYY-MM-DD."""
    from forgelog.desk.dates import local_day

    stamp = clock.stamp()
    return local_day(stamp.wall, stamp.offset).isoformat()


def source_words(recipe: Recipe) -> str:
    """Which recipe it is, so that the same work can be found again."""
    if not recipe.process_hash:
        return "none: said as it is done"
    return f"{recipe.id}, revision {recipe.revision}, process {recipe.process_hash}"


def customer_facts(shop: Shop, order: Order) -> tuple[Fact, ...]:
    """Who an order is for, by the smith's own file; nothing where there is none.

    Raises:
        CannotDo: the file is there and cannot be read.
    """
    told = customer_of(shop, order.id)
    if told is None:
        return ()
    if told.problem:
        raise CannotDo(told.problem)
    rows = [
        Fact("For", told.name),
        Fact("Address", ", ".join(told.address)),
        Fact("Known", "; ".join(filter(None, (told.notes, *told.more)))),
    ]
    return tuple(fact for fact in rows if fact.words)


class _Teller:
    def __init__(
        self,
        shop: Shop,
        state: State,
        order: Order,
        recipe: Recipe,
        words: StepWords,
        learnt: Mapping[StepKey, LearntHeats],
    ) -> None:
        self.shop = shop
        self.state = state
        self.order = order
        self.recipe = recipe
        self.words = words
        self.learnt = learnt
        self.methods = shop.settings.shop.methods
        self.forms = forms_of(shop, recipe)
        self.to_make = () if order.pins else make_all(order, recipe)

    def notes(self) -> Iterator[str]:
        """What stands against working by this sheet."""
        if self.order.closed is not None:
            yield f"This order is closed ({self.order.closed})."
        elif self.order.held is not None:
            yield f"This order is held ({self.order.held})."
        elif recipe_moved(self.shop, self.order) is not None:
            yield (
                "The recipe, a size or a bar has changed since this order was begun: the lay-out "
                "asks what to do. This sheet tells the work as it was begun."
            )
        older = [
            piece.slot
            for piece in pieces_of(self.state, self.order.id)
            if piece.place != SCRAPPED and piece.pin < len(self.order.pins) - 1
        ]
        if older:
            yield f"Made by an earlier state of the recipe: {listed(older, 'and')}."

    def component(self, component: Component) -> ComponentOnJob:
        """One component with its steps."""
        section = component.stock.section if component.stock else None
        pieces = self._pieces(component)
        return ComponentOnJob(
            name=self.words.say(component.name),
            count=self._count(component),
            facts=tuple(self._facts(component)),
            section=section,
            section_words=self._section(section),
            form=form_of(self.forms, self.recipe, component.id, self.words),
            pieces=pieces if len(pieces) <= MOST_PIECES else (),
            many=len(pieces),
            steps=tuple(
                self._step(component, number, step)
                for number, step in enumerate(component.steps, 1)
            ),
        )

    def _count(self, component: Component) -> str:
        all_of_them = component.each * self.order.count
        marks = list(dict.fromkeys(mark for mark in component.marks if mark))
        words = f"{all_of_them}"
        spares = sum(piece.spare for piece in self._made(component))
        spares += sum(piece.spare for piece in self._new(component))
        if spares:
            words += f" and {spares} spare"
        if component.lot:
            words += ", counted as a handful"
        if len(marks) > 1:
            words += f", {listed(marks, 'and')}"
            words += " (mirror images)" if component.mirrored else ""
        return words

    def _facts(self, component: Component) -> Iterator[Fact]:
        stock = component.stock
        if stock is not None:
            long_mm = as_cut_mm(stock.cut_mm or stock.sum_mm, self.words.look.units)
            words = self._section(stock.section)
            words += f", {self.words.length(long_mm, fine=True)} each" if long_mm else ""
            yield Fact("From", words)
        if component.needs:
            names = {c.id: c.name for c in self.recipe.components}
            parts = [f"{n.count} {names.get(n.component, n.component)}" for n in component.needs]
            yield Fact("Made of", self.words.say(listed(parts, "and")))
        if component.match:
            yield Fact("Must match", self.words.say(listed(component.match, "and")))

    def _pieces(self, component: Component) -> tuple[PieceOnJob, ...]:
        made = self._made(component)
        slots: list[tuple[str, bool, frozenset[str]]] = [
            (
                piece.slot,
                bool(piece.remade_from),
                frozenset(step.id for step in steps_of(self.state, piece)[: piece.step]),
            )
            for piece in made
        ]
        slots += [(new.slot, False, frozenset()) for new in self._new(component)]
        if len(slots) == 1:
            return (PieceOnJob(name="", done=slots[0][2]),)
        return tuple(
            PieceOnJob(
                name=slot.removeprefix(component.name).strip() + (", remade" if remade else ""),
                done=done,
            )
            for slot, remade, done in slots
        )

    def _made(self, component: Component) -> list[Workpiece]:
        """The workpieces of a component that are not scrapped."""
        return [
            piece
            for piece in pieces_of(self.state, self.order.id)
            if piece.component == component.id and piece.place != SCRAPPED
        ]

    def _new(self, component: Component) -> list[NewPiece]:
        """Those that the first lay-out will make; none once it has."""
        return [piece for piece in self.to_make if piece.component == component.id]

    def _step(self, component: Component, number: int, step: Step) -> StepOnJob:
        return StepOnJob(
            id=step.id,
            number=number,
            do=self.words.prose(step.do),
            cycle=f"cycle {step.cycle} of {step.cycles}" if step.cycle else "",
            kind=step.kind,
            plan=self._plan(component, step),
            facts=tuple(f for f in self.words.work(step) if f.label != self.words.say(GAUGE)),
            section=step.to_section,
            section_words=self._section(step.to_section),
            heats=self._heats(component, step),
            rest=step.rest.until if step.rest is not None else "",
            gauges=tuple(self.words.gauge(gauge) for gauge in step.gauges),
        )

    def _plan(self, component: Component, step: Step) -> str:
        lines = (fact.line.rstrip(".") for fact in self.words.plan(component, step))
        return "".join(f"{line}. " for line in lines).strip()

    def _heats(self, component: Component, step: Step) -> int:
        """Boxes to tick: enough for the method of the shop that takes the most heats."""
        methods = [m for m in step.heats if m in self.methods] or list(step.heats)
        most = 0
        for method in methods:
            known = self.learnt.get((self.recipe.id, component.id, step.id, method))
            most = max(most, step.heats[method], known.heats if known else 0)
        return most

    def _section(self, section: Section | None) -> str:
        return show_section(section, self.words.look.units) if section is not None else ""


def _plan(shop: Shop, clock: Clock) -> PlanTold:
    from forgelog.desk.plan import plan_of

    return plan_of(shop, clock=clock)
