"""Which parts of the program have made the index, and what is told from it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

import forgelog

_TOLD_BY = (
    *("desk/review*.py", "desk/learn*.py", "desk/lessons.py", "desk/trends.py"),
    "floor/settings.py",
    *("recipe/plain.py", "recipe/prose.py", "recipe/method_words.py", "trade/words.py"),
    "units/*.py",
)
"""Parts whose change may change what is told from the index, and nothing in it."""
_MADE_BY = (
    *("work/**/*.py", "learn/*.py", "book/*.py"),
    *("recipe/resolved.py", "recipe/kinds.py", "trade/sections.py"),
)
"""Parts of the program whose change may change what the index holds."""


@lru_cache
def fingerprint() -> str:
    """Of the program's parts that make the index: one that was made by others is made again."""
    return _of_sources(_MADE_BY)


@lru_cache
def fingerprint_of_telling() -> str:
    """Of the parts that put into words what the index holds."""
    return _of_sources(_TOLD_BY)


def _of_sources(parts: Iterable[str]) -> str:
    told = hashlib.sha256(forgelog.__version__.encode())
    folder = Path(forgelog.__file__).parent
    # A packed copy has no sources to read; its version has to do.
    for path in sorted(path for part in parts for path in folder.glob(part)):
        told.update(path.read_bytes())
    return told.hexdigest()
