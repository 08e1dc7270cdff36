"""Puts an order's sizes into a written recipe: plain numbers, ready to be worked from."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec

from forgelog.recipe.cautions import recipe_cautions, step_cautions
from forgelog.recipe.expressions import worked_out
from forgelog.recipe.form import form_volume_mm3
from forgelog.recipe.heats import (
    MEDIA,
    NORMALISED_DEGC,
    Goal,
    heat,
    heat_range,
    mass_of,
    rest_goal,
    seconds_of,
    usual_range,
)
from forgelog.recipe.kinds import kind_of
from forgelog.recipe.other_bar import refused_bars, with_bars, with_own_beside
from forgelog.recipe.plain import did_you_mean, listed, quoted
from forgelog.recipe.problems import Fault, Problem
from forgelog.recipe.process import process_hash as process_hash
from forgelog.recipe.prose import resolve_prose
from forgelog.recipe.read import in_words
from forgelog.recipe.resolved import (
    Bought,
    Component,
    Gauge,
    Need,
    Recipe,
    RestGoal,
    Step,
    Stock,
    Tool,
)
from forgelog.recipe.rules import find_errors
from forgelog.recipe.rules.found import need_of, section_of, sizes_at
from forgelog.recipe.rules.sizes import given_lie_within
from forgelog.recipe.slugs import slug, step_slugs
from forgelog.recipe.written import (
    WrittenBought,
    WrittenComponent,
    WrittenGauge,
    WrittenRecipe,
    WrittenStep,
    WrittenStock,
    WrittenTool,
)
from forgelog.trade.marks import HAND_WARM_DEGC
from forgelog.trade.sections import Section
from forgelog.trade.steels import find_grade
from forgelog.trade.stock import blank_length_mm

_NORMALISED = Goal(until=f"{NORMALISED_DEGC:g} degC", degc=NORMALISED_DEGC)
_ANNEALED = Goal(until="hand-warm", degc=HAND_WARM_DEGC)
"""How a normalise and an anneal end where the recipe does not say."""


class ResolveError(ValueError):
    """The recipe cannot be worked at these sizes."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        """All that is wrong, in the order of the recipe; no file and no lines."""
        super().__init__("\n".join(problem.text for problem in problems))


def resolve(
    written: WrittenRecipe,
    sizes_mm: Mapping[str, float] | None = None,
    bars: Mapping[str, Section] | None = None,
) -> Recipe:
    """Work out a recipe at an order's sizes.

    Args:
        written: As `read_recipe` gave it.
        sizes_mm: The sizes that the order changes, by name, mm; the others are the defaults.
        bars: The bars that are used in place of the recipe's, by id of the component.

    Raises:
        ResolveError: a size has no such name or lies beyond the recipe's limits, a bar is for no
            component that is cut, or the recipe has an error at these sizes and bars; holds every
            problem.
    """
    asked = dict(sizes_mm or {})
    sizes = sizes_at(written, asked)
    problems = _refused_sizes(written, asked) or _errors(written, sizes)
    if problems := problems or refused_bars(written, sizes, bars or {}):
        raise ResolveError(tuple(problems))
    if not bars:
        return _resolved(written, sizes, process_hash(written))
    actual = with_bars(written, sizes, bars)
    if problems := _errors(actual, sizes):
        raise ResolveError(tuple(problems))
    recipe = _resolved(actual, sizes, process_hash(written))
    return with_own_beside(recipe, written, sizes, bars)


def _resolved(written: WrittenRecipe, sizes: Mapping[str, float], process: str) -> Recipe:
    return Recipe(
        id=written.id,
        name=written.name,
        says=_prose(written.says, sizes),
        maker=written.maker or "",
        revision=str(written.revision),
        licence=written.licence,
        process_hash=process,
        steel=written.steel,
        cautions=recipe_cautions(written),
        sizes_mm=dict(sizes),
        components=tuple(_component(c, written, sizes) for c in written.component),
        bought=tuple(_bought(b, sizes) for b in written.bought),
        makes=tuple(written.makes),
    )


def _refused_sizes(written: WrittenRecipe, asked: Mapping[str, float]) -> list[Problem]:
    problems = []
    for name, mm in asked.items():
        if name not in written.sizes:
            names = listed(written.sizes, "and")
            problems.append(
                Problem(
                    found=f"{quoted(name)} is no size of this recipe",
                    expected=f"the sizes are {names}" if names else "it has no sizes to change",
                    hint=did_you_mean(name, written.sizes),
                )
            )
        elif not math.isfinite(mm) or mm < 0:
            found = f"size {name} of {mm:g} mm is no length"
            problems.append(Problem(found=found, expected="write a length of 0 mm or more"))
    known = {name: mm for name, mm in asked.items() if name in written.sizes}
    beyond = given_lie_within(written, sizes_at(written, known))
    return problems + [in_words(one.path, one.fault, {}, one.severity) for one in beyond]


def _errors(written: WrittenRecipe, sizes: Mapping[str, float]) -> list[Problem]:
    found = find_errors(written, sizes)
    table = msgspec.to_builtins(written) if found else {}
    return [in_words(one.path, one.fault, table, one.severity) for one in found]


def _component(
    component: WrittenComponent, recipe: WrittenRecipe, sizes: Mapping[str, float]
) -> Component:
    marks = component.hands or component.variant
    stock = _stock(component, component.stock, sizes) if component.stock else None
    return Component(
        id=component.id,
        name=component.name,
        marks=tuple((marks or [""])[i % max(1, len(marks))] for i in range(component.each)),
        each=component.each,
        mirrored=bool(component.hands),
        lot=component.lot,
        stock=stock,
        needs=tuple(Need(component=n, count=c) for n, c in map(need_of, component.needs)),
        match=tuple(component.match),
        steps=_steps(component, recipe, stock, sizes),
    )


def _bought(bought: WrittenBought, sizes: Mapping[str, float]) -> Bought:
    mass = mass_of(bought.mass) if bought.mass else None
    assert not isinstance(mass, Fault)
    return Bought(
        id=bought.id,
        name=bought.name,
        each=bought.each,
        says=_prose(bought.says, sizes),
        component=bought.component or "",
        mass_kg=mass,
    )


def _stock(component: WrittenComponent, stock: WrittenStock, sizes: Mapping[str, float]) -> Stock:
    section = section_of(stock.section)
    volume = form_volume_mm3(component.form, sizes)
    assert section is not None
    assert isinstance(volume, float)
    grip, trim, loss = _mm(stock.grip, sizes), _mm(stock.trim, sizes), stock.loss / 100
    cut = _mm(stock.cut, sizes) or None
    total = 0.0
    if volume > 0:
        total = blank_length_mm(volume, section, trim_mm=trim, loss=loss, grip_mm=grip)
    return Stock(
        section=section,
        volume_mm3=volume,
        sum_mm=total,
        cut_mm=cut,
        grip_mm=grip,
        trim_mm=trim,
        loss=loss,
    )


def _steps(
    component: WrittenComponent,
    recipe: WrittenRecipe,
    stock: Stock | None,
    sizes: Mapping[str, float],
) -> tuple[Step, ...]:
    steps: list[Step] = []
    worked = stock.section if stock else None
    for step in component.step:
        worked = section_of(step.section) or worked
        slugs = step_slugs(step)
        for number, name in enumerate(slugs, 1):
            cycle = number if len(slugs) > 1 else 0
            steps.append(_step(step, name, cycle, len(slugs), recipe, worked, sizes))
        worked = (section_of(step.to.section) if step.to else None) or worked
    return tuple(steps)


def _step(
    step: WrittenStep,
    name: str,
    cycle: int,
    cycles: int,
    recipe: WrittenRecipe,
    worked: Section | None,
    sizes: Mapping[str, float],
) -> Step:
    kind = kind_of(step) or "bench"
    start, stop = _range(step, kind, recipe.steel)
    to = step.to
    return Step(
        id=name,
        kind=kind,
        do=step.do,
        done=step.done or f"{step.do} done",
        says=_prose(step.says, sizes),
        heats={k: v for k, v in msgspec.structs.asdict(step.heats).items() if v is not None}
        if step.heats
        else {},
        minutes_s=_seconds(step.minutes),
        dries_s=_seconds(step.dries),
        start_degc=start,
        stop_degc=stop,
        section=worked,
        to_section=section_of(to.section) if to else None,
        to_long_mm=(_mm(to.long, sizes) or None) if to else None,
        to_hot=to.hot if to else False,
        to_mark_mm=(_mm(to.mark, sizes) or None) if to else None,
        tools=tuple(
            _tool(tool, sizes, jig=jig)
            for jig, tools in ((False, step.tools), (True, step.jigs))
            for tool in tools
        ),
        gauges=tuple(_gauge(gauge, sizes) for gauge in step.gauge),
        follows=step.follows,
        rest=_rest(step, kind, sizes),
        at_degc=_heat(step.at),
        soak_s=_seconds(step.soak),
        cycle=cycle,
        cycles=cycles if cycle else 0,
        quench=step.quench or "",
        judge=tuple(step.judge),
        cool=_prose(step.cool, sizes),
        watch=_prose(step.watch, sizes),
        recover=_prose(step.recover, sizes),
        cautions=step_cautions(step, kind),
    )


def _range(step: WrittenStep, kind: str, steel: str) -> tuple[float | None, float | None]:
    """Where to start and to stop: as the recipe says, or as the steel of a forging step wants."""
    if step.work is not None:
        found = heat_range(step.work)
        assert not isinstance(found, Fault)
        return found
    usual = usual_range(find_grade(steel)) if kind == "forge" else None
    return usual or (None, None)


def _rest(step: WrittenStep, kind: str, sizes: Mapping[str, float]) -> RestGoal | None:
    """What a rest waits for, and the cooling that ends a normalise or an anneal."""
    goal = rest_goal(step.until) if step.until else None
    assert not isinstance(goal, Fault)
    if kind not in ("rest", "normalise", "anneal"):
        return None
    words = step.medium or ("ash" if kind == "anneal" else "still air")
    if goal is None:
        goal = _NORMALISED if kind == "normalise" else _ANNEALED
    return RestGoal(
        until=goal.until,
        degc=goal.degc,
        seconds=goal.seconds,
        medium=MEDIA[words],
        medium_words=words,
        why=_prose(step.why, sizes),
        skipping=step.skipping or ("note" if kind == "rest" else "matters"),
    )


def _tool(tool: str | WrittenTool, sizes: Mapping[str, float], *, jig: bool) -> Tool:
    if isinstance(tool, str):
        return Tool(id=slug(tool), name=tool, jig=jig)
    return Tool(id=slug(tool.name), name=tool.name, setting=_prose(tool.setting, sizes), jig=jig)


def _gauge(gauge: WrittenGauge, sizes: Mapping[str, float]) -> Gauge:
    return Gauge(
        what=gauge.what,
        mm=_mm(gauge.size, sizes),
        plus_mm=_mm(gauge.plus, sizes),
        minus_mm=_mm(gauge.minus, sizes),
        hot=gauge.hot,
    )


def _mm(text: str | None, sizes: Mapping[str, float]) -> float:
    value = worked_out(text, sizes, zero=True) if text else 0.0
    assert not isinstance(value, Fault)
    return value


def _prose(text: str, sizes: Mapping[str, float]) -> str:
    value = resolve_prose(text, sizes)
    assert not isinstance(value, Fault)
    return value.strip()


def _seconds(text: str | None) -> float | None:
    value = seconds_of(text) if text else None
    assert not isinstance(value, Fault)
    return value


def _heat(text: str | None) -> float | None:
    value = heat(text) if text else None
    assert not isinstance(value, Fault)
    return value
