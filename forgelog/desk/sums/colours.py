"""Heat colours and temper colours, as each published table has them."""

from __future__ import annotations

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import HOT
from forgelog.recipe.plain import did_you_mean, quoted
from forgelog.trade.colour_tables import (
    HEAT_TABLES,
    TEMPER_TABLES,
    ColourTable,
    rows_called,
    words_at,
)
from forgelog.trade.colours import SEEN_FROM_DEGC, heat_words, temper_words
from forgelog.units import UnitError, parse_temperature

_HEAT_NOTE = (
    "guides: tables differ by up to 300 degC for one word, and shop light changes what is seen"
)
_TEMPER_NOTE = (
    "on clean plain carbon steel after some minutes; an hour at one heat runs on to the next "
    "colours, chromium steels colour later; test on a scrap"
)


def _colour(asked: Asked) -> Answer:
    text = asked.word("what")
    light = asked.word("light")
    degc = _degc(text)
    if degc is None:
        return _called(text, HEAT_TABLES, _HEAT_NOTE)
    if not -40 <= degc <= 1600:
        raise CannotSum(f"colours are told from -40 to 1600 degC, not at {degc:g}")
    seen = heat_words(degc, light)
    rows = (
        Row("name", "it looks", seen),
        Row("degc", "at", degc, "temperature"),
        Row("light", "in", f"{light} light" if light == "dim" else "daylight"),
        Row("seen_from_degc", "a glow is seen from", SEEN_FROM_DEGC[light], "temperature"),
        *_by_table(degc, HEAT_TABLES),
    )
    return Answer(text, rows, "; ".join(t.source for t in HEAT_TABLES), _HEAT_NOTE)


def _temper_colour(asked: Asked) -> Answer:
    text = asked.word("what")
    degc = _degc(text)
    if degc is None:
        return _called(text, TEMPER_TABLES, _TEMPER_NOTE)
    if not -40 <= degc <= 700:
        raise CannotSum(f"temper colours are told from -40 to 700 degC, not at {degc:g}")
    rows = (
        Row("name", "it colours", temper_words(degc)),
        Row("degc", "at", degc, "temperature"),
        *_by_table(degc, TEMPER_TABLES),
    )
    return Answer(text, rows, "; ".join(t.source for t in TEMPER_TABLES), _TEMPER_NOTE)


def _by_table(degc: float, tables: tuple[ColourTable, ...]) -> tuple[Row, ...]:
    found = [(table.source, words_at(table, degc) or "below the table") for table in tables]
    listed = [{"source": source, "name": name} for source, name in found]
    lines = (Row("", source.split(",")[0].split(" (")[0], name) for source, name in found)
    return (Row("tables", "", listed), *lines)


def _called(text: str, tables: tuple[ColourTable, ...], note: str) -> Answer:
    found = rows_called(tables, text)
    if not found:
        words = sorted({word for table in tables for word, _, _ in table.rows})
        hint = did_you_mean(text, words)
        known = ", ".join(words)
        problem = f"{quoted(text)} is no heat and no colour of the tables; they have {known}"
        raise CannotSum(f"{problem}\n    {hint}" if hint else problem)
    low, high = min(one[2] for one in found), max(one[3] for one in found)
    listed = [
        {"source": source, "name": name, "low_degc": a, "high_degc": b}
        for source, name, a, b in found
    ]
    lines = (
        Row("", f"{name}, {source.split(',')[0].split(' (')[0]}", [a, b], "temperature")
        for source, name, a, b in found
    )
    rows = (
        Row("", "somewhere from", [low, high], "temperature"),
        Row("low_degc", "", low),
        Row("high_degc", "", high),
        Row("tables", "", listed),
        *lines,
    )
    return Answer(text, rows, "; ".join(dict.fromkeys(one[0] for one in found)), note)


def _degc(text: str) -> float | None:
    """The heat that a text gives; None of a text that is a colour."""
    if not any(sign.isdigit() for sign in text):
        return None
    try:
        return parse_temperature(text)
    except UnitError as error:
        raise CannotSum(f"{error}; or a colour, like cherry red") from None


_LIGHT = Field(
    name="light",
    says="dim shop light, or day",
    kind="word",
    choices=("dim", "day"),
    default="dim",
    usual=("dim", "day"),
)

SUMS = (
    Sum(
        "colour",
        "What a heat looks like by each table; or the heats of a colour's name.",
        (
            Field(
                name="what",
                says="a heat or the name of a colour",
                kind="text",
                needed=True,
                bare=True,
                usual=(*HOT, "800 degC", "700 degC", "cherry red", "orange", "yellow"),
            ),
            _LIGHT,
        ),
        ('"1000 degC"', '"cherry red"'),
        _colour,
    ),
    Sum(
        "temper-colour",
        "The colour of a temper by each table; or the heats of a colour's name.",
        (
            Field(
                name="what",
                says="a heat or the name of a colour",
                kind="text",
                needed=True,
                bare=True,
                usual=("230 degC", "250 degC", "270 degC", "290 degC", "300 degC", "dark straw"),
            ),
        ),
        ('"250 degC"', '"dark straw"'),
        _temper_colour,
    ),
)
