"""Hot and cold: sizes, cooling, windows of work, rests, heating."""

from __future__ import annotations

import math

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import COOL, HOT, SHORT, section
from forgelog.trade.cooling import CARRY_S, HOTTEST_DEGC, band, cooling_curve, window_s
from forgelog.trade.heating import LOOK_SHARE, burning_s, heating_band, heating_curve, look_s
from forgelog.trade.hot import cold_mm, hot_mm
from forgelog.trade.rests import rest_verdict
from forgelog.trade.sections import Section, write_section

_MODEL = (
    "EN 1993-1-2 steel, radiation at emissivity 0.80, Churchill and Chu 1975; a model of a long "
    "bar, not measured"
)
_BANDS = "about +-12 % hot, +-40 % near hand-warm; ends, tapers and short heats cool faster"
_FIRES = "figures of the fires are plausible, not measured: look, only the eye judges a heat"
_TOUCH = "black is not cold: the back of the hand near it decides, not the sum"


def _hot(asked: Asked) -> Answer:
    size, degc = asked.number("size"), asked.number("at")
    if asked.flag("cold"):
        rows: tuple[Row, ...] = (
            Row("hot_mm", "measure it hot", hot_mm(size, degc), "fine"),
            Row("cold_mm", "for a cold size of", size, "fine"),
        )
    else:
        cold = cold_mm(size, degc)
        rows = (
            Row("cold_mm", "it will be, cold", cold, "fine"),
            Row("hot_mm", "measured hot", size, "fine"),
            Row("shrinks_mm", "shorter by", size - cold, "fine"),
            Row("hot_for_cold_mm", "to have it cold, measure hot", hot_mm(size, degc), "fine"),
        )
    rows = (*rows, Row("at_degc", "at", degc, "temperature"))
    return Answer(f"at {degc:g} degC", rows, "EN 1993-1-2:2005 3.4.1.1; carried on above 1200 degC")


def _cool(asked: Asked) -> Answer:
    bar, start, end = asked.section("section"), asked.number("from"), asked.number("to")
    medium, air = asked.word("medium").replace("-", " "), asked.number("air")
    _believable(start, end, air)
    if end >= start:
        raise CannotSum(f"it does not cool from {start:g} to {end:g} degC; the hotter is --from")
    curve = cooling_curve(bar, medium, air)
    seconds = curve.seconds(start, end)
    if seconds == math.inf:
        raise CannotSum(f"in air of {air:g} degC it never comes to {end:g} degC")
    spread = band(seconds, end, medium)
    rows = (
        Row("seconds", "about", seconds, "time"),
        Row("low_s", "between", spread.low_s, "time"),
        Row("high_s", "and", spread.high_s, "time"),
        Row("from_degc", "from a mean of", start, "temperature"),
        Row("to_degc", "to", end, "temperature"),
        Row(
            "surface_from_degc", "its surface then is at", curve.surface_degc(start), "temperature"
        ),
        Row("medium", "in", medium),
        Row("air_degc", "air", f"{air:g} degC"),
    )
    note = _BANDS
    if 640 <= end <= 735:
        note = "to a heat between 735 and 640 degC the sum may be 25 to 30 % late; " + note
    return Answer(write_section(bar), rows, _MODEL, note, _TOUCH if end < 480 else "")


def _window(asked: Asked) -> Answer:
    bar, start, stop = asked.section("section"), asked.number("start"), asked.number("stop")
    by = asked.word("by")
    _believable(start, stop, 20.0)
    if stop >= start:
        raise CannotSum(f"it starts at {start:g} and stops at {stop:g} degC; start is the hotter")
    seconds = window_s(bar, start, stop, "still air" if by == "still" else by)
    spread = band(seconds, stop)
    rows = (
        Row("seconds", "about", seconds, "time"),
        Row("low_s", "between", spread.low_s, "time"),
        Row("high_s", "and", spread.high_s, "time"),
        Row("start_degc", "out of the fire at", start, "temperature"),
        Row("stop_degc", "work stops at", stop, "temperature"),
        Row("by", "by", by),
    )
    note = f"{CARRY_S:g} s from the fire to the first blow are not counted; {_BANDS}"
    return Answer(write_section(bar), rows, _MODEL, note)


def _rest(asked: Asked) -> Answer:
    bar, start, end = asked.section("section"), asked.number("from"), asked.number("to")
    medium, air = asked.word("medium").replace("-", " "), asked.number("air")
    _believable(start, end, air)
    rested = asked.number("rested")
    found = rest_verdict(
        bar, start, rested_s=rested, required_degc=end, medium=medium, air_degc=air
    )
    needed = found.needed_s / 60
    rows = (
        Row("verdict", "the rest was", found.word),
        Row("why", "because it is", found.why),
        Row("degc_at_end", "by the sum it is at", found.degc_at_end, "temperature"),
        Row("minutes_needed", "", needed),
        Row("needed_s", "it needs about", found.needed_s, "time"),
        Row("rested_s", "it had", rested, "time"),
        Row("low_s", "enough at the soonest after", found.low_s, "time"),
        Row("high_s", "sure after", found.high_s, "time"),
    )
    return Answer(write_section(bar), rows, _MODEL, _BANDS, _TOUCH)


