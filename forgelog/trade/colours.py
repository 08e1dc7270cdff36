"""What a temperature looks like: heat colours and temper colours, as ranges.

They are guides. Published tables differ by up to 300 degC for one word, shop light changes what
is seen, and an eye sees the surface, which is cooler than the middle of the bar.
"""

from __future__ import annotations

from itertools import pairwise

import msgspec

from forgelog.trade.colour_tables import HEAT_TABLES


class Look(msgspec.Struct, frozen=True, kw_only=True):
    """A word for a heat and the span in which it is used, degC."""

    word: str
    low_degc: float
    high_degc: float
    source: str


_OURS = {"cherry red": "red", "light cherry red": "bright red", "yellow white": "light yellow"}


def _one_table() -> tuple[Look, ...]:
    table = HEAT_TABLES[0]
    ends = [low for _, low, _ in table.rows[1:]] + [table.rows[-1][2]]
    return tuple(
        Look(word=_OURS.get(word, word), low_degc=low, high_degc=end, source=table.source)
        for (word, low, _), end in zip(table.rows, ends, strict=True)
    )


HEAT_COLOURS = _one_table()
"""One table from end to end: its cherry red is our red, light cherry red our bright red, and
yellow white our light yellow."""

SPREADS = {
    "black red": (426.0, 594.0),
    "dark red": (532.0, 815.0),
    "red": (677.0, 900.0),
    "bright red": (843.0, 982.0),
    "orange": (899.0, 1200.0),
    "yellow": (950.0, 1258.0),
    "light yellow": (1050.0, 1315.0),
    "white": (1150.0, 1400.0),
}
"""How far the tables reach for a word: Chapman 1972; Stirling, A Book of Steam (1905, the Pouillet
scale); Taylor and White 1899 and Howe 1900 (both from memory)."""

SEEN_FROM_DEGC = {"dim": 474.0, "day": 525.0, "sun": 581.0}
"""Glow is first seen in twilight, daylight and sunlight. Source: Pouillet scale with conditions."""

_COLVIN = "Colvin and Juthe, The Working of Steel (1922), five sources"

TEMPER_COLOURS = (
    Look(word="faint yellow", low_degc=220, high_degc=230, source=_COLVIN),
    Look(word="light straw", low_degc=230, high_degc=246, source=_COLVIN),
    Look(word="dark straw", low_degc=232, high_degc=260, source=_COLVIN),
    Look(word="brown purple", low_degc=250, high_degc=270, source="British workshop table"),
    Look(word="purple", low_degc=265, high_degc=277, source=_COLVIN),
    Look(word="dark purple", low_degc=277, high_degc=291, source=_COLVIN),
    Look(word="blue", low_degc=293, high_degc=307, source=_COLVIN),
    Look(word="dark blue", low_degc=307, high_degc=316, source="Butt, The Tinman's Manual"),
    Look(word="grey blue", low_degc=330, high_degc=371, source="engineering dictionary"),
)
"""On clean plain carbon steel, after some minutes at heat; chromium steels colour later, and an
hour at one heat runs on to the next colours. A general encyclopaedia has faint yellow at 176."""


def heat_words(degc: float, light: str = "dim") -> str:
    """What a heat looks like, as one or two words: "orange", "orange to yellow", "no colour".

    A word within 40 K of its edge is shown with its neighbour, because neither eye nor table is
    better than that.

    Args:
        degc: Temperature of the surface.
        light: dim (shop light) or day; daylight hides the lowest heats, and in it everything
            looks about one word duller.
    """
    if degc < SEEN_FROM_DEGC.get(light, SEEN_FROM_DEGC["dim"]):
        return "no colour"
    words = []
    for place, look in enumerate(HEAT_COLOURS):
        last = place == len(HEAT_COLOURS) - 1
        if look.low_degc - 40 < degc < look.high_degc + 40 or (last and degc >= look.high_degc):
            words.append(look.word)
    if light == "day":
        names = [look.word for look in HEAT_COLOURS]
        words = [names[max(0, names.index(word) - 1)] for word in words]
    return words[0] if words[0] == words[-1] else f"{words[0]} to {words[-1]}"


def heat_look(degc: float) -> Look:
    """The word of the one table for a heat, with its span and source; black below it."""
    for look in HEAT_COLOURS:
        if look.low_degc <= degc < look.high_degc:
            return look
    if degc < HEAT_COLOURS[0].low_degc:
        low = HEAT_COLOURS[0].low_degc
        return Look(word="black", low_degc=-273, high_degc=low, source=HEAT_COLOURS[0].source)
    return HEAT_COLOURS[-1]


def temper_words(degc: float) -> str:
    """The temper colour that a clean piece takes at a heat: "dark straw", or "none"."""
    words = [look.word for look in TEMPER_COLOURS if look.low_degc <= degc <= look.high_degc]
    if words:
        return words[0] if len(words) == 1 else f"{words[0]} to {words[-1]}"
    if degc < TEMPER_COLOURS[0].low_degc:
        return "none"
    for before, after in pairwise(TEMPER_COLOURS):
        if before.high_degc < degc < after.low_degc:
            return f"{before.word} to {after.word}"
    return "grey"
