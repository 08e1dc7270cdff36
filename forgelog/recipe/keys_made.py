"""The keys of each table of a recipe and what they hold: made from `written.py`, not by hand.

    python -m tests.recipe.making_keys

makes it anew. To read the hints themselves would take longer than to check a recipe. What a key
holds is a tuple that begins with its sort:

    text    title, fewest letters, most letters, pattern     truth
    whole   least, most                                      choice  the words
    number  least, most                                      table   name of its class
    list    most, what each of it holds                      either  two sorts or more
    tables  most, pattern of a name, what each of it holds

Where there is no limit stands None.
"""

from __future__ import annotations

from typing import Any

Holds = tuple[Any, ...]


KEYS: dict[str, tuple[tuple[str, ...], dict[str, tuple[str, Holds]]]] = {}
"""Of each table: the fields that must be there; of each key its field."""
