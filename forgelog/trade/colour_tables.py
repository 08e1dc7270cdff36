"""What published tables call a heat and a temper: each table from end to end, with its source.

They differ by up to 300 degC for one word. A single figure is given as a span of no width.
"""

from __future__ import annotations

from typing import NamedTuple


class ColourTable(NamedTuple):
    """One published table."""

    source: str
    rows: tuple[tuple[str, float, float], ...]
    """Word, from, to, degC, the coolest first."""


def _f(degf: float) -> float:
    return (degf - 32) / 1.8


def _points(source: str, rows: tuple[tuple[str, float], ...]) -> ColourTable:
    return ColourTable(source, tuple((word, degc, degc) for word, degc in rows))


HEAT_TABLES = (
    ColourTable(
        "Chapman, Workshop Technology 1 (1972)",
        (
            ("black red", 426, 593),
            ("very dark red", 594, 704),
            ("dark red", 705, 814),
            ("cherry red", 815, 870),
            ("light cherry red", 871, 981),
            ("orange", 982, 1092),
            ("yellow", 1093, 1258),
            ("yellow white", 1259, 1314),
            ("white", 1315, 1500),
        ),
    ),
    _points(
        "Stirling, A Book of Steam (1905), the Pouillet scale",
        (
            ("red just visible", 525),
            ("dull red", 699),
            ("dull cherry red", 800),
            ("full cherry red", 900),
            ("clear cherry red", 1000),
            ("deep orange", 1100),
            ("clear orange", 1200),
            ("white heat", 1300),
            ("bright white", 1400),
            ("dazzling white", 1500),
        ),
    ),
    _points(
        "Taylor and White (1899) (from memory)",
        (
            ("dark blood red", 532),
            ("dark red", 566),
            ("dark cherry red", 635),
            ("medium cherry red", 677),
            ("cherry red", 746),
            ("light cherry red", 843),
            ("orange", 899),
            ("light orange", 941),
            ("yellow", 996),
            ("light yellow", 1079),
            ("white", 1204),
        ),
    ),
    ColourTable(
        "Howe (1900) (from memory)",
        (
            ("lowest visible in the dark", 470, 470),
            ("lowest visible in daylight", 475, 475),
            ("dull red", 550, 625),
            ("full cherry red", 700, 700),
            ("light red", 850, 850),
            ("full yellow", 950, 1000),
            ("light yellow", 1050, 1050),
            ("white", 1150, 1150),
        ),
    ),
)
"""Heat colours. The two rows of the Pouillet scale at 800 and 1000 are from memory."""

TEMPER_TABLES = (
    ColourTable(
        "Colvin and Juthe, The Working of Steel (1922), five sources",
        (
            ("faint yellow", _f(430), _f(430)),
            ("light straw", _f(450), _f(475)),
            ("dark straw", _f(450), _f(500)),
            ("reddish purple", _f(510), _f(530)),
            ("bluish purple", _f(550), _f(555)),
            ("blue", _f(560), _f(585)),
        ),
    ),
    _points(
        "Butt, The Tinman's Manual (19th century)",
        (
            ("straw", _f(450)),
            ("darker straw", _f(470)),
            ("yellow", _f(490)),
            ("brown yellow", _f(500)),
            ("slightly tinged purple", _f(520)),
            ("purple", _f(530)),
            ("dark purple", _f(550)),
            ("blue", _f(570)),
            ("dark blue", _f(600)),
        ),
    ),
    _points(
        "British workshop table",
        (
            ("pale yellow", 230),
            ("dark straw", 240),
            ("brown", 250),
            ("brown purple", 260),
            ("purple", 270),
            ("dark purple", 280),
            ("blue", 300),
        ),
    ),
    _points(
        "general encyclopaedia table",
        (
            ("faint yellow", 176),
            ("light straw", 205),
            ("dark straw", 226),
            ("brown", 260),
            ("purple", 282),
            ("dark blue", 310),
            ("light blue", 337),
            ("grey blue", 371),
        ),
    ),
)
"""Temper colours on clean plain carbon steel, after some minutes at heat. The rows at 226 of the
encyclopaedia and at 240 and 270 of the workshop table are from memory."""


def words_at(table: ColourTable, degc: float) -> str:
    """What a table calls a heat: its word, or the two between which it lies.

    Args:
        table: A published table.
        degc: Temperature of the surface.

    Returns:
        "orange", "dull red to full cherry red"; "" below the table's first row.
    """
    below = ""
    for word, low, high in table.rows:
        if low <= degc <= high or (below and high == low and abs(degc - low) < 10):
            return word
        if degc < low:
            return f"{below} to {word}" if below else ""
        below = word
    return f"{below} or hotter"


def rows_called(tables: tuple[ColourTable, ...], word: str) -> list[tuple[str, str, float, float]]:
    """Every row of the tables that goes by a word: source, word, low and high, degC.

    The same word, full, medium or clear; where no table has it, every row with all its words.
    """
    wanted = set(word.lower().replace("-", " ").split())
    rows = [(table.source, *row) for table in tables for row in table.rows]
    found = [row for row in rows if set(row[1].split()) - _JUST_SO == wanted - _JUST_SO]
    if found and wanted - _JUST_SO:
        exact = [row for row in found if set(row[1].split()) == wanted]
        return exact if wanted & _JUST_SO and exact else found
    return [row for row in rows if wanted and wanted <= set(row[1].split())]


_JUST_SO = {"full", "medium", "clear"}
"""A full cherry red is what another table calls cherry red."""
