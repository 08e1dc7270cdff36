"""How a forging method is called: in a sentence, and by itself."""

from __future__ import annotations

METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "under the power hammer",
    "press": "under the press",
}
"""After what is done: "draw the tenon under the power hammer"."""

METHOD_NAMES = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "power hammer",
    "press": "press",
}
"""By itself: a choice, the head of the floor."""
