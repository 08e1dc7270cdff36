"""The process sheet: a resolved recipe as plain text, to be read at the anvil or printed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.resolved import Component, Recipe, Step, Stock, Tool
from forgelog.recipe.rules.found import mm_of
from forgelog.recipe.step_words import Learnt, StepWords
from forgelog.recipe.step_words import Look as Look
from forgelog.recipe.written import WrittenRecipe, WrittenSize
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.sections import show_section
from forgelog.units import show_mass


def process_sheet(
    recipe: Recipe,
    written: WrittenRecipe | None = None,
    look: Look | None = None,
    learnt: Learnt | None = None,
) -> str:
    """The whole recipe as a process sheet.

    Args:
        recipe: At the sizes of the order.
        written: The recipe as the smith wrote it; gives the sizes their words and limits.
        look: Units, dialect and width.
        learnt: Heats that the journal knows, shown beside the planned ones.

    Returns:
        Text in lines of at most `look.width` letters, but for words that are longer.
    """
    sheet = _Sheet(recipe, written, look or Look(), learnt or {})
    return "\n".join(row.rstrip() for row in sheet.rows()) + "\n"


class _Sheet:
    def __init__(
        self, recipe: Recipe, written: WrittenRecipe | None, look: Look, learnt: Learnt
    ) -> None:
        self.recipe = recipe
        self.sizes: Mapping[str, WrittenSize] = written.sizes if written else {}
        self.look = look
        self.words = StepWords(look, learnt)

    def rows(self) -> Iterator[str]:
        yield from self._head()
        yield from self._sizes()
        yield from self._cautions()
        yield from self._stock()
        yield from self._bought()
        yield from self._tools()
        for component in self.recipe.components:
            yield from self._component(component)

    def _head(self) -> Iterator[str]:
        recipe = self.recipe
        yield from self._wrapped(self.words.say(recipe.name).upper())
        facts = [recipe.id, f"revision {recipe.revision}"]
        facts += [f"by {recipe.maker}"] if recipe.maker else []
        facts += [recipe.licence] if recipe.licence else []
        facts.append(f"process {recipe.process_hash}")
        yield from self._wrapped(", ".join(facts))
        if recipe.says:
            yield ""
            yield from self._wrapped(self.words.prose(recipe.says))
        yield ""
        yield from self._wrapped(f"Steel: {recipe.steel}")

    def _sizes(self) -> Iterator[str]:
        if not self.recipe.sizes_mm:
            return
        yield from self._title("sizes")
        names = list(self.recipe.sizes_mm)
        wide = max(len(name) for name in names)
        for name, mm in self.recipe.sizes_mm.items():
            size = self.sizes.get(name)
            says = self.words.prose(size.says) if size else ""
            if size and size.least and size.most:
                least, most = (
                    self.words.length(mm_of(text, self.recipe.sizes_mm) or 0.0)
                    for text in (size.least, size.most)
                )
                says += f" (from {least} to {most})"
            lead = f"  {name:<{wide}}  {self.words.length(mm):<9}"
            yield from self._wrapped(f"{lead}  {says}", indent=len(lead) + 2)

    def _cautions(self) -> Iterator[str]:
        if not self.recipe.cautions:
            return
        yield from self._title("cautions")
        for name in self.recipe.cautions:
            yield from self._wrapped(f"  ! {self._caution(name)}", indent=4)

    def _stock(self) -> Iterator[str]:
        stocked = [c for c in self.recipe.components if c.stock is not None]
        if not stocked:
            return
        yield from self._title("stock")
        for component in stocked:
            assert component.stock is not None
            section = show_section(component.stock.section, self.look.units)
            lead = f"  {component.each} of {self.words.say(component.name)}: {section}, "
            yield from self._wrapped(lead + self._cut(component.stock), indent=4)

    def _cut(self, stock: Stock) -> str:
        parts: list[str] = []
        total = self.words.length(stock.sum_mm)
        if stock.cut_mm is not None:
            parts.append(f"cut {self.words.length(stock.cut_mm)}, which has proved itself")
            if stock.sum_mm:
                parts.append(f"the sum is {total}")
        else:
            parts.append(f"cut {total} by the sum" if stock.sum_mm else "no length is known")
        losses = [f"{stock.loss:.0%} for scale"] if stock.sum_mm and stock.loss else []
        losses += [f"{self.words.length(stock.grip_mm)} for the tongs"] if stock.grip_mm else []
        losses += [f"{self.words.length(stock.trim_mm)} to trim"] if stock.trim_mm else []
        if losses:
            parts.append(f"with {listed(losses, 'and')}")
        return "; ".join(parts)

    def _bought(self) -> Iterator[str]:
        if not self.recipe.bought:
            return
        yield from self._title("to buy")
        for one in self.recipe.bought:
            words = f"  [ ] {one.each} {self.words.say(one.name)}"
            words += f", {self.words.prose(one.says)}" if one.says else ""
            words += (
                f"; for the {self.words.say(self._name(one.component))}" if one.component else ""
            )
            words += f"; {show_mass(one.mass_kg, self.look.units)} each" if one.mass_kg else ""
            yield from self._wrapped(words, indent=6)

    def _tools(self) -> Iterator[str]:
        for title, jig in (("tools", False), ("jigs", True)):
            settings: dict[str, dict[str, None]] = {}
            for tool in self._all_tools():
                if tool.jig == jig:
                    of_tool = settings.setdefault(tool.name, {})
                    if tool.setting:
                        of_tool[self.words.prose(tool.setting)] = None
            if settings:
                yield from self._title(title)
            for name, ways in settings.items():
                words = f"{name}: {'; '.join(ways)}" if ways else name
                yield from self._wrapped(f"  [ ] {self.words.say(words)}", indent=6)

    def _all_tools(self) -> Iterator[Tool]:
        for component in self.recipe.components:
            for step in component.steps:
                yield from step.tools

    def _component(self, component: Component) -> Iterator[str]:
        marks = list(dict.fromkeys(mark for mark in component.marks if mark))
        count = f"{component.each}"
        if marks:
            each = component.each // len(marks)
            count += f", {each} each {listed(marks, 'and')}"
            count += " (mirror images)" if component.mirrored else ""
        yield from self._title(f"{component.name}: {count}")
        if component.needs:
            parts = (f"{need.count} {self._name(need.component)}" for need in component.needs)
            needs = self.words.say(listed(parts, "and"))
            yield from self._wrapped(f"  Made of {needs}.", indent=2)
        if component.match:
            matches = listed(component.match, "and")
            yield from self._wrapped(f"  These must match: {self.words.say(matches)}.", indent=2)
        for number, step in enumerate(component.steps, 1):
            yield ""
            yield from self._step(component, number, step)

    def _step(self, component: Component, number: int, step: Step) -> Iterator[str]:
        lead = f" {number:>2}  "
        cycle = f", cycle {step.cycle} of {step.cycles}" if step.cycle else ""
        yield from self._wrapped(f"{lead}{self.words.say(step.do).upper()}{cycle}", indent=5)
        for fact in self.words.facts(component, step):
            yield from self._wrapped(f"     {fact.line}", indent=7)

    def _caution(self, name: str) -> str:
        caution = CAUTIONS.get(name)
        return caution.says if caution else name

    def _name(self, component: str) -> str:
        return next((c.name for c in self.recipe.components if c.id == component), component)

    def _title(self, words: str) -> Iterator[str]:
        words = harmless(self.words.say(words)).upper()
        yield ""
        yield from self._wrapped(words)
        yield "-" * min(self.look.width, len(words))

    def _wrapped(self, words: str, indent: int = 0) -> Iterable[str]:
        return textwrap.wrap(
            harmless(words),
            width=self.look.width,
            subsequent_indent=" " * indent,
            break_on_hyphens=False,
            drop_whitespace=True,
        ) or [""]