def _heat(asked: Asked) -> Answer:
    bar, fire = asked.section("section"), asked.word("fire")
    start, end = asked.number("from"), asked.number("to")
    _believable(max(start, end), min(start, end), 20.0)
    if end <= start:
        raise CannotSum(f"it does not heat from {start:g} to {end:g} degC; --to is the hotter")
    seconds = heating_curve(bar, fire).seconds(start, end)
    low, high = heating_band(seconds)
    rows = [
        Row("seconds", "about", seconds, "time"),
        Row("look_s", "look after", look_s(bar, start, end, fire), "time"),
        Row("low_s", "between", low, "time"),
        Row("high_s", "and", high, "time"),
        Row("fire", "fire", fire),
        Row("to_degc", "to a mean of", end, "temperature"),
    ]
    if end < 1340:
        rows.append(
            Row("burns_s", "in a blown fire's heart it burns within", _burns(bar, end), "time")
        )
    source = "EN 1993-1-2 steel; radiation and convection of a fire"
    note = f"{_FIRES}; {100 * LOOK_SHARE:.0f} % of the time is when to look"
    return Answer(write_section(bar), tuple(rows), source, note, "thin ends run ahead and burn")


def _burns(bar: Section, degc: float) -> float:
    return burning_s(bar, degc)


def _believable(hot: float, cold: float, air: float) -> None:
    """Heats that steel and a shop can have."""
    if not -40 <= air <= 60:
        raise CannotSum(f"a shop is between -40 and 60 degC, not at {air:g}")
    for degc in (hot, cold):
        if not -40 <= degc <= HOTTEST_DEGC:
            raise CannotSum(f"steel is worked from -40 to {HOTTEST_DEGC:g} degC, not at {degc:g}")


_AIR = Field(
    name="air",
    says="how warm the room is",
    kind="temperature",
    default="20 degC",
    usual=("20 degC", "5 degC", "0 degC", "30 degC"),
)
_MEDIUM = Field(
    name="medium",
    says="where it cools",
    kind="word",
    choices=("still-air", "draught", "bed"),
    default="still-air",
    usual=("still-air", "draught", "bed"),
)


def _from(says: str, default: str = "") -> Field:
    return Field(
        name="from", says=says, kind="temperature", needed=not default, default=default, usual=HOT
    )


def _to(says: str, usual: tuple[str, ...]) -> Field:
    return Field(name="to", says=says, kind="temperature", needed=True, usual=usual)


SUMS = (
    Sum(
        "hot",
        "What a size gauged hot measures cold; with --cold what a cold size measures hot.",
        (
            Field(
                name="size",
                says="size between marks, gauged hot",
                kind="length",
                needed=True,
                bare=True,
                usual=("300 mm", "100 mm", "200 mm", *SHORT),
            ),
            Field(
                name="at", says="heat when it is gauged", kind="temperature", needed=True, usual=HOT
            ),
            Field(name="cold", says="the size is the cold one", kind="flag"),
        ),
        ('"300 mm" --at "900 degC"', '"300 mm" --at "900 degC" --cold'),
        _hot,
    ),
    Sum(
        "cool",
        "How long a bar takes to cool, by a model.",
        (
            section(),
            _from("mean heat at the start"),
            _to("mean heat at the end", COOL),
            _MEDIUM,
            _AIR,
        ),
        ('"12 mm square" --from "850 degC" --to "480 degC"',),
        _cool,
    ),
    Sum(
        "window",
        "Seconds of work in a heat: from the first blow until it is too cold.",
        (
            section(),
            Field(
                name="start",
                says="heat out of the fire",
                kind="temperature",
                default="1150 degC",
                usual=HOT,
            ),
            Field(
                name="stop",
                says="heat at which work stops",
                kind="temperature",
                default="850 degC",
                usual=("850 degC", "870 degC", "815 degC", "900 degC", "750 degC"),
            ),
            Field(
                name="by",
                says="how it is worked",
                kind="word",
                choices=("still", "hand", "striker", "power", "press"),
                default="hand",
                usual=("hand", "power", "still", "striker", "press"),
            ),
        ),
        ('"12 mm square" --start "1150 degC" --stop "850 degC" --by hand',),
        _window,
    ),
    Sum(
        "rest",
        "Whether a rest was long enough: ok, unsure, short or skipped.",
        (
            section(),
            _from("mean heat when the rest began"),
            _to("what it should come down to", COOL),
            Field(
                name="rested",
                says="how long it rested",
                kind="time",
                needed=True,
                usual=("5 min", "2 min", "3 min", "10 min", "20 min", "30 min", "1 h", "1 min"),
            ),
            _MEDIUM,
            _AIR,
        ),
        ('"12 mm square" --from "850 degC" --to "480 degC" --rested "2 min"',),
        _rest,
    ),
    Sum(
        "heat",
        "How long a bar takes to come to heat, and when to look.",
        (
            section(),
            Field(
                name="fire",
                says="which fire",
                kind="word",
                choices=("gas", "coke", "charcoal"),
                default="gas",
                usual=("gas", "coke", "charcoal"),
            ),
            _to("mean heat wanted", HOT),
            _from("where it begins", "20 degC")._replace(
                usual=("20 degC", "400 degC", "600 degC", "850 degC")
            ),
        ),
        ('"12 mm square" --fire gas --to "1150 degC"',),
        _heat,
    ),
)
