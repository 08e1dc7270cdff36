"""Doubts about sizes that are only found out at the anvil, the tap or the customer's post.

Each says the numbers and the smallest thing that would do. The sums are those of `trade`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from forgelog.recipe.form import form_volume_mm3
from forgelog.recipe.kinds import kind_of
from forgelog.recipe.rules.found import Found, all_components, doubtful, mm_of, section_of
from forgelog.recipe.written import WrittenComponent, WrittenRecipe, WrittenStep
from forgelog.trade.errors import SumError
from forgelog.trade.nuts import check_nut
from forgelog.trade.sections import Section, SectionError, area_mm2
from forgelog.trade.stock import blank_length_mm
from forgelog.trade.threads import Thread, ThreadError, thread
from forgelog.trade.upset import HAND_LIMIT, upset_limit_mm, upset_of
from forgelog.units import show_length

_THREAD = re.compile(r"\bM\d{1,2}(?: ?x ?\d(?:\.\d+)?)?\b|\b\d{1,2}/\d{1,2} (?:UNC|UNF|BSW)\b")
_TAPS = re.compile(r"\btap(?:s|ped)?\b", re.IGNORECASE)
_UPSETS = re.compile(r"\b(?:upset|jump up)\b", re.IGNORECASE)
_NAMES = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_TRIM_MM = 3.0
"""What is cut off a tenon when it is fitted. Common practice."""
_HAIR_MM = 0.05
"""Lengths are not told apart below this."""


def blanks_catch_their_thread(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """A nut's blank that is too small is found only at the tap."""
    for path, component in all_components(recipe):
        taps = next((step for step in component.step if _TAPS.search(step.do)), None)
        block = _block_mm(component, sizes_mm)
        if taps is None or block is None:
            continue
        one = _thread_in(taps.do, taps.says, component.name)
        if one is None:
            continue
        across, thick = block
        high = _height_mm(taps, sizes_mm) or thick
        punched = any(step.do.lower().startswith("punch") for step in component.step)
        try:
            found = check_nut(one, across, high, made="punched" if punched else "drilled")
        except SumError:
            continue
        if not found.enough:
            yield doubtful(
                (*path, "form"),
                f"makes a nut for {one.name} that cannot catch its thread: {found.why}",
                f"{show_length(found.across_needed_mm)} across and "
                f"{show_length(found.high_needed_mm, fine=True)} high would do",
            )


