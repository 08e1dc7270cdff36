"""The library of units, loaded only when a measure is to be turned into another."""

from __future__ import annotations

from functools import lru_cache
from typing import Any


@lru_cache(maxsize=1)
def registry() -> Any:
    """The units of pint, in which a difference of temperatures is a unit of its own."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
