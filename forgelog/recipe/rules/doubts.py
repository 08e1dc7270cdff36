"""Doubts: what may be right but is worth a second look before the fire is lit."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import accumulate

from forgelog.recipe.expressions import names_in
from forgelog.recipe.form import form_volume_mm3, solid_mm3
from forgelog.recipe.kinds import kind_of
from forgelog.recipe.plain import quoted
from forgelog.recipe.problems import Fault, Path
from forgelog.recipe.prose import braces
from forgelog.recipe.rules.found import (
    Found,
    all_components,
    all_steps,
    doubtful,
    mm_of,
    section_of,
)
from forgelog.recipe.walk import texts
from forgelog.recipe.written import WrittenComponent, WrittenRecipe, WrittenStep
from forgelog.trade.errors import SumError
from forgelog.trade.sections import Section, SectionError, area_mm2
from forgelog.trade.stock import blank_length_mm
from forgelog.units import show_length

FAR = 0.15
"""Volumes and lengths that differ by more than this share are worth a second look."""

_BARE = r"(?<![\w.])(\d[\d./]*(?:[ -]\d+/\d+)?\s?(?:mm|cm|inch|inches|in|ft)\b|\d[\d./]*\")(?![\w])"


@cache
def _digit() -> re.Pattern[str]:
    return re.compile(r"\d")


def prose_follows_the_sizes(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """A bare dimension in prose lies when an order changes a size."""
    if not recipe.sizes:
        return
    for path, title, text in texts(recipe):
        if title != "words" or path[0] == "sizes":
            continue
        for inside, part in braces(text):
            if inside or isinstance(part, Fault) or _digit().search(part) is None:
                continue
            match = re.search(_BARE, part)
            if match is not None:
                yield doubtful(
                    path,
                    f"has the bare dimension {quoted(match[0])}, which will not follow the sizes",
                    "put it in braces, as a sum over sizes where it depends on one",
                    f'like "{{{match[0]}}}"',
                )
                break


def sizes_are_used(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A size that no dimension uses changes nothing."""
    sums: list[str] = []
    for path, title, text in texts(recipe):
        if path[0] == "sizes":
            continue
        if title == "length":
            sums.append(text)
        elif title == "words":
            sums += [part for inside, part in braces(text) if inside and isinstance(part, str)]
    used = set(names_in(" ".join(sums)))
    for name in recipe.sizes:
        if name not in used:
            yield doubtful(("sizes", name), "is used nowhere", "use it in a dimension, or drop it")


