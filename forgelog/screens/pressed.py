"""From the name of a key as the terminal tells it to the key that the floor knows."""

from __future__ import annotations

from collections.abc import Mapping

_NAMES = {
    "space": "space",
    "enter": "enter",
    "ctrl+m": "enter",
    "ctrl+j": "enter",
    "newline": "enter",
    "return": "enter",
    "kp_enter": "enter",
    "tab": "tab",
    "ctrl+i": "tab",
    "kp_tab": "tab",
    "backspace": "backspace",
    "ctrl+h": "backspace",
    "kp_space": "space",
    "question_mark": "?",
    "shift+question_mark": "?",
    "up": "up",
    "down": "down",
    "left": "left",
    "right": "right",
    "escape": "escape",
}

_LETTERS = frozenset("rcgnmpvqh")


def key_for(name: str, character: str | None, learnt: Mapping[str, str]) -> str:
    """The floor's key for a key event, or "" where it is none.

    What a pedal was taught comes first, so that a pedal which sends letters works too.

    Args:
        name: The event's name for the key.
        character: What it prints, where it prints something.
        learnt: Names of keys that stand for one of the four on this device.
    """
    if name in learnt:
        return learnt[name]
    if name in _NAMES:
        return _NAMES[name]
    if character is not None and len(character) == 1:
        sign = character.lower()
        if sign in "123456789" or sign in _LETTERS or sign == "?":
            return sign
        if sign == " ":
            return "space"
    for digit in "123456789":
        if name in (digit, f"kp_{digit}"):
            return digit
    return ""
