"""Heats of a piece of work, blows, and fuel."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.recipe.plain import did_you_mean, quoted
from forgelog.trade.fuel import blow_joules, drop_joules, fuel_kg, heat_kj
from forgelog.trade.heats import (
    HAMMERS,
    Guess,
    draw_heats,
    flatten_heats,
    guess_range,
    punch_heats,
    upset_heats,
)
from forgelog.trade.sections import parse_section
from forgelog.units import parse_length

_LIKES = {
    "draw": "draw 12 mm square to 8 mm square x 150 mm",
    "upset": "upset 20 mm square from 60 mm to 40 mm",
    "flatten": "flatten 12 mm square to 18 x 6 mm flat x 80 mm",
    "punch": "punch 10 mm through 20 mm square",
}
_CROSS = re.compile(r" ?[x×*] ?")


def _heats(asked: Asked) -> Answer:
    text, by = asked.word("work"), asked.word("by")
    verb, _, rest = text.partition(" ")
    verb = {"tenon": "draw", "taper": "draw", "spread": "flatten", "drift": "punch"}.get(
        verb.lower(), verb.lower()
    )
    reader = _WORKS.get(verb)
    if reader is None:
        hint = did_you_mean(verb, _WORKS)
        words = f"{quoted(text)} is no work that the sum knows; write it like"
        likes = "".join(f"\n    {like}" for like in _LIKES.values())
        raise CannotSum(f"{words}{likes}" + (f"\n    {hint}" if hint else ""))
    guess = reader(rest, by)
    low, high = guess_range(guess)
    rows = (
        Row("heats", "heats, at least" if guess.at_least else "heats, about", guess.heats, "whole"),
        Row("low", "most often from", low, "whole"),
        Row("high", "to", high, "whole"),
        Row("expected", "middle of the guess", guess.expected, "text"),
        Row("blows", "blows", guess.blows, "whole"),
        Row("window_s", "working time of a heat", guess.window_s, "time"),
        Row("at_least", "", guess.at_least),
        Row("by", "by", by),
    )
    note = "rough starting guess: the recipe's own figure, and then your log, come before it"
    if guess.at_least:
        note += "; with a hammer of power the energy is not what limits it"
    source = "work of forming with the flow stress of Shida 1969 at 1000 degC; factor 1.5 stated"
    return Answer(text, rows, source, note)


def _draw(text: str, by: str) -> Guess:
    before, after, long = _from_to(text, "draw")
    return draw_heats(parse_section(before), parse_section(after), parse_length(long), by)


def _flatten(text: str, by: str) -> Guess:
    before, after, long = _from_to(text, "flatten")
    return flatten_heats(parse_section(before), parse_section(after), parse_length(long), by)


def _upset(text: str, by: str) -> Guess:
    match = re.fullmatch(r"(.+) from (.+) to (.+)", text.strip())
    if match is None:
        raise _unlike(text, "upset")
    return upset_heats(parse_section(match[1]), parse_length(match[2]), parse_length(match[3]), by)


def _punch(text: str, by: str) -> Guess:
    across, sign, bar = text.partition(" through ")
    if not sign:
        raise _unlike(text, "punch")
    return punch_heats(parse_section(bar), parse_length(across), method=by)


def _from_to(text: str, verb: str) -> tuple[str, str, str]:
    before, sign, rest = text.partition(" to ")
    crosses = list(_CROSS.finditer(rest))
    if not sign or not crosses:
        raise _unlike(text, verb)
    last = crosses[-1]
    return before, rest[: last.start()], rest[last.end() :]


def _unlike(text: str, verb: str) -> CannotSum:
    return CannotSum(f"{quoted(text)} cannot be read; write it like\n    {_LIKES[verb]}")


_WORKS: dict[str, Callable[[str, str], Guess]] = {
    "draw": _draw,
    "upset": _upset,
    "flatten": _flatten,
    "punch": _punch,
}


def _blow(asked: Asked) -> Answer:
    kg = asked.number("hammer")
    speed, fall = asked.maybe("speed"), asked.maybe("drop")
    if speed is not None and fall is not None:
        raise CannotSum("a blow has --speed or --drop, one of the two")
    if fall is not None:
        joules = drop_joules(kg, fall)
        speed = math.sqrt(2 * joules / kg)
    else:
        speed = HAMMERS["hand"].speed_m_s if speed is None else speed
        joules = blow_joules(kg, speed)
    rows = (
        Row("energy_j", "energy of a blow", joules, "energy"),
        Row("speed_m_s", "speed", f"{speed:.3g} m/s"),
        Row("mass_kg", "hammer", kg, "mass"),
        Row("hand_blows", "blows by hand that come to it", joules / HAMMERS["hand"].joules, "text"),
    )
    note = "7 m/s by hand is taken where no speed is given; a drop is free fall without friction"
    return Answer(f"{kg:g} kg", rows, "m v^2 / 2; m g h with g 9.80665", note)


def _fuel(asked: Asked) -> Answer:
    fire, seconds = asked.word("fire"), asked.number("for")
    count = asked.number("burners")
    if count != int(count) or not 1 <= count <= 20:
        raise CannotSum(f"a forge has 1 to 20 burners, not {count:g}")
    burnt = fuel_kg(fire, seconds, int(count))
    rows = [
        Row("", "fuel, about", [burnt.low, burnt.high], "fuel"),
        Row("low_kg", "", burnt.low),
        Row("high_kg", "", burnt.high),
        Row("fire", "fire", fire),
        Row("seconds", "for", seconds, "time"),
    ]
    kg = asked.maybe("steel")
    if kg is not None:
        into = heat_kj(kg, 20.0, asked.number("to"))
        rows.append(Row("heat_kj", "heat that goes into the steel", into, "heat"))
        rows.append(Row("steel_kg", "steel", kg, "mass"))
    note = "the shop's own figure, from weighing the bottle or the bag, comes first"
    source = f"{burnt.source}; heat in steel by EN 1993-1-2"
    return Answer(fire, tuple(rows), source, note)


SUMS = (
    Sum(
        "heats",
        "A rough first guess at the heats of a piece of work, before there is a log.",
        (
            Field(
                name="work",
                says="draw, upset, flatten or punch, and what",
                kind="text",
                needed=True,
                bare=True,
                usual=tuple(_LIKES.values()),
            ),
            Field(
                name="by",
                says="who strikes",
                kind="word",
                choices=("hand", "striker", "power", "press"),
                default="hand",
                usual=("hand", "power", "striker", "press"),
            ),
        ),
        (f'"{_LIKES["draw"]}" --by hand', f'"{_LIKES["punch"]}"'),
        _heats,
    ),
    Sum(
        "blow",
        "Energy of a hammer's blow.",
        (
            Field(
                name="hammer",
                says="mass of hammer or ram",
                kind="mass",
                needed=True,
                bare=True,
                usual=("1.2 kg", "1 kg", "1.5 kg", "3.5 kg", "5 kg", "25 kg", "50 kg"),
            ),
            Field(
                name="speed", says="speed when it strikes", kind="speed", usual=("7 m/s", "8 m/s")
            ),
            Field(
                name="drop", says="how far it falls freely", kind="length", usual=("300 mm", "1 m")
            ),
        ),
        ('"1.2 kg" --speed "7 m/s"', '"25 kg" --drop "1.4 m"'),
        _blow,
        one_of=("speed", "drop"),
    ),
    Sum(
        "fuel",
        "Fuel that a time of fire takes, and the heat that goes into steel.",
        (
            Field(
                name="fire",
                says="which fire",
                kind="word",
                choices=("gas", "coke"),
                default="gas",
                usual=("gas", "coke"),
            ),
            Field(
                name="for",
                says="how long it burns",
                kind="time",
                needed=True,
                usual=("3 h", "1 h", "2 h", "4 h", "6 h", "8 h"),
            ),
            Field(
                name="burners",
                says="burners of a gas forge",
                kind="number",
                default="1",
                usual=("1", "2", "3", "4"),
            ),
            Field(name="steel", says="steel that is heated", kind="mass", usual=("1 kg", "5 kg")),
            Field(
                name="to",
                says="heat that the steel is brought to",
                kind="temperature",
                default="1150 degC",
                usual=("1150 degC", "1000 degC", "850 degC"),
            ),
        ),
        ('--fire gas --for "3 h" --burners 2', '--fire coke --for "4 h" --steel "6 kg"'),
        _fuel,
    ),
)
