"""Ranges of heat, what a rest waits for, times and masses, out of the words of a recipe."""

from __future__ import annotations

import re
from functools import lru_cache

import msgspec

from forgelog.recipe.expressions import unit_fault
from forgelog.recipe.plain import did_you_mean, quoted
from forgelog.recipe.problems import Fault
from forgelog.trade.marks import BLACK_DEGC, HAND_WARM_DEGC, HOTTEST_DEGC, PEARLITE_DONE_DEGC
from forgelog.units import UnitError, parse_mass, parse_temperature, parse_time

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.trade.steels import Grade

COLD_DEGC = 25.0
"""As cold as the shop. Common practice."""
NORMALISED_DEGC = PEARLITE_DONE_DEGC
"""A normalise cools in still air to below this before the next heat."""

COLDEST_DEGC = 20.0
"""The shop's own heat: below it no range of heat is believed, nor above `HOTTEST_DEGC`."""

USUAL_START_DEGC = 1150.0
"""Where forging starts when nothing is said, even of steel that stands more. Common practice."""

UNTIL = {"black": BLACK_DEGC, "hand-warm": HAND_WARM_DEGC, "cold": COLD_DEGC}
"""The words for a rest's end."""

MEDIA = {
    "still air": "still air",
    "draught": "draught",
    "ash": "bed",
    "vermiculite": "bed",
    "sand": "bed",
    "fire": "fire",
}
"""The places to rest in, as a recipe names them, and how the sums see them."""

_GOALS = 'write black, hand-warm, cold, a heat like "400 degC" or a time like "10 min"'

_TO = r"\s+(?:to|down to|–|-)\s+"


class Goal(msgspec.Struct, frozen=True, kw_only=True):
    """What a rest waits for: a temperature or a time."""

    until: str
    degc: float | None = None
    seconds: float | None = None


@lru_cache(maxsize=256)
def rest_goal(text: str) -> Goal | Fault:
    """Read a rest's end: "black", "hand-warm", "cold", "400 degC" or "10 min"."""
    word = " ".join(text.lower().replace("hand warm", "hand-warm").split())
    if word in UNTIL:
        return Goal(until=word, degc=UNTIL[word])
    if re.match(r"[\d.-]", word):
        return _measured(text.strip())
    return Fault(found=f"is {quoted(text)}", expected=_GOALS, hint=did_you_mean(word, UNTIL))


def _measured(text: str) -> Goal | Fault:
    try:
        seconds = parse_time(text)
    except UnitError as error:
        try:
            degc = parse_temperature(text)
        except UnitError:
            words = unit_fault(error)
            return Fault(found=words.found, expected=_GOALS)
        if COLDEST_DEGC <= degc < HOTTEST_DEGC:
            return Goal(until=text, degc=degc)
        return _out_of_range(text)
    if seconds <= 0:
        return Fault(found=f"is {quoted(text)}, which is no time at all", expected="make it longer")
    return Goal(until=text, seconds=seconds)


@lru_cache(maxsize=256)
def heat_range(text: str) -> tuple[float, float] | Fault:
    """Read a range of heat: "1150 degC to 850 degC", or "1150 to 850 degC". Returns degC."""
    parts = re.split(_TO, text.strip())
    if len(parts) != 2:
        return Fault(
            found=f"is {quoted(text)}",
            expected='write where to start and where to stop, like "1150 degC to 850 degC"',
        )
    first, last = parts
    if re.fullmatch(r"\d+(\.\d+)?", first) and (unit := re.search(r"[^\d\s.].*$", last)):
        first = f"{first} {unit[0]}"
    try:
        start, stop = parse_temperature(first), parse_temperature(last)
    except UnitError as error:
        return unit_fault(error)
    for degc, part in ((start, first), (stop, last)):
        if not COLDEST_DEGC <= degc <= HOTTEST_DEGC:
            return _out_of_range(part)
    if stop >= start:
        return Fault(
            found=f"is {quoted(text)}, which does not cool",
            expected="write the hotter one first",
            hint=f"did you mean {quoted(f'{last} to {first}')}?" if stop > start else "",
        )
    return start, stop


def usual_range(steel: Grade | None) -> tuple[float, float] | None:
    """Where to start and stop with a steel when the recipe does not say, degC; None if unknown.

    The cooler start and the hotter stop of what the sources say, and no hotter than usual.
    """
    if steel is None or steel.start is None or steel.stop is None:
        return None
    return min(steel.start.low, USUAL_START_DEGC), steel.stop.high


@lru_cache(maxsize=256)
def heat(text: str) -> float | Fault:
    """Read the heat of a heat treatment: "870 degC". Returns degC."""
    try:
        degc = parse_temperature(text)
    except UnitError as error:
        return unit_fault(error)
    return degc if COLDEST_DEGC <= degc <= HOTTEST_DEGC else _out_of_range(text)


@lru_cache(maxsize=256)
def mass_of(text: str) -> float | Fault:
    """Read a mass: "90 g". Returns kg, more than 0."""
    try:
        kg = parse_mass(text)
    except UnitError as error:
        return unit_fault(error)
    if kg <= 0:
        return Fault(found=f"is {quoted(text)}, which is no mass at all", expected="leave it out")
    return kg


@lru_cache(maxsize=256)
def seconds_of(text: str) -> float | Fault:
    """Read a planned time: "10 min". Returns seconds."""
    try:
        return parse_time(text)
    except UnitError as error:
        return unit_fault(error)


def _out_of_range(text: str) -> Fault:
    return Fault(
        found=f"has {quoted(text)}",
        expected=f"steel is worked between {COLDEST_DEGC:g} and {HOTTEST_DEGC:g} degC",
    )
