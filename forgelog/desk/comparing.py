"""Two recipes, or two revisions of one, step by step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from difflib import SequenceMatcher

import msgspec

from forgelog.desk.differences import difference_words
from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Component, Recipe, Step
from forgelog.trade.sections import show_section
from forgelog.units import UnitSystem, show_length

SAME, DIFFERS, ONLY_FIRST, ONLY_SECOND = HOW = (
    "same",
    "differs",
    "only in the first",
    "only in the second",
)


class StepCompared(msgspec.Struct, frozen=True, kw_only=True):
    """A step of one recipe beside its like in the other; or a component's stock, step ""."""

    component: str
    """Id in the first, or in the second where only that has it."""
    step: str
    words: str
    """ "strap, roll the eye"."""
    how: str
    """One of HOW."""
    differences: tuple[str, ...] = ()
    """Of one that differs: first's, then second's."""
    first_records: str = ""
    """What the records say of it."""
    second_records: str = ""


class Compared(msgspec.Struct, frozen=True, kw_only=True):
    """Two recipes side by side."""

    first: str
    """ "gate-hinge-set, revision 2"."""
    second: str
    same_process: bool
    head: tuple[str, ...]
    """Differences of steel, cautions, sizes and what is bought."""
    steps: tuple[StepCompared, ...]

    @property
    def changed(self) -> tuple[StepCompared, ...]:
        """Those that are not the same in both."""
        return tuple(step for step in self.steps if step.how != SAME)


Records = Mapping[tuple[str, str], str]
"""What the records say of a step, by ids of component and step."""


def compare(
    first: Recipe,
    second: Recipe,
    units: UnitSystem | str,
    first_records: Records | None = None,
    second_records: Records | None = None,
) -> Compared:
    """Compare two recipes.

    Args:
        first: At its own sizes.
        second: At its own sizes.
        units: mm or inch.
        first_records: What the records say of the first's steps.
        second_records: Of the second's.
    """
    told = _Comparing(units, first_records or {}, second_records or {})
    return Compared(
        first=_called(first),
        second=_called(second),
        same_process=first.process_hash == second.process_hash,
        head=tuple(_head(first, second, units)),
        steps=tuple(told.components(first.components, second.components)),
    )


def _called(recipe: Recipe) -> str:
    return f"{harmless(recipe.id)}, revision {harmless(recipe.revision)}"


def _head(first: Recipe, second: Recipe, units: UnitSystem | str) -> Iterator[str]:
    if first.steel != second.steel:
        yield f"steel {harmless(first.steel)}, now {harmless(second.steel)}"
    for name, mm in first.sizes_mm.items():
        if name not in second.sizes_mm:
            yield f"size {harmless(name)} is gone"
        elif second.sizes_mm[name] != mm:
            was, now = (show_length(m, units) for m in (mm, second.sizes_mm[name]))
            yield f"size {harmless(name)} {was}, now {now}"
    yield from (
        f"size {harmless(name)} is new, {show_length(mm, units)}"
        for name, mm in second.sizes_mm.items()
        if name not in first.sizes_mm
    )
    for cautions, others, words in (
        (first.cautions, second.cautions, "no longer there"),
        (second.cautions, first.cautions, "new"),
    ):
        missing = [harmless(c) for c in cautions if c not in others]
        if missing:
            yield f"cautions {words}: {listed(missing, 'and')}"
    if first.bought != second.bought:
        yield "what is bought is another"


