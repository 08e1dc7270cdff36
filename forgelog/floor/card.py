"""The lines of a piece's card: what and how, the range of heat, what to watch."""

from __future__ import annotations

from forgelog.floor.names import short_name
from forgelog.floor.rest_acts import goal_words
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import heat_of, stop_of
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import HEAT_KINDS, Gauge, Step, Tool
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.colours import heat_words
from forgelog.trade.sections import show_section
from forgelog.trade.words import in_dialect
from forgelog.units import UnitSystem, show_length, show_temperature, show_time
from forgelog.work.state import State, Workpiece
from forgelog.work.twins import TwinSize, twin_sizes


def words(text: str, settings: FloorSettings) -> str:
    """Recipe prose as this shop reads it: its units, its dialect, nothing harmful."""
    return in_dialect(harmless(render(text, settings.units)), settings.dialect)


def tool_words(tool: Tool, settings: FloorSettings) -> str:
    """A tool with its setting: "scroll jig (set to 60 mm)"."""
    name = words(tool.name, settings)
    return f"{name} ({words(tool.setting, settings)})" if tool.setting else name


def heat_line(step: Step, light: str, settings: FloorSettings) -> str:
    """The range of heat in degrees and in the words of this light; "" for cold work."""
    if step.kind != "forge" and step.kind not in HEAT_KINDS:
        return ""
    if step.kind == "forge" and step.start_degc is None and step.at_degc is None:
        return "the heat that this steel wants is not known"
    start = heat_of(step)
    text = f"{show_temperature(start, settings.units)}, {heat_words(start, light)}"
    if step.kind in HEAT_KINDS:
        soak = f", hold {show_time(step.soak_s)}" if step.soak_s else ""
        return f"at {text}{soak}"
    return f"start {text}; stop {show_temperature(stop_of(step), settings.units)}"


def target_line(step: Step, settings: FloorSettings) -> str:
    """What the step makes: "to 16 mm square, 50 mm long (hot)"."""
    parts = []
    if step.to_section is not None:
        parts.append(f"to {show_section(step.to_section, settings.units)}")
    if step.to_long_mm is not None:
        parts.append(f"{show_length(step.to_long_mm, settings.units)} long")
    if not parts:
        return ""
    return ", ".join(parts) + (" (hot)" if step.to_hot else "")


def rest_line(step: Step, settings: FloorSettings) -> str:
    """Where a rest goes to, and why: "to black, to look for cracks"."""
    if step.rest is None:
        return ""
    return ": ".join(w for w in (goal_words(step.rest), words(step.rest.why, settings)) if w)


def gauge_line(gauge: Gauge, settings: FloorSettings) -> str:
    """A size with its tolerance: "gauge: bore 16.5 mm, +0.5 mm -0 mm"."""
    size = show_length(gauge.mm, settings.units)
    plus, minus = gauge.plus_mm, gauge.minus_mm
    hot = " (hot)" if gauge.hot else ""
    if plus or minus:
        more = show_length(plus, settings.units, fine=True)
        less = show_length(minus, settings.units, fine=True)
        limits = f" ±{more}" if plus == minus else f", +{more} -{less}"
    else:
        limits = ""
    return f"gauge: {words(gauge.what, settings)} {size}{limits}{hot}"


def twin_lines(state: State, piece: Workpiece, settings: FloorSettings) -> list[str]:
    """For a remade piece, or a spare in a slot: the sizes that its twin really has."""
    return [
        f"make it as {harmless(short_name(state, state.pieces[size.twin], exact=True))}: "
        f"{words(size.what, settings)} {as_made(size, settings.units)}"
        for size in twin_sizes(state, piece)
    ]


def as_made(size: TwinSize, units: UnitSystem | str) -> str:
    """ "as made 212.5 mm, drawing 212 mm"."""
    drawing = ""
    if size.drawing_mm is not None:
        drawing = f", drawing {show_length(size.drawing_mm, units, fine=True)}"
    hot = " (hot)" if size.hot else ""
    return f"as made {show_length(size.mm, units, fine=True)}{hot}{drawing}"


def step_lines(
    state: State, piece: Workpiece, step: Step, settings: FloorSettings
) -> tuple[str, ...]:
    """The card of a step, most needed first."""
    lines = [
        *twin_lines(state, piece, settings),
        words(step.says, settings),
        rest_line(step, settings) if step.kind == "rest" else "",
        "; ".join(
            part
            for part in (
                target_line(step, settings),
                ", ".join(tool_words(t, settings) for t in step.tools),
            )
            if part
        ),
        heat_line(step, state.light, settings),
        *(gauge_line(g, settings) for g in step.gauges),
    ]
    if step.quench:
        lines.append(f"quench in {step.quench}; stop at about hand-hot, then temper at once")
    if step.judge:
        lines.append("judged by " + " or ".join(step.judge))
    if step.cool:
        lines.append(f"water: {words(step.cool, settings)}")
    if step.watch:
        lines.append(f"watch: {words(step.watch, settings)}")
    if piece.troubles:
        lines.append("this piece: " + ", ".join(harmless(t) for t in piece.troubles))
    if piece.notes:
        lines.append(f"note: {harmless(piece.notes[-1])}")
    lines += [f"! {CAUTIONS[c].short}" for c in step.cautions if c in CAUTIONS]
    return tuple(line for line in lines if line)


def help_lines(step: Step, settings: FloorSettings) -> tuple[str, ...]:
    """Behind "?": what to do when it goes wrong, and the cautions in full."""
    lines = []
    if step.recover:
        lines.append(f"if it goes wrong: {words(step.recover, settings)}")
    if step.rest is not None and step.rest.why:
        lines.append(f"why the rest: {words(step.rest.why, settings)}")
    lines += [CAUTIONS[c].says for c in step.cautions if c in CAUTIONS]
    return tuple(lines) or ("the recipe says nothing more about this step",)
