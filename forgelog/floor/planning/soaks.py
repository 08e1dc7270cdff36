"""Planned times of a heat from the sums of the trade, whole seconds, by section and method.

All are predictions of a model for a long bar of the section; the guard of the rule is for what
they miss.
"""

from __future__ import annotations

from functools import lru_cache

import msgspec

from forgelog.trade.cooling import cooling_curve, window_s
from forgelog.trade.errors import SumError
from forgelog.trade.heating import BURNS_DEGC, FIRES, LOOK_SHARE, heating_curve, reheat_s
from forgelog.trade.sections import Section

UNKNOWN_SOAK_S = 300
"""Where no sum brings this fire to this heat. Common practice: five minutes, then look."""
LEAST_HAND_S = 5
MOST_HAND_S = 240
"""A heat of a very thick bar is worked no longer than this in one go. Common practice."""
BELOW_FIRE_K = 25.0
"""A piece that comes so near to the fire's own heat has been in it too long. Common practice."""
_GONE_S = 60.0


class HeatTimes(msgspec.Struct, frozen=True, kw_only=True):
    """What one heat takes."""

    cold_s: int
    """From cold until it wants looking at."""
    reheat_s: int
    """The same straight from the anvil."""
    fade: int
    """Seconds out of the fire that cost one second more."""
    hand_s: int
    """At the anvil."""
    hold_s: int
    """From the look until it burns."""


@lru_cache(maxsize=512)
def heat_times(
    section: Section,
    start_degc: float,
    stop_degc: float,
    method: str,
    fire: str,
    air_degc: float,
) -> HeatTimes:
    """The times of a heat from `start_degc` to `stop_degc`.

    Args:
        section: What is worked.
        start_degc: At which it leaves the fire, mean.
        stop_degc: Where work stops.
        method: hand, striker, power, press.
        fire: Kind of fire.
        air_degc: Of the room.
    """
    try:
        hand = window_s(section, start_degc, stop_degc, method, air_degc)
    except SumError:
        hand = 30.0
    hand_s = round(min(MOST_HAND_S, max(LEAST_HAND_S, hand)))
    try:
        cold = reheat_s(section, air_degc, start_degc, fire)
        again = reheat_s(section, stop_degc, start_degc, fire)
        aside = cooling_curve(section, "still air", air_degc).degc_after(stop_degc, _GONE_S)
        later = reheat_s(section, aside, start_degc, fire)
        burns = spoils_s(section, start_degc, fire)
    except SumError:
        return HeatTimes(
            cold_s=UNKNOWN_SOAK_S,
            reheat_s=UNKNOWN_SOAK_S,
            fade=1,
            hand_s=hand_s,
            hold_s=UNKNOWN_SOAK_S // 2,
        )
    slower_s = max(0.1, LOOK_SHARE * (later - again))
    return HeatTimes(
        cold_s=round(LOOK_SHARE * cold),
        reheat_s=min(round(LOOK_SHARE * again), round(LOOK_SHARE * cold)),
        fade=max(1, round(_GONE_S / slower_s)),
        hand_s=hand_s,
        hold_s=max(0, round((1.0 - LOOK_SHARE) * again + burns)),
    )


def spoils_s(section: Section, from_degc: float, fire: str) -> float:
    """Seconds from a heat until a piece that waits in the fire is spoilt.

    Waiting pieces lie at the side, not in the heart of the blast, where they would burn in a
    quarter of the time; in a fire too cool to burn steel they scale and grow coarse.

    Args:
        section: What is worked.
        from_degc: Its mean temperature now.
        fire: Kind of fire.

    Raises:
        SumError: no such fire.
    """
    top = min(BURNS_DEGC, FIRES[fire].hot_degc) - BELOW_FIRE_K if fire in FIRES else BURNS_DEGC
    return heating_curve(section, fire).seconds(from_degc, top)