def tenons_reach_through(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A threaded tenon that follows a size goes through it, with a nut and two threads beyond."""
    for path, component in all_components(recipe):
        for number, solid in enumerate(component.form):
            if solid.solid != "rod for thread" or not solid.long or not solid.thread:
                continue
            through = _through_mm(solid.long, sizes_mm)
            long = mm_of(solid.long, sizes_mm)
            one = _thread_in(solid.thread)
            if through is None or long is None or one is None or one.nut_height_mm is None:
                continue
            least = through + one.nut_height_mm + 2 * one.pitch_mm
            if long < least - _HAIR_MM:
                yield doubtful(
                    (*path, "form", number, "long"),
                    f"is {show_length(long)}, too short for a nut beyond {show_length(through)}",
                    f"{show_length(least, fine=True)} is the least for {one.name}: thickness, "
                    "nut and two threads, without washers and trim",
                )


def threads_start_inside(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A thread that begins outside the face at the thinnest place never draws its nut up."""
    for path, component in all_components(recipe):
        rods = [s for s in component.form if s.solid == "rod for thread" and s.long]
        if len(rods) != 1 or not rods[0].long:
            continue
        rod = mm_of(rods[0].long, sizes_mm)
        names = [n for n in _NAMES.findall(rods[0].long) if f"{n}_thin" in sizes_mm]
        if rod is None or not names:
            continue
        thin = sizes_mm[f"{names[0]}_thin"]
        for number, step in enumerate(component.step):
            for place, gauge in enumerate(step.gauge):
                what = gauge.what.lower()
                long = mm_of(gauge.size, sizes_mm)
                if "length of thread" not in what or long is None:
                    continue
                begins = rod - _TRIM_MM - long
                if begins > thin - _HAIR_MM:
                    more = begins - thin
                    yield doubtful(
                        (*path, "step", number, "gauge", place, "size"),
                        f"is {show_length(long)}: the thread begins {show_length(begins)} from "
                        f"the shoulder, outside of {show_length(thin)} at the thinnest",
                        f"{show_length(long + more + 3)} of thread begins 3 mm inside it",
                    )


def upsets_do_not_buckle(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """More bar than it carries, upset at once, folds."""
    for path, number, step, before in _steps(recipe):
        target = _target(step, sizes_mm)
        if before is None or target is None or not _UPSETS.search(step.do):
            continue
        section, long = target
        try:
            if area_mm2(section) <= area_mm2(before):
                continue
            done = upset_of(area_mm2(section) * long, before)
        except (SectionError, SumError):
            continue
        if not done.at_once and (step.heats is None or (step.heats.hand or 0) < 2):
            limit = upset_limit_mm(before)
            yield doubtful(
                (*path, "step", number, "to"),
                f"takes {show_length(done.bar_mm)} of bar, {done.slenderness:.1f} thicknesses, "
                "which buckles when it is upset at once",
                f"at most {show_length(limit)} ({HAND_LIMIT:g} thicknesses) at once; more in "
                "several heats",
            )


def targets_fit_in_the_stock(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """No step makes more steel than was cut."""
    for path, component in all_components(recipe):
        held = _stock_mm3(component, sizes_mm)
        bar = section_of(component.stock.section) if component.stock else None
        if held is None or bar is None:
            continue
        for number, step in enumerate(component.step):
            target = _target(step, sizes_mm)
            if target is None:
                continue
            try:
                wants = area_mm2(target[0]) * target[1]
                least = wants / area_mm2(bar)
            except SectionError:
                continue
            # hot marks are up to 2 per cent longer than the cold piece
            if wants > held * 1.02:
                yield doubtful(
                    (*path, "step", number, "to"),
                    f"holds {wants / 1000:.1f} cm3; its stock is only {held / 1000:.1f} cm3",
                    f"it takes {show_length(least)} of the bar at least",
                )


def _steps(
    recipe: WrittenRecipe,
) -> Iterator[tuple[tuple[str | int, ...], int, WrittenStep, Section | None]]:
    """Every forging step with the section that it begins with."""
    for path, component in all_components(recipe):
        worked = section_of(component.stock.section) if component.stock else None
        for number, step in enumerate(component.step):
            before = section_of(step.section) or worked
            if kind_of(step) == "forge":
                yield path, number, step, before
            worked = (section_of(step.to.section) if step.to else None) or before


def _target(step: WrittenStep, sizes_mm: Mapping[str, float]) -> tuple[Section, float] | None:
    section = section_of(step.to.section) if step.to else None
    long = mm_of(step.to.long, sizes_mm) if step.to else None
    return (section, long) if section is not None and long else None


def _stock_mm3(component: WrittenComponent, sizes_mm: Mapping[str, float]) -> float | None:
    """Volume that is cut for a component, mm3."""
    stock = component.stock
    bar = section_of(stock.section) if stock else None
    if stock is None or bar is None:
        return None
    long = mm_of(stock.cut, sizes_mm)
    try:
        if long is None:
            volume = form_volume_mm3(component.form, sizes_mm)
            if not isinstance(volume, float) or volume <= 0:
                return None
            long = blank_length_mm(
                volume,
                bar,
                trim_mm=mm_of(stock.trim, sizes_mm) or 0.0,
                loss=stock.loss / 100,
                grip_mm=mm_of(stock.grip, sizes_mm) or 0.0,
            )
        return long * area_mm2(bar)
    except (SectionError, SumError):
        return None


def _block_mm(
    component: WrittenComponent, sizes_mm: Mapping[str, float]
) -> tuple[float, float] | None:
    """Across and thickness of a component that is one block of flat."""
    solids = [solid for solid in component.form if solid.solid != "hole"]
    if len(solids) != 1 or solids[0].solid != "flat":
        return None
    sizes = [mm_of(text, sizes_mm) for text in (solids[0].wide, solids[0].long, solids[0].thick)]
    if any(size is None for size in sizes):
        return None
    wide, long, thick = (float(size or 0.0) for size in sizes)
    return min(wide, long), thick


def _height_mm(step: WrittenStep, sizes_mm: Mapping[str, float]) -> float | None:
    return next(
        (mm_of(g.size, sizes_mm) for g in step.gauge if g.what.lower().startswith("height")), None
    )


def _through_mm(text: str, sizes_mm: Mapping[str, float]) -> float | None:
    """The size that a tenon's length follows: the largest that it names."""
    named = [sizes_mm[name] for name in _NAMES.findall(text) if name in sizes_mm]
    return max(named) if named else None


def _thread_in(*texts: str) -> Thread | None:
    """The first thread that is named in the texts."""
    for text in texts:
        match = _THREAD.search(text)
        if match:
            try:
                return thread(match[0])
            except ThreadError:
                continue
    return None


RULES = (
    blanks_catch_their_thread,
    tenons_reach_through,
    threads_start_inside,
    upsets_do_not_buckle,
    targets_fit_in_the_stock,
)
