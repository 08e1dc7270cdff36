"""How a sum says that it has no answer."""

from __future__ import annotations


class SumError(ValueError):
    """A sum that was asked for something that cannot be; the message is in the smith's words."""


def positive(name: str, value: float, unit: str) -> float:
    """The value itself, where it can be.

    Args:
        name: What it is called in the message: "length".
        value: What was given.
        unit: Its unit, for the message.

    Raises:
        SumError: it is not above 0, or has no end: "the length is 0 mm; it must be above 0".
    """
    if not 0 < value < float("inf"):
        raise SumError(f"the {name} is {value:g} {unit}; it must be above 0")
    return value
