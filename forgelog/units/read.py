"""Reading of lengths, temperatures, times and masses."""

from __future__ import annotations

from forgelog.units.errors import UnitError
from forgelog.units.scan import LIKE, Quantity, read_at, reads, tidy

LONGEST_TEXT = 60
"""A quantity of more letters than this is refused unread."""


def parse_length(text: str) -> float:
    """Read a length.

    Args:
        text: "12 mm", "1 1/8 in", '3/8"', "2 ft 3 1/2 in".

    Returns:
        mm, 0 or more.

    Raises:
        UnitError: the text is no length; says what was found, expected and meant.
    """
    return _parse(text, "length").value


def parse_temperature(text: str) -> float:
    """Read a temperature: "870 degC", "1600 °F". A bare C or F is refused. Returns degC.

    Raises:
        UnitError: the text is no temperature.
    """
    return _parse(text, "temperature").value


def parse_time(text: str) -> float:
    """Read a time: "35 s", "10 min", "1 h 20 min". Returns seconds.

    Raises:
        UnitError: the text is no time.
    """
    return _parse(text, "time").value


def parse_mass(text: str) -> float:
    """Read a mass: "1.2 kg", "2 lb 8 oz". Returns kg.

    Raises:
        UnitError: the text is no mass.
    """
    return _parse(text, "mass").value


def parse_quantity(text: str) -> Quantity:
    """Read a quantity of any kind that a smith uses; "m" is the metre, "min" the minute.

    Raises:
        UnitError: the text is no quantity.
    """
    return _parse(text, "")


def _parse(text: str, kind: str) -> Quantity:
    expected = LIKE.get(kind, 'a number with its unit, like "12 mm" or "870 degC"')
    if len(text) > LONGEST_TEXT:
        raise UnitError(text, f"is longer than {LONGEST_TEXT} letters", expected)
    body = tidy(text)
    below = body[:1] in ("-", "−")
    if below:
        body = body[1:].lstrip()
    try:
        read = read_at(body, 0, below=below)
    except UnitError as error:
        raise UnitError(text, error.problem, error.expected) from None
    if read is None or read[1] != len(body):
        from forgelog.units.refuse import why_not

        refusal = why_not(text, body, kind, expected)
        if refusal.hint and not reads(refusal.hint):
            refusal.hint = ""
        if refusal.hint and below and kind == "temperature":
            refusal.hint = f"-{refusal.hint}"
        raise refusal
    quantity = read[0]
    if kind and quantity.kind != kind:
        from forgelog.units.refuse import other_unit

        raise UnitError(text, f"is a {quantity.kind}", expected, other_unit(body, kind))
    if below and quantity.kind != "temperature":
        raise UnitError(text, "is below nothing", expected)
    return quantity
