"""A recipe worked from the bar that lies there, in place of the one that it names.

The volume is kept: the cut is that of the actual bar, a proved cut goes by the areas, and what
the recipe says of the bar as it is bought follows. What a step makes of it does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from forgelog.recipe.form import form_volume_mm3, solid_dims
from forgelog.recipe.plain import did_you_mean, listed, quoted
from forgelog.recipe.problems import Problem
from forgelog.recipe.resolved import Component, Recipe
from forgelog.recipe.rules.found import mm_of, section_of
from forgelog.recipe.written import (
    WrittenComponent,
    WrittenRecipe,
    WrittenSolid,
    WrittenStep,
    WrittenStock,
)
from forgelog.trade.errors import SumError
from forgelog.trade.sections import Section, SectionError, area_mm2, write_section
from forgelog.trade.stock import blank_length_mm, cut_of_other_bar_mm
from forgelog.units import write_length

_HAIR = 0.01
"""Bars are rolled no truer than this share of their area."""

Bars = Mapping[str, Section]
"""The bar that is used, by id of the component."""


def refused_bars(
    written: WrittenRecipe, sizes_mm: Mapping[str, float], bars: Bars
) -> list[Problem]:
    """Every bar that cannot be put in: for no such component, or one that has no area."""
    cut = {c.id: c for c in written.component if c.stock is not None}
    problems = []
    for name, bar in bars.items():
        if name not in cut:
            problems.append(
                Problem(
                    found=f"{quoted(name)} is cut from no bar in this recipe",
                    expected=f"cut are {listed(cut, 'and')}" if cut else "nothing in it is cut",
                    hint=did_you_mean(name, cut),
                )
            )
            continue
        try:
            _with_bar(cut[name], sizes_mm, bar)
        except (SumError, SectionError) as error:
            found = f"{quoted(name)} cannot be cut from {write_section(bar)}: {error}"
            problems.append(Problem(found=found))
    return problems


def with_bars(written: WrittenRecipe, sizes_mm: Mapping[str, float], bars: Bars) -> WrittenRecipe:
    """The recipe as if it named the bars that are used.

    Args:
        written: As the file has it.
        sizes_mm: All sizes of the order: a proved cut may hang on them.
        bars: None that `refused_bars` refuses.

    Raises:
        SumError, SectionError: a bar cannot be put in.
    """
    components = [
        _with_bar(c, sizes_mm, bars[c.id]) if c.id in bars else c for c in written.component
    ]
    return msgspec.structs.replace(written, component=components)


def with_own_beside(
    recipe: Recipe, written: WrittenRecipe, sizes_mm: Mapping[str, float], bars: Bars
) -> Recipe:
    """What the recipe's own bar would have been, beside each bar that took its place.

    Args:
        recipe: Resolved with the bars put in.
        written: As the file has it, with its own bars.
        sizes_mm: All sizes of the order.
        bars: The bars that are used.
    """
    own = {c.id: c for c in written.component}
    components = tuple(
        _beside(c, own[c.id], sizes_mm, bars[c.id]) if c.id in bars else c
        for c in recipe.components
    )
    return msgspec.structs.replace(recipe, components=components)


def too_little_for(
    component: WrittenComponent, sizes_mm: Mapping[str, float], bar: Section
) -> Section | None:
    """The thickest section that is made of a component and that a bar has too little steel for.

    What the recipe's own bar has too little for is meant to be upset and does not count. None
    where the bar has enough.

    Args:
        component: As the file has it, with its own bar.
        sizes_mm: All sizes of the order.
        bar: The bar that is used.
    """
    own = section_of(component.stock.section) if component.stock else None
    try:
        if own is None:
            return None
        most, has = area_mm2(own) * (1 + _HAIR), area_mm2(bar) * (1 + _HAIR)
        wanted = [s for s in _made(component, sizes_mm) if s.kind != "sheet"]
        short = [s for s in wanted if has < area_mm2(s) <= most]
    except SectionError:
        return None
    return max(short, key=area_mm2, default=None)


def _made(component: WrittenComponent, sizes_mm: Mapping[str, float]) -> Iterator[Section]:
    """Every section that the steps and the form come to."""
    for step in component.step:
        section = section_of(step.to.section) if step.to else None
        if section is not None:
            yield section
    for solid in component.form:
        if solid.solid in ("hole", "leaf"):
            continue
        dims = solid_dims(solid, sizes_mm) or {}
        yield from (dim for dim in dims.values() if isinstance(dim, Section))
        block = _section_of_solid(solid, sizes_mm)
        if block is not None:
            yield block


def _section_of_solid(solid: WrittenSolid, sizes_mm: Mapping[str, float]) -> Section | None:
    """The section of a form that gives it in lengths: a length of square, of flat and so on."""
    if solid.solid in ("square", "round", "octagon", "hexagon"):
        across = mm_of(solid.across, sizes_mm)
        return Section(kind=solid.solid, a_mm=across) if across else None
    if solid.solid != "flat":
        return None
    wide, thick = mm_of(solid.wide, sizes_mm), mm_of(solid.thick, sizes_mm)
    if not wide or not thick:
        return None
    return Section(kind="flat", a_mm=max(wide, thick), b_mm=min(wide, thick))


def _with_bar(
    component: WrittenComponent, sizes_mm: Mapping[str, float], bar: Section
) -> WrittenComponent:
    stock = component.stock
    own = section_of(stock.section) if stock else None
    area_mm2(bar)
    if stock is None or own is None or own == bar:
        return component
    cut = mm_of(stock.cut, sizes_mm)
    if cut is not None:
        cut = cut_of_other_bar_mm(cut, own, bar, mm_of(stock.grip, sizes_mm) or 0.0)
    return msgspec.structs.replace(
        component,
        stock=msgspec.structs.replace(
            stock,
            section=write_section(bar),
            cut=write_length(cut) if cut is not None else None,
        ),
        form=_block(component, sizes_mm, bar),
        step=_steps(component, sizes_mm, own, bar),
    )


def _block(
    component: WrittenComponent, sizes_mm: Mapping[str, float], bar: Section
) -> list[WrittenSolid]:
    """The form; one block of flat that a narrower bar cannot fill is as wide as the bar lets it.

    Its volume stays, so that what is too small across is found before the tap finds it.
    """
    blocks = [solid for solid in component.form if solid.solid != "hole"]
    if len(blocks) != 1 or bar.kind not in ("flat", "square"):
        return component.form
    (block,) = blocks
    sides = [mm_of(text, sizes_mm) for text in (block.wide, block.thick, block.long)]
    if block.solid != "flat" or not all(sides):
        return component.form
    wide, thick, long = (float(side or 0.0) for side in sides)
    widest, least = max(bar.a_mm, bar.b_mm), bar.b_mm or bar.a_mm
    least = min(bar.a_mm, least)
    narrow, thin = min(wide, widest), min(thick, least)
    if (narrow, thin) == (wide, thick):
        return component.form
    over = msgspec.structs.replace(
        block,
        wide=write_length(narrow),
        thick=write_length(thin),
        long=write_length(wide * thick * long / (narrow * thin)),
    )
    return [over if solid is block else solid for solid in component.form]


def _steps(
    component: WrittenComponent, sizes_mm: Mapping[str, float], own: Section, bar: Section
) -> list[WrittenStep]:
    """The steps: what is worked on the bar as it is bought follows it, marks on it too."""
    share = area_mm2(own) / area_mm2(bar)
    steps = []
    as_bought = True
    for number, step in enumerate(component.step):
        given, to, says = section_of(step.section), step.to, step.says
        if given is not None:
            as_bought = given == own
        mark = mm_of(to.mark, sizes_mm) if to else None
        if number == 0:
            says = f"{_bars_said(own, bar)}; {_marks_said(share)} {says}"
        if to is not None and mark is not None and as_bought:
            says = f"{_bars_said(own, bar)}; {_mark_said(mark, mark * share)} {says}"
            to = msgspec.structs.replace(to, mark=write_length(mark * share))
        section = write_section(bar) if given == own else step.section
        steps.append(msgspec.structs.replace(step, section=section, to=to, says=says.strip()))
        if to is not None and section_of(to.section) is not None:
            as_bought = False
    return steps


def _bars_said(own: Section, bar: Section) -> str:
    return f"The bar is {_prose(bar)}, not {_prose(own)}"


def _marks_said(share: float) -> str:
    """What the smith must know when marking out: the words name lengths of the other bar."""
    return (
        f"what is drawn from it takes {share:.2f} of the length of bar that is named here, "
        "what stays as the bar is takes all of it."
    )


def _mark_said(planned_mm: float, mm: float) -> str:
    tenth = write_length(round(mm, 1))
    return f"{{{tenth}}} of it go into this, not {{{write_length(planned_mm)}}}."


def _prose(section: Section) -> str:
    sizes = " x ".join(f"{{{write_length(size)}}}" for size in section.sizes_mm)
    return f"{sizes} {section.kind}"


def _beside(
    component: Component, own: WrittenComponent, sizes_mm: Mapping[str, float], bar: Section
) -> Component:
    stock, planned = component.stock, section_of(own.stock.section) if own.stock else None
    if stock is None or planned is None or planned == bar:
        return component
    assert own.stock is not None
    by_sum = _sum_mm(own.form, own.stock, planned, sizes_mm)
    planned_mm = mm_of(own.stock.cut, sizes_mm) or by_sum
    left = _sum_mm([_left(s, sizes_mm, planned, bar) for s in own.form], own.stock, bar, sizes_mm)
    left_mm = None
    if stock.cut_mm is not None and not own.form:
        left_mm = planned_mm
    elif left and stock.sum_mm:
        left_mm = left if stock.cut_mm is None else stock.cut_mm * left / stock.sum_mm
        if abs(left - stock.sum_mm) < _HAIR * left:
            left_mm = None
    beside = msgspec.structs.replace(
        stock, planned=planned, planned_mm=planned_mm or None, left_mm=left_mm
    )
    return msgspec.structs.replace(component, stock=beside)


def _left(
    solid: WrittenSolid, sizes_mm: Mapping[str, float], own: Section, bar: Section
) -> WrittenSolid:
    """A form that is a length of the recipe's own bar, of the actual one instead."""
    changes = {
        key: write_section(bar)
        for key in ("section", "start", "end")
        if solid.solid != "hole" and section_of(getattr(solid, key)) == own
    }
    if changes:
        return msgspec.structs.replace(solid, **changes)
    if _section_of_solid(solid, sizes_mm) == own:
        return WrittenSolid(
            solid="bar", section=write_section(bar), long=solid.long, times=solid.times
        )
    return solid


def _sum_mm(
    form: list[WrittenSolid],
    stock: WrittenStock,
    bar: Section,
    sizes_mm: Mapping[str, float],
) -> float:
    """Length of bar by the sum; 0 where the recipe gives no form."""
    volume = form_volume_mm3(form, sizes_mm)
    if not isinstance(volume, float) or volume <= 0:
        return 0.0
    return blank_length_mm(
        volume,
        bar,
        trim_mm=mm_of(stock.trim, sizes_mm) or 0.0,
        loss=stock.loss / 100,
        grip_mm=mm_of(stock.grip, sizes_mm) or 0.0,
    )
