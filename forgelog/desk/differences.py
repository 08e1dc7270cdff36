"""In what two versions of a step differ, in the smith's words: old, then new."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.recipe.plain import harmless, listed
from forgelog.recipe.problems import Fault
from forgelog.recipe.prose import braces, render
from forgelog.recipe.resolved import Gauge, RestGoal, Step, Tool
from forgelog.trade.sections import Section, show_section
from forgelog.units import UnitSystem, show_length, show_temperature, show_time

LONGEST = 70
"""Prose that is longer is not set side by side; that it differs is said."""

_PROSE = {
    "do": "the deed",
    "done": "its end",
    "says": "what it says",
    "cool": "the cooling in water",
    "watch": "what to watch",
    "recover": "what to do when it goes wrong",
}
_PLAIN = {
    "kind": "the kind of step",
    "follows": "whether it follows in the same heat",
    "cycle": "the number of the cycle",
    "cycles": "the number of cycles",
    "judge": "what the heat is judged by",
    "cautions": "the cautions",
    "to_hot": "whether the length is measured hot",
}


def difference_words(before: Step, now: Step, units: UnitSystem | str) -> tuple[str, ...]:
    """Every difference: "length 60 mm, now 80 mm".

    Args:
        before: The step as it was.
        now: The step as it is; of the same kind and id.
        units: mm or inch.
    """
    return tuple(_differences(before, now, units))


def _differences(before: Step, now: Step, units: UnitSystem | str) -> Iterator[str]:
    for field in before.__struct_fields__:
        old, new = getattr(before, field), getattr(now, field)
        if old == new or field == "id":
            continue
        match field:
            case "to_long_mm":
                yield f"length {_length(old, units)}, now {_length(new, units)}"
            case "to_mark_mm":
                yield f"marked off {_length(old, units)} of bar, now {_length(new, units)}"
            case "to_section":
                yield f"to {_section(old, units)}, now {_section(new, units)}"
            case "section":
                yield f"bar {_section(old, units)}, now {_section(new, units)}"
            case "start_degc" | "stop_degc" | "at_degc":
                what = {"start_degc": "start at", "stop_degc": "stop at", "at_degc": "at"}[field]
                yield f"{what} {_degc(old, units)}, now {_degc(new, units)}"
            case "minutes_s" | "soak_s" | "dries_s":
                times = {"minutes_s": "planned time", "soak_s": "hold", "dries_s": "drying"}
                what = times[field]
                yield f"{what} {_time(old)}, now {_time(new)}"
            case "heats":
                yield f"planned heats {_heats(old)}, now {_heats(new)}"
            case "quench":
                yield f"quench in {harmless(old) or 'nothing'}, now {harmless(new) or 'nothing'}"
            case "gauges":
                yield from _gauges(old, new, units)
            case "tools":
                yield from _tools(old, new, units)
            case "rest":
                yield f"rest {_rest(old)}, now {_rest(new)}"
            case _ if field in _PROSE:
                yield _prose(_PROSE[field], old, new, units)
            case _:
                yield f"{_PLAIN.get(field, field.replace('_', ' '))} is another"


def _prose(what: str, old: str, new: str, units: UnitSystem | str) -> str:
    was, now = render(old, units), render(new, units)
    if len(was) + len(now) <= LONGEST and was and now:
        return f'{what}: "{was}", now "{now}"'
    sizes = _sizes_moved(old, new, units)
    return f"{what}: {sizes}" if sizes else f"{what} is another"


def _sizes_moved(old: str, new: str, units: UnitSystem | str) -> str:
    """Of words that differ only in their sizes, those: "117 mm, now 137 mm"; else ""."""
    before, after = braces(old), braces(new)
    if [inside or part for inside, part in before] != [inside or part for inside, part in after]:
        return ""
    pairs = [
        (_shown(was, units), _shown(now, units))
        for (inside, was), (_, now) in zip(before, after, strict=True)
        if inside and was != now
    ]
    return "; ".join(dict.fromkeys(f"{was}, now {now}" for was, now in pairs if was != now))


def _shown(size: str | Fault, units: UnitSystem | str) -> str:
    return render(f"{{{size}}}", units)


def _gauges(
    old: tuple[Gauge, ...], new: tuple[Gauge, ...], units: UnitSystem | str
) -> Iterator[str]:
    before = {g.what: g for g in old}
    after = {g.what: g for g in new}
    for what, gauge in after.items():
        if what not in before:
            yield f"gauge {harmless(what)} {show_length(gauge.mm, units)} is new"
        elif before[what] != gauge:
            was = show_length(before[what].mm, units, fine=True)
            now = show_length(gauge.mm, units, fine=True)
            change = f"{was}, now {now}" if was != now else f"{now} has another tolerance"
            yield f"gauge {harmless(what)} {change}"
    yield from (f"gauge {harmless(what)} is gone" for what in before if what not in after)


def _tools(old: tuple[Tool, ...], new: tuple[Tool, ...], units: UnitSystem | str) -> Iterator[str]:
    before = {t.id: t for t in old}
    after = {t.id: t for t in new}
    for name, tool in after.items():
        if name not in before:
            yield f"{render(tool.name, units)} is new"
        elif before[name].setting != tool.setting:
            was = render(before[name].setting, units) or "no setting"
            now = render(tool.setting, units) or "no setting"
            yield f"{render(tool.name, units)}: {was}, now {now}"
    for name, tool in before.items():
        if name not in after:
            yield f"{render(tool.name, units)} is no longer needed"


def _length(mm: float | None, units: UnitSystem | str) -> str:
    return show_length(mm, units) if mm is not None else "not given"


def _section(section: Section | None, units: UnitSystem | str) -> str:
    return show_section(section, units) if section is not None else "not given"


def _degc(degc: float | None, units: UnitSystem | str) -> str:
    return show_temperature(degc, units) if degc is not None else "not given"


def _time(seconds: float | None) -> str:
    return show_time(seconds) if seconds is not None else "not given"


def _heats(heats: dict[str, int]) -> str:
    return listed((f"{n} ({method})" for method, n in heats.items()), "and") or "not given"


def _rest(rest: RestGoal | None) -> str:
    if rest is None:
        return "none"
    return f"to {harmless(rest.until)} in {harmless(rest.medium_words)}, {rest.skipping}"
