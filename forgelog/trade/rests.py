"""Was a rest kept? A careful verdict on a prediction that has a spread.

The spread: x/÷ 1.25 where the end is at 250 degC or above, 1.6 below it and in a draught, 2.0 in
a bed. Only what is sure even at the kind end of the spread is called ok, and only what is sure
at its hard end is called skipped: the words ask, they never accuse.
"""

from __future__ import annotations

import math

import msgspec

from forgelog.trade.cooling import CoolingCurve, cooling_curve
from forgelog.trade.errors import SumError
from forgelog.trade.marks import PEARLITE_DONE_DEGC as PEARLITE_DONE_DEGC
from forgelog.trade.sections import Section

WORDS = ("ok", "unsure", "short", "skipped")

REST_MEDIA = ("still air", "draught", "bed", "fire")
"""Places of a rest. The banked fire has no sum of its own: it is no faster than a bed."""


class Verdict(msgspec.Struct, frozen=True, kw_only=True):
    """What may be said of one rest."""

    word: str
    """ok, unsure, short or skipped."""
    degc_at_end: float | None
    """Mean temperature at the end by the model; None for a rest of so many minutes."""
    needed_s: float
    """Time that the rest needs by the model, or as the recipe says."""
    low_s: float
    """Shortest time in which it may have been enough."""
    high_s: float
    """Time after which it is sure."""
    why: str
    """One short line for the smith."""


def rest_verdict(
    section: Section,
    start_degc: float,
    *,
    rested_s: float,
    required_degc: float | None = None,
    required_s: float | None = None,
    medium: str = "still air",
    air_degc: float = 20.0,
) -> Verdict:
    """Judge one rest.

    Args:
        section: The bar that cooled.
        start_degc: Mean temperature when the rest began.
        rested_s: How long it rested. s.
        required_degc: What it should come down to; or
        required_s: how long it should have rested, where the recipe gives a time. s.
        medium: still air, draught, bed or fire.
        air_degc: Of the room.

    Raises:
        SumError: not exactly one of required_degc and required_s, or no such medium.
    """
    if (required_degc is None) == (required_s is None):
        raise SumError("a rest waits for a temperature or for a time, one of the two")
    if medium not in REST_MEDIA:
        raise SumError(f'there is no rest in "{medium}"; there is {", ".join(REST_MEDIA)}')
    if required_s is not None:
        return _by_time(rested_s, required_s)
    assert required_degc is not None
    curve = cooling_curve(section, "bed" if medium == "fire" else medium, air_degc)
    if start_degc <= required_degc:
        return Verdict(
            word="ok",
            degc_at_end=curve.degc_after(start_degc, rested_s),
            needed_s=0.0,
            low_s=0.0,
            high_s=0.0,
            why="it was cool enough before",
        )
    return _by_heat(curve, start_degc, required_degc, rested_s, medium)


def spread(required_degc: float, medium: str = "still air") -> float:
    """By how much a predicted cooling time may be out, as a factor either way."""
    if medium in ("bed", "fire"):
        return 2.0
    if medium == "draught" or required_degc < 250:
        return 1.6
    return 1.25


def cycle_counts(
    section: Section,
    *,
    reached_degc: float,
    ac3_degc: float | None,
    rested_s: float,
    medium: str = "still air",
    air_degc: float = 20.0,
    air_hardening: bool = False,
) -> Verdict:
    """Judge one normalising cycle: above Ac3, cooled in still air, below 540 degC before work.

    Args:
        section: The bar.
        reached_degc: Heat that it was brought to, as judged.
        ac3_degc: Of the grade (the top of its range); None where the steel is not known.
        rested_s: How long it cooled. s.
        medium: Where it cooled.
        air_degc: Of the room.
        air_hardening: True for a grade that hardens in air, which is outside this sum.

    Returns:
        ok counts, unsure stays unsure; short and skipped do not count.
    """
    if reached_degc <= PEARLITE_DONE_DEGC:
        return _not_counted("skipped", "it never came to heat")
    cooled = rest_verdict(
        section,
        reached_degc,
        rested_s=rested_s,
        required_degc=PEARLITE_DONE_DEGC,
        medium=medium,
        air_degc=air_degc,
    )
    if air_hardening:
        return msgspec.structs.replace(cooled, word="unsure", why="this steel hardens in air")
    if ac3_degc is None and cooled.word in ("ok", "unsure"):
        return msgspec.structs.replace(cooled, word="unsure", why="the steel is not known")
    if ac3_degc is not None and reached_degc < ac3_degc:
        return msgspec.structs.replace(
            cooled, word="short", why=f"{reached_degc:.0f} degC is below Ac3, {ac3_degc:.0f}"
        )
    if medium != "still air":
        return msgspec.structs.replace(cooled, word="short", why="it did not cool in still air")
    return cooled


def _by_time(rested_s: float, required_s: float) -> Verdict:
    share = rested_s / required_s if required_s > 0 else math.inf
    if share >= 0.95:
        word, why = "ok", "it had its time"
    elif share < 0.10:
        word, why = "skipped", "it had next to no time"
    else:
        word, why = "short", f"it had {share * 100:.0f} % of its time"
    return Verdict(
        word=word,
        degc_at_end=None,
        needed_s=required_s,
        low_s=0.95 * required_s,
        high_s=0.95 * required_s,
        why=why,
    )


def _by_heat(
    curve: CoolingCurve, start_degc: float, required_degc: float, rested_s: float, medium: str
) -> Verdict:
    factor = spread(required_degc, medium)
    needed_s = curve.seconds(start_degc, required_degc)
    fallen = start_degc - curve.degc_after(start_degc, rested_s * factor)
    # the banked fire keeps a piece hot as long as it glows, so there is no time after which it is
    # sure that the piece has cooled
    high_s = math.inf if medium == "fire" else needed_s * factor
    if rested_s >= high_s and needed_s < math.inf:
        word, why = "ok", "long enough, even if it cooled slowly"
    elif fallen < 0.25 * (start_degc - required_degc):
        word, why = "skipped", "hardly cooler than when it began, even if it cooled fast"
    elif rested_s < needed_s / factor:
        word, why = "short", "too short, even if it cooled fast"
    else:
        word, why = "unsure", "about the time it needs: look, and feel near it"
    return Verdict(
        word=word,
        degc_at_end=curve.degc_after(start_degc, rested_s),
        needed_s=needed_s,
        low_s=needed_s / factor,
        high_s=high_s,
        why=why,
    )


def _not_counted(word: str, why: str) -> Verdict:
    return Verdict(
        word=word, degc_at_end=None, needed_s=math.inf, low_s=math.inf, high_s=math.inf, why=why
    )
