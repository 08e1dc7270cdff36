"""The words of the trade in both usages, UK and US.

Recipes may use either; the book's dialect is what is shown. Whole words are swapped, never parts
of words, and only where the two usages differ.
"""

from __future__ import annotations

import re
from functools import lru_cache

DIALECTS = ("uk", "us")

WORDS: dict[str, tuple[str, str]] = {
    "draw_down": ("draw down", "draw out"),
    "drawing_down": ("drawing down", "drawing out"),
    "drawn_down": ("drawn down", "drawn out"),
    "set_down": ("set down", "set down"),
    "upset": ("upset", "upset"),
    "hot_cut": ("hot set", "hot cut"),
    "hardy": ("hardie", "hardy"),
    "hardies": ("hardies", "hardies"),
    "swage": ("swage", "swage"),
    "fuller": ("fuller", "fuller"),
    "post_vice": ("leg vice", "post vise"),
    "vice": ("vice", "vise"),
    "pritchel": ("pritchel", "pritchel"),
    "hardie_hole": ("hardie hole", "hardy hole"),
    "slack_tub": ("water bosh", "slack tub"),
    "bosh": ("bosh", "slack tub"),
    "drift": ("drift", "drift"),
    "punch": ("punch", "punch"),
    "slitter": ("slitter", "slitter"),
    "mandrel": ("mandrel", "mandrel"),
    "helper": ("striker", "striker"),
    "normalise": ("normalise", "normalize"),
    "normalised": ("normalised", "normalized"),
    "normalising": ("normalising", "normalizing"),
    "anneal": ("anneal", "anneal"),
    "gauge": ("gauge", "gage"),
    "gauges": ("gauges", "gages"),
    "gauged": ("gauged", "gaged"),
    "gauging": ("gauging", "gaging"),
    "colour": ("colour", "color"),
    "colours": ("colours", "colors"),
    "grey": ("grey", "gray"),
    "centre": ("centre", "center"),
    "centres": ("centres", "centers"),
    "aluminium": ("aluminium", "aluminum"),
    "mould": ("mould", "mold"),
    "galvanise": ("galvanise", "galvanize"),
    "galvanised": ("galvanised", "galvanized"),
}
"""UK and US usage by our own id. Common practice; "jump up" and "shoulder" are read as well."""

ALSO = {"jump up": "upset", "jumped up": "upset", "mate": "helper", "bick": "mandrel"}
"""Other words that mean one of ours."""


_ONE_WAY = ("hot_cut",)
"""A hot cut is also what any smith calls the deed, so it is never turned into the UK tool."""


def say(word_id: str, dialect: str = "uk") -> str:
    """A word of the trade in a dialect.

    Raises:
        KeyError: no such id: a fault of the program, not of a smith.
        ValueError: no such dialect.
    """
    return WORDS[word_id][DIALECTS.index(dialect)]


def in_dialect(text: str, dialect: str = "uk") -> str:
    """A text with the words of the other usage swapped for those of a dialect.

    Only whole words; a capital at the beginning is kept.

    Raises:
        ValueError: no such dialect.
    """
    pattern, swaps = _swaps(dialect)
    return pattern.sub(lambda match: _keep_case(match[0], swaps[match[0].lower()]), text)


@lru_cache(maxsize=2)
def _swaps(dialect: str) -> tuple[re.Pattern[str], dict[str, str]]:
    here = DIALECTS.index(dialect)
    swaps = {
        pair[1 - here]: pair[here]
        for word_id, pair in WORDS.items()
        if pair[0] != pair[1] and (here == 1 or word_id not in _ONE_WAY)
    }
    longest = sorted(swaps, key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(longest)})(?!\w)", re.IGNORECASE), swaps


def _keep_case(found: str, word: str) -> str:
    return word[0].upper() + word[1:] if found[:1].isupper() else word