class _Comparing:
    def __init__(self, units: UnitSystem | str, first: Records, second: Records) -> None:
        self.units = units
        self.first = first
        self.second = second

    def components(
        self, first: tuple[Component, ...], second: tuple[Component, ...]
    ) -> Iterator[StepCompared]:
        """All steps, in the order of the second; what only the first has follows its neighbour."""
        new = {c.id: c for c in second}
        old = {c.id: c for c in first}
        for component in second:
            if component.id in old:
                yield from self._component(old[component.id], component)
            else:
                yield self._alone(component, ONLY_SECOND)
        yield from (self._alone(c, ONLY_FIRST) for c in first if c.id not in new)

    def _alone(self, component: Component, how: str) -> StepCompared:
        return StepCompared(
            component=component.id, step="", words=harmless(component.name), how=how
        )

    def _component(self, old: Component, new: Component) -> Iterator[StepCompared]:
        stock = tuple(self._stock(old, new))
        if stock:
            yield StepCompared(
                component=new.id,
                step="",
                words=harmless(new.name),
                how=DIFFERS,
                differences=stock,
            )
        before, now = [s.id for s in old.steps], [s.id for s in new.steps]
        steps = {s.id: s for s in new.steps}
        were = {s.id: s for s in old.steps}
        matcher = SequenceMatcher(a=before, b=now, autojunk=False)
        for deed, i, j, k, m in matcher.get_opcodes():
            if deed == "equal":
                for name in now[k:m]:
                    yield self._step(new, were[name], steps[name])
                continue
            for name in before[i:j]:
                if name not in steps:
                    yield self._told(old, were[name], ONLY_FIRST)
            for name in now[k:m]:
                if name in were:
                    yield self._step(new, were[name], steps[name], moved=True)
                else:
                    yield self._told(new, steps[name], ONLY_SECOND)

    def _stock(self, old: Component, new: Component) -> Iterator[str]:
        if old.each != new.each:
            yield f"{old.each} in a set, now {new.each}"
        if old.marks != new.marks:
            was, now = (listed(map(harmless, c.marks), "and") or "none" for c in (old, new))
            yield f"hands {was}, now {now}"
        if old.needs != new.needs:
            yield "what it is put together from is another"
        if old.match != new.match:
            yield "the sizes that a pair must share are others"
        if (old.stock is None) != (new.stock is None):
            yield "it is cut from a bar now" if new.stock else "it is cut from no bar any more"
        elif old.stock is not None and new.stock is not None:
            if old.stock.section != new.stock.section:
                was, now = (show_section(s.section, self.units) for s in (old.stock, new.stock))
                yield f"bar {was}, now {now}"
            lengths = [s.cut_mm or s.sum_mm for s in (old.stock, new.stock)]
            shown = [show_length(mm, self.units) for mm in lengths]
            if shown[0] != shown[1]:
                yield f"cut {shown[0]}, now {shown[1]}"

    def _told(
        self,
        component: Component,
        step: Step,
        how: str,
        differences: tuple[str, ...] = (),
    ) -> StepCompared:
        words = f"{harmless(component.name)}, {render(step.do, self.units)}"
        return StepCompared(
            component=component.id,
            step=step.id,
            words=f"{words} (cycle {step.cycle})" if step.cycle else words,
            how=how,
            differences=differences,
            first_records=self.first.get((component.id, step.id), ""),
            second_records=self.second.get((component.id, step.id), ""),
        )

    def _step(
        self, component: Component, old: Step, new: Step, *, moved: bool = False
    ) -> StepCompared:
        found = difference_words(old, new, self.units)
        if moved:
            found = ("it has another place among the steps", *found)
        return self._told(component, new, DIFFERS if found else SAME, found)


def compared_lines(compared: Compared, *, whole: bool = False) -> Iterable[str]:
    """The comparison in lines for the shell.

    Args:
        compared: The comparison.
        whole: True tells the steps that are the same, too.
    """
    yield f"first:  {compared.first}"
    yield f"second: {compared.second}"
    if compared.same_process:
        yield "The process is the same in both."
    yield from (f"  {line}" for line in compared.head)
    for step in compared.steps:
        told = bool(step.first_records or step.second_records)
        if step.how == SAME and not (whole or told):
            continue
        yield f"  {step.words}: {step.how}" if step.how != DIFFERS else f"  {step.words}:"
        yield from (f"      {line}" for line in step.differences)
        for name, records in (("first", step.first_records), ("second", step.second_records)):
            if records:
                yield f"      the {name}'s records: {records}"
    same = sum(step.how == SAME for step in compared.steps)
    yield f"{same} of {len(compared.steps)} are the same."
