"""Short names made of words: the id of a step that has none, and of a tool."""

from __future__ import annotations

import re

from forgelog.recipe.written import WrittenStep


def slug(words: str) -> str:
    """The words in small letters, digits and dashes: "Set down the pin" is "set-down-the-pin".

    Letters of other scripts are kept, so that no two names of a smith's own language fall
    together; accents are kept as well.
    """
    text = words
    if not words.isascii():
        from unicodedata import normalize

        text = normalize("NFC", words)
    text = text.casefold()
    return re.sub(r"[^\w]+|_+", "-", text).strip("-")[:60]


def step_slugs(step: WrittenStep) -> tuple[str, ...]:
    """The ids of a step, one for each cycle: its own, else its words as a slug."""
    name = step.id or slug(step.do)
    if step.cycles == 1:
        return (name,)
    return tuple(f"{name}-{cycle}" for cycle in range(1, step.cycles + 1))
