"""The job sheet: an order as it is worked, with a box for every heat, rest and step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from forgelog.desk.job_told import ComponentOnJob, JobTold, StepOnJob
from forgelog.desk.layout_tools import ToolShown
from forgelog.desk.plan_told import OrderPlanned, PlanTold
from forgelog.recipe.step_words import CAUTION, Fact
from forgelog.sheets.blocks import (
    AnyBlock,
    Cell,
    Check,
    Checks,
    Facts,
    Part,
    Picture,
    Points,
    Room,
    Row,
    Sheet,
    Step,
    Table,
    Words,
)
from forgelog.sheets.drawings import draw_form, draw_section
from forgelog.sheets.timeline_svg import draw_timeline

NOT_FOR_SURE = (
    "Heats and times are what is planned or was learnt; the eye decides. Local codes and licensed "
    "practice come first. Nothing here says that a part carries a load."
)


_NOTE = Cell(name="note", note=True)


def job_sheet(told: JobTold) -> Sheet:
    """The job sheet of an order."""
    order = told.order
    title = f"{order.label}: {order.title}"
    return Sheet(
        kind="JOB SHEET",
        title=title,
        head=f"JOB SHEET  {title}",
        foot=f"told {told.day} by forgelog; recipe {told.source}",
        lead=tuple(_lead(told)),
        to_scale=True,
        parts=tuple(_parts(told)),
    )


def pairs(facts: Iterable[Fact]) -> tuple[tuple[str, str], ...]:
    """Facts as labels and words."""
    return tuple((fact.label, fact.words) for fact in facts)


def _lead(told: JobTold) -> Iterator[AnyBlock]:
    order = told.order
    sets = "1 set" if order.count == 1 else f"{order.count} sets"
    rows = [
        ("Order", f"{order.id}, taken {order.taken}"),
        ("Promised", order.promised or "no date"),
        ("To make", f"{sets} of {told.recipe}"),
        ("Steel", told.steel),
        ("How far", order.progress.words),
        ("Recipe", told.source),
        *pairs(told.customer),
    ]
    yield Facts(rows=tuple(rows))
    for note in told.notes:
        yield Words(words=note, strong=True)
    if told.says:
        yield Words(words=told.says)
    for note in order.notes:
        yield Words(words=f"Note: {note}")


def _parts(told: JobTold) -> Iterator[Part]:
    if told.order.sizes:
        yield Part(title="Sizes of this order", blocks=(_sizes(told),))
    if told.cautions:
        yield Part(title="Before the fire is lit", blocks=(Points(items=told.cautions),))
    yield Part(title="To cut", blocks=tuple(_to_cut(told)))
    if told.order.bought:
        items = tuple(Check(words=one.words) for one in told.order.bought)
        yield Part(title="To buy", blocks=(Checks(items=items),))
    if told.tools:
        items = tuple(_tool(tool) for tool in told.tools)
        yield Part(title="Tools, jigs and gauges", blocks=(Checks(items=items),))
    for component in told.components:
        blocks: tuple[AnyBlock, ...] = tuple(_component(component))
        if told.order.free:
            blocks += (Room(title="Steps as they were done, with their heats", lines=6),)
        yield Part(title=f"{component.name}: {component.count}", blocks=blocks)
    if told.plan is not None:
        day = tuple(_day(told.plan))
        yield Part(title=f"The day, {told.plan.day}", blocks=day, new_page=True)
    yield Part(
        title="Notes",
        blocks=(Room(title="What was changed, and why", lines=8), Words(words=NOT_FOR_SURE)),
    )


def _sizes(told: JobTold) -> Table:
    return Table(
        head=("size", "", "whose", "measured"),
        rows=tuple(
            (size.name, size.shown, "customer's" if size.given else "recipe's", size.says)
            for size in told.order.sizes
        ),
        right=frozenset({1}),
    )


def _to_cut(told: JobTold) -> Iterator[AnyBlock]:
    if not told.stock:
        yield Words(words="Nothing more: every piece was begun.")
        return
    yield Checks(
        items=tuple(
            Check(words=stock.words, note="; ".join([*stock.more, *_on_rack(stock.rack)]))
            for stock in told.stock
        )
    )


def _on_rack(rack: str) -> tuple[str, ...]:
    return (f"on the rack: {rack}",) if rack else ()


def _tool(tool: ToolShown) -> Check:
    set_now = f"set now: {tool.set_now}" if tool.set_now else ""
    steps = f"for: {', '.join(tool.for_steps)}" if tool.missing or tool.jig else ""
    words = f"{tool.words}, jig" if tool.jig else tool.words
    return Check(words=words, note="; ".join(filter(None, (set_now, steps))))


def _day(plan: PlanTold) -> Iterator[AnyBlock]:
    """The plan of the day, on all open orders."""
    drawing = draw_timeline(plan.timeline) if plan.timeline is not None else None
    yield Words(
        words=f"From {plan.begins} to {plan.until}, on all open orders: about {plan.heats_today} "
        f"of {plan.heats} heats. A plan is what happens most often, not what will happen."
    )
    if drawing is not None:
        yield Picture(drawing=drawing)
    done = tuple(
        (order.name, order.promised or "no date", _most_often(order)) for order in plan.orders
    )
    yield Table(head=("order", "promised", "done, most often"), rows=done)
    tools = tuple(
        (tool.by, f"{tool.name}, {tool.setting}" if tool.setting else tool.name, tool.state)
        for tool in plan.tools
        if tool.missing
    )
    if tools:
        yield Table(head=("by", "wanted and missing", ""), rows=tools)


def _most_often(order: OrderPlanned) -> str:
    days = order.low if order.low == order.high else f"{order.low} to {order.high}"
    return f"{days}; after the promised day" if order.late else days


def _component(component: ComponentOnJob) -> Iterator[AnyBlock]:
    if component.facts:
        yield Facts(rows=pairs(component.facts))
    drawing = draw_form(component.form)
    if drawing is not None:
        yield Picture(drawing=drawing, items=tuple(part.words for part in component.form))
    for step in component.steps:
        yield _step(component, step)


def _step(component: ComponentOnJob, step: StepOnJob) -> Step:
    drawing = draw_section(step.section, step.section_words) if step.section else None
    cautions = [fact for fact in step.facts if fact.label == CAUTION]
    others = [fact for fact in step.facts if fact.label != CAUTION]
    plan = [Fact("", step.plan)] if step.plan else []
    return Step(
        number=step.number,
        title=step.do,
        aside=", ".join(filter(None, (component.name, step.cycle))),
        facts=pairs([*cautions, *plan, *others]),
        drawing=drawing,
        rows=tuple(_rows(component, step)),
    )


def _rows(component: ComponentOnJob, step: StepOnJob) -> Iterator[Row]:
    if step.heats:
        yield Row(label="Heats", cells=_heats(component, step.heats))
    for gauge in step.gauges:
        yield Row(label=gauge, cells=_blanks(component))
    if step.rest:
        yield Row(label=f"Rested: {step.rest}", cells=_done(component, step))
    else:
        yield Row(label="Done", cells=_done(component, step))


def _heats(component: ComponentOnJob, heats: int) -> tuple[Cell, ...]:
    if not component.pieces:
        return (Cell(blank=True),)
    return tuple(Cell(name=piece.name, boxes=heats) for piece in component.pieces)


def _done(component: ComponentOnJob, step: StepOnJob) -> tuple[Cell, ...]:
    if not component.pieces:
        return (Cell(name=f"of {component.many}", blank=True), _NOTE)
    done = (
        Cell(name=piece.name, boxes=1, crossed=step.id in piece.done) for piece in component.pieces
    )
    return (*done, _NOTE)


def _blanks(component: ComponentOnJob) -> tuple[Cell, ...]:
    if not component.pieces:
        return (Cell(blank=True),)
    return tuple(Cell(name=piece.name, blank=True) for piece in component.pieces)