def cut_is_near_the_sum(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """The length that has proved itself is near what the form and the losses come to."""
    for path, component in all_components(recipe):
        cut = mm_of(component.stock.cut, sizes_mm) if component.stock else None
        total = _sum_mm(component, sizes_mm)
        if cut is not None and total is not None and abs(cut - total) > FAR * total:
            share = abs(cut - total) / total
            side = "more" if cut > total else "less"
            yield doubtful(
                (*path, "stock", "cut"),
                f"is {cut:.0f} mm, {share:.0%} {side} than the sum of {total:.0f} mm",
                "look at the form, the losses and the cut",
            )


def targets_agree_with_the_form(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """What a step sets out to draw or upset holds the steel that its mark and the form give it."""
    for path, component in all_components(recipe):
        worked = section_of(component.stock.section) if component.stock else None
        parts = _parts_mm3(component, sizes_mm)
        for number, step in enumerate(component.step):
            at = (*path, "step", number, "to")
            before = section_of(step.section) or worked
            target = _target_mm3(step, sizes_mm)
            if target is not None:
                yield from _mark_agrees(at, step, before, target, sizes_mm)
                yield from _form_agrees(at, parts, target)
            worked = (section_of(step.to.section) if step.to else None) or before


def _mark_agrees(
    at: Path,
    step: WrittenStep,
    before: Section | None,
    target: float,
    sizes_mm: Mapping[str, float],
) -> Iterator[Found]:
    mark = mm_of(step.to.mark, sizes_mm) if step.to else None
    area = _area(before)
    if mark is not None and area is not None and abs(mark * area - target) > FAR * target:
        yield doubtful(
            (*at, "mark"),
            f"is {show_length(mark)} and holds {_cm3(mark * area)} of bar",
            f"the target holds {_cm3(target)}, as much as {show_length(target / area)} of bar",
        )


def _form_agrees(at: Path, parts: Sequence[float], target: float) -> Iterator[Found]:
    if not parts:
        return
    near = min(parts, key=lambda volume: abs(volume - target))
    if abs(near - target) > FAR * near:
        share = abs(near - target) / near
        side = "more" if target > near else "less"
        yield doubtful(
            at,
            f"holds {_cm3(target)}, {share:.0%} {side} than the nearest part of the form",
            f"that part holds {_cm3(near)}: look at the section and the length",
        )


def _parts_mm3(component: WrittenComponent, sizes_mm: Mapping[str, float]) -> tuple[float, ...]:
    """Volumes of each form and of all that lie side by side, mm3."""
    volumes = [solid_mm3(solid, sizes_mm) for solid in component.form]
    solids = [v for v in volumes if isinstance(v, float) and v > 0]
    ends = list(accumulate(solids, initial=0.0))
    return tuple(ends[j] - ends[i] for i in range(len(ends)) for j in range(i + 1, len(ends)))


def steps_have_stock(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What is worked is cut from something or put together from something."""
    for path, component in all_components(recipe):
        if component.step and component.stock is None and not component.needs:
            yield doubtful(path, "has steps but no stock and no needs", "say what it is made from")


def stock_has_a_length(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Without a form or a cut nobody knows how long to saw the bar."""
    for path, component in all_components(recipe):
        if component.stock and not component.form and component.stock.cut is None:
            yield doubtful(
                (*path, "stock"),
                "has no length: there is no form to work it out from, and no cut",
                "add the form of the finished piece, or the cut that has proved itself",
            )


def rests_say_why(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A rest without a reason is the first thing to be skipped."""
    for path, step in all_steps(recipe):
        if kind_of(step) == "rest" and not step.why.strip():
            yield doubtful(path, "does not say why", "add why: a rest without a reason is skipped")


def hardened_is_tempered(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What is hardened and not tempered is brittle."""
    for path, component in all_components(recipe):
        kinds = [kind_of(step) for step in component.step]
        for number, kind in enumerate(kinds):
            if kind == "harden" and "temper" not in kinds[number:]:
                yield doubtful(
                    (*path, "step", number),
                    "hardens, and no step after it tempers",
                    "add the temper: hardened steel is brittle",
                )


def _sum_mm(component: WrittenComponent, sizes_mm: Mapping[str, float]) -> float | None:
    stock = component.stock
    section = section_of(stock.section) if stock else None
    volume = form_volume_mm3(component.form, sizes_mm)
    if stock is None or section is None or not isinstance(volume, float) or volume <= 0:
        return None
    try:
        return blank_length_mm(
            volume,
            section,
            trim_mm=mm_of(stock.trim, sizes_mm) or 0.0,
            loss=stock.loss / 100,
            grip_mm=mm_of(stock.grip, sizes_mm) or 0.0,
        )
    except (SumError, SectionError):
        return None


def _target_mm3(step: WrittenStep, sizes_mm: Mapping[str, float]) -> float | None:
    """Volume of what the step makes, mm3; hot marks are taken as cold, well within `FAR`."""
    if step.to is None:
        return None
    area, long = _area(section_of(step.to.section)), mm_of(step.to.long, sizes_mm)
    return area * long if area is not None and long else None


def _area(section: Section | None) -> float | None:
    try:
        return area_mm2(section) if section is not None else None
    except SectionError:
        return None


def _cm3(mm3: float) -> str:
    return f"{mm3 / 1000:.1f} cm3"


RULES = (
    prose_follows_the_sizes,
    sizes_are_used,
    cut_is_near_the_sum,
    targets_agree_with_the_form,
    steps_have_stock,
    stock_has_a_length,
    rests_say_why,
    hardened_is_tempered,
)
