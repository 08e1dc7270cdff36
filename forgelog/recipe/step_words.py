"""A step in words: what it plans, makes, wants and warns of, for every sheet that tells steps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from forgelog.recipe.method_words import METHOD_WORDS
from forgelog.recipe.plain import listed
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import METHODS, Component, Gauge, Step, Tool
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.colours import heat_words, temper_words
from forgelog.trade.sections import show_section
from forgelog.trade.words import in_dialect
from forgelog.units import UnitSystem, show_length, show_temperature, show_time

Learnt = Mapping[tuple[str, str, str], str]
"""What the journal knows of the heats, in words: (component, step, method) to "3 to 4"."""

CAUTION = "!"
"""The label of a fact that is a caution."""

GAUGE = "Gauge"
"""The label of a size that is gauged, before the dialect has its say."""

_PLACES = {"draught": "in a draught", "fire": "in the banked fire"}


class Look(msgspec.Struct, frozen=True, kw_only=True):
    """How a sheet is wanted."""

    units: UnitSystem = UnitSystem.MM
    dialect: str = "uk"
    """uk or us."""
    width: int = 80
    """Letters in a line."""


class Fact(msgspec.Struct, frozen=True):
    """One thing to know of a step."""

    label: str
    """ "Heats", "Watch"; "" where the words say it all."""
    words: str
    """As people wrote them: a sheet makes them harmless."""

    @property
    def line(self) -> str:
        """ "Heats: 3 by hand"; "! Glasses on"."""
        if not self.label:
            return self.words
        return f"{self.label}{'' if self.label == CAUTION else ':'} {self.words}"


class StepWords:
    """Tells steps in the shop's units and dialect."""

    def __init__(self, look: Look, learnt: Learnt | None = None) -> None:
        """Make it.

        Args:
            look: Units and dialect.
            learnt: Heats that the journal knows, told beside the planned ones.
        """
        self.look = look
        self.learnt = learnt or {}

    def facts(self, component: Component, step: Step) -> Iterator[Fact]:
        """All that is to be known of a step, in the order in which it is wanted."""
        yield from self.plan(component, step)
        yield from self.work(step)

    def work(self, step: Step) -> Iterator[Fact]:
        """What is done and how, with what, and what to look out for."""
        if step.says:
            yield Fact("", self.prose(step.says))
        if target := self.target(step):
            yield Fact("To", target)
        for jig, title in ((False, "Tools"), (True, "Jigs")):
            names = [self._tool(tool) for tool in step.tools if tool.jig == jig]
            if names:
                yield Fact(title, "; ".join(names))
        for gauge in step.gauges:
            yield Fact(self.say(GAUGE), self.gauge(gauge))
        if step.rest is not None:
            yield from self._rest(step)
        for title, prose in (
            ("Cool", step.cool),
            ("Watch", step.watch),
            ("If it goes wrong", step.recover),
        ):
            if prose:
                yield Fact(title, self.prose(prose))
        for name in step.cautions:
            yield Fact(CAUTION, CAUTIONS[name].short if name in CAUTIONS else name)

    def target(self, step: Step) -> str:
        """What the step comes to: "16 mm square, 50 mm long"; "" where that is not said."""
        parts = [show_section(step.to_section, self.look.units)] if step.to_section else []
        if step.to_long_mm:
            parts.append(f"{self.length(step.to_long_mm)} long")
        if step.to_mark_mm:
            parts.append(f"from {self.length(step.to_mark_mm)} of bar")
        if parts and step.to_hot:
            parts.append("between hot marks")
        return ", ".join(parts)

    def gauge(self, gauge: Gauge) -> str:
        """ "neck 6 mm, give or take 0.5 mm, hot"."""
        words = f"{self.say(gauge.what)} {self.length(gauge.mm, fine=True)}"
        if gauge.plus_mm == gauge.minus_mm:
            if gauge.plus_mm:
                words += f", give or take {self.length(gauge.plus_mm, fine=True)}"
        else:
            words += f", {self.length(gauge.plus_mm, fine=True)} over"
            words += f", {self.length(gauge.minus_mm, fine=True)} under"
        return words + (", hot" if gauge.hot else ", cold" if gauge.mm else "")

    def length(self, mm: float, *, fine: bool = False) -> str:
        """A length in the shop's units."""
        return show_length(mm, self.look.units, fine=fine)

    def prose(self, text: str) -> str:
        """Resolved prose of the recipe, in the shop's units and dialect."""
        return self.say(render(text, self.look.units))

    def say(self, words: str) -> str:
        """Words in the shop's dialect."""
        return in_dialect(words, self.look.dialect)

    def plan(self, component: Component, step: Step) -> Iterator[Fact]:
        """Heats, times and temperatures."""
        if step.heats:
            heats = [
                self._heats(component, step, method) for method in METHODS if method in step.heats
            ]
            yield Fact("Heats", "; ".join(heats))
        if step.follows:
            yield Fact("", "May follow in the same heat.")
        if step.minutes_s:
            yield Fact("", f"About {show_time(step.minutes_s)}")
        if step.dries_s:
            yield Fact("", f"Let it dry {show_time(step.dries_s)} before it is packed.")
        if step.start_degc is not None and step.stop_degc is not None:
            start, stop = (self._degrees(d) for d in (step.start_degc, step.stop_degc))
            yield Fact("", f"Work from {start} down to {stop}")
        if step.at_degc is not None:
            words = f"At {self._degrees(step.at_degc, temper=step.kind == 'temper')}"
            words += f", {show_time(step.soak_s)} all through" if step.soak_s else ""
            words += f", into {step.quench}" if step.quench else ""
            words += f"; judged by {listed(step.judge)}" if step.judge else ""
            yield Fact("", words)

    def _heats(self, component: Component, step: Step, method: str) -> str:
        words = f"{step.heats[method]} {METHOD_WORDS[method]}"
        known = self.learnt.get((component.id, step.id, method))
        return f"{words} (so far {known})" if known else words

    def _tool(self, tool: Tool) -> str:
        name = self.say(tool.name)
        return f"{name} ({self.prose(tool.setting)})" if tool.setting else name

    def _rest(self, step: Step) -> Iterator[Fact]:
        rest = step.rest
        assert rest is not None
        if rest.seconds is not None:
            until = f"{show_time(rest.seconds)} have passed"
        elif rest.degc is not None and rest.until[:1].isdigit():
            until = f"it is below {self._degrees(rest.degc)}"
        else:
            until = f"it is {rest.until}"
        place = _PLACES.get(rest.medium_words, "in " + rest.medium_words)
        yield Fact("", f"Rest {place} until {until}.")
        if rest.why:
            yield Fact("Why", self.prose(rest.why))
        if rest.skipping == "matters":
            yield Fact("", "Cutting this short matters.")

    def _degrees(self, degc: float, *, temper: bool = False) -> str:
        words = temper_words(degc) if temper else heat_words(degc)
        shown = show_temperature(degc, self.look.units)
        return f"{shown} ({words})" if words else shown
