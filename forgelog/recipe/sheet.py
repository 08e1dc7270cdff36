"""The process sheet: a resolved recipe as plain text, to be read at the anvil or printed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

import msgspec

from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import METHODS, Component, Gauge, Recipe, Step, Stock, Tool
from forgelog.recipe.rules.found import plain_mm
from forgelog.recipe.written import WrittenRecipe, WrittenSize
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.colours import heat_words, temper_words
from forgelog.trade.sections import show_section
from forgelog.trade.words import in_dialect
from forgelog.units import UnitSystem, show_length, show_mass, show_temperature, show_time

_PLACES = {"draught": "in a draught", "fire": "in the banked fire"}

Learnt = Mapping[tuple[str, str, str], str]
"""What the journal knows of the heats, in words: (component, step, method) to "3 to 4"."""

_METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "under the power hammer",
    "press": "under the press",
}


class Look(msgspec.Struct, frozen=True, kw_only=True):
    """How the sheet is wanted."""

    units: UnitSystem = UnitSystem.MM
    dialect: str = "uk"
    """uk or us."""
    width: int = 80
    """Letters in a line."""


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
        self.learnt = learnt

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
        yield from self._wrapped(self._say(recipe.name).upper())
        facts = [recipe.id, f"revision {recipe.revision}"]
        facts += [f"by {recipe.maker}"] if recipe.maker else []
        facts += [recipe.licence] if recipe.licence else []
        facts.append(f"process {recipe.process_hash}")
        yield from self._wrapped(", ".join(facts))
        if recipe.says:
            yield ""
            yield from self._wrapped(self._prose(recipe.says))
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
            says = self._prose(size.says) if size else ""
            if size and size.least and size.most:
                least, most = (self._length(plain_mm(text)) for text in (size.least, size.most))
                says += f" (from {least} to {most})"
            lead = f"  {name:<{wide}}  {self._length(mm):<9}"
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
            lead = f"  {component.each} of {self._say(component.name)}: {section}, "
            yield from self._wrapped(lead + self._cut(component.stock), indent=4)

    def _cut(self, stock: Stock) -> str:
        parts: list[str] = []
        total = self._length(stock.sum_mm)
        if stock.cut_mm is not None:
            parts.append(f"cut {self._length(stock.cut_mm)}, which has proved itself")
            if stock.sum_mm:
                parts.append(f"the sum is {total}")
        else:
            parts.append(f"cut {total} by the sum" if stock.sum_mm else "no length is known")
        losses = [f"{stock.loss:.0%} for scale"] if stock.sum_mm and stock.loss else []
        losses += [f"{self._length(stock.grip_mm)} for the tongs"] if stock.grip_mm else []
        losses += [f"{self._length(stock.trim_mm)} to trim"] if stock.trim_mm else []
        if losses:
            parts.append(f"with {listed(losses, 'and')}")
        return "; ".join(parts)

    def _bought(self) -> Iterator[str]:
        if not self.recipe.bought:
            return
        yield from self._title("to buy")
        for one in self.recipe.bought:
            words = f"  [ ] {one.each} {self._say(one.name)}"
            words += f", {self._prose(one.says)}" if one.says else ""
            words += f"; for the {self._say(self._name(one.component))}" if one.component else ""
            words += f"; {show_mass(one.mass_kg, self.look.units)} each" if one.mass_kg else ""
            yield from self._wrapped(words, indent=6)

    def _tools(self) -> Iterator[str]:
        for title, jig in (("tools", False), ("jigs", True)):
            settings: dict[str, dict[str, None]] = {}
            for tool in self._all_tools():
                if tool.jig == jig:
                    of_tool = settings.setdefault(tool.name, {})
                    if tool.setting:
                        of_tool[self._prose(tool.setting)] = None
            if settings:
                yield from self._title(title)
            for name, ways in settings.items():
                words = f"{name}: {'; '.join(ways)}" if ways else name
                yield from self._wrapped(f"  [ ] {self._say(words)}", indent=6)

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
            needs = self._say(listed(parts, "and"))
            yield from self._wrapped(f"  Made of {needs}.", indent=2)
        if component.match:
            matches = listed(component.match, "and")
            yield from self._wrapped(f"  These must match: {self._say(matches)}.", indent=2)
        for number, step in enumerate(component.steps, 1):
            yield ""
            yield from self._step(component, number, step)

    def _step(self, component: Component, number: int, step: Step) -> Iterator[str]:
        lead = f" {number:>2}  "
        cycle = f", cycle {step.cycle} of {step.cycles}" if step.cycle else ""
        yield from self._wrapped(f"{lead}{self._say(step.do).upper()}{cycle}", indent=5)
        for words in self._facts(component, step):
            yield from self._wrapped(f"     {words}", indent=7)

    def _facts(self, component: Component, step: Step) -> Iterator[str]:
        yield from self._plan(component, step)
        if step.says:
            yield self._prose(step.says)
        if target := self._target(step):
            yield f"To: {target}"
        for jig, title in ((False, "Tools"), (True, "Jigs")):
            names = [self._tool(tool) for tool in step.tools if tool.jig == jig]
            if names:
                yield f"{title}: {'; '.join(names)}"
        for gauge in step.gauges:
            yield f"{self._say('Gauge')}: {self._gauge(gauge)}"
        if step.rest is not None:
            yield from self._rest(step)
        for title, prose in (
            ("Cool", step.cool),
            ("Watch", step.watch),
            ("If it goes wrong", step.recover),
        ):
            if prose:
                yield f"{title}: {self._prose(prose)}"
        for name in step.cautions:
            yield f"! {CAUTIONS[name].short if name in CAUTIONS else name}"

    def _plan(self, component: Component, step: Step) -> Iterator[str]:
        if step.heats:
            heats = [
                self._heats(component, step, method) for method in METHODS if method in step.heats
            ]
            yield f"Heats: {'; '.join(heats)}"
        if step.follows:
            yield "May follow in the same heat."
        if step.minutes_s:
            yield f"About {show_time(step.minutes_s)}"
        if step.dries_s:
            yield f"Let it dry {show_time(step.dries_s)} before it is packed."
        if step.start_degc is not None and step.stop_degc is not None:
            start, stop = (self._degrees(d) for d in (step.start_degc, step.stop_degc))
            yield f"Work from {start} down to {stop}"
        if step.at_degc is not None:
            words = f"At {self._degrees(step.at_degc, temper=step.kind == 'temper')}"
            words += f", {show_time(step.soak_s)} all through" if step.soak_s else ""
            words += f", into {step.quench}" if step.quench else ""
            words += f"; judged by {listed(step.judge)}" if step.judge else ""
            yield words

    def _heats(self, component: Component, step: Step, method: str) -> str:
        words = f"{step.heats[method]} {_METHOD_WORDS[method]}"
        known = self.learnt.get((component.id, step.id, method))
        return f"{words} (so far {known})" if known else words

    def _target(self, step: Step) -> str:
        parts = [show_section(step.to_section, self.look.units)] if step.to_section else []
        if step.to_long_mm:
            parts.append(f"{self._length(step.to_long_mm)} long")
        if step.to_mark_mm:
            parts.append(f"from {self._length(step.to_mark_mm)} of bar")
        if parts and step.to_hot:
            parts.append("between hot marks")
        return ", ".join(parts)

    def _tool(self, tool: Tool) -> str:
        name = self._say(tool.name)
        return f"{name} ({self._prose(tool.setting)})" if tool.setting else name

    def _gauge(self, gauge: Gauge) -> str:
        words = f"{self._say(gauge.what)} {self._length(gauge.mm, fine=True)}"
        if gauge.plus_mm == gauge.minus_mm:
            if gauge.plus_mm:
                words += f", give or take {self._length(gauge.plus_mm, fine=True)}"
        else:
            words += f", {self._length(gauge.plus_mm, fine=True)} over"
            words += f", {self._length(gauge.minus_mm, fine=True)} under"
        return words + (", hot" if gauge.hot else ", cold" if gauge.mm else "")

    def _rest(self, step: Step) -> Iterator[str]:
        rest = step.rest
        assert rest is not None
        if rest.seconds is not None:
            until = f"{show_time(rest.seconds)} have passed"
        elif rest.degc is not None and rest.until[:1].isdigit():
            until = f"it is below {self._degrees(rest.degc)}"
        else:
            until = f"it is {rest.until}"
        words = f"Rest {_PLACES.get(rest.medium_words, 'in ' + rest.medium_words)} until {until}"
        yield f"{words}."
        if rest.why:
            yield f"Why: {self._prose(rest.why)}"
        if rest.skipping == "matters":
            yield "Cutting this short matters."

    def _caution(self, name: str) -> str:
        caution = CAUTIONS.get(name)
        return caution.says if caution else name

    def _name(self, component: str) -> str:
        return next((c.name for c in self.recipe.components if c.id == component), component)

    def _degrees(self, degc: float, *, temper: bool = False) -> str:
        words = temper_words(degc) if temper else heat_words(degc)
        shown = show_temperature(degc, self.look.units)
        return f"{shown} ({words})" if words else shown

    def _length(self, mm: float, *, fine: bool = False) -> str:
        return show_length(mm, self.look.units, fine=fine)

    def _prose(self, text: str) -> str:
        return self._say(render(text, self.look.units))

    def _say(self, words: str) -> str:
        return in_dialect(words, self.look.dialect)

    def _title(self, words: str) -> Iterator[str]:
        words = harmless(self._say(words)).upper()
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
