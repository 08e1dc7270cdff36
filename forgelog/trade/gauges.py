"""Wire and sheet gauges. A number alone means nothing: 14 is 2.11, 2.03, 1.90 or 1.63 mm."""

from __future__ import annotations

import re

from forgelog.trade.errors import SumError

_SWG_THOU = (
    *(500, 464, 432, 400, 372, 348),
    *(324, 300, 276, 252, 232, 212, 192, 176, 160, 144, 128, 116, 104, 92, 80, 72, 64, 56, 48),
    *(40, 36, 32, 28, 24, 22, 20, 18, 16.4, 14.8, 13.6, 12.4),
)
_US_TEN_THOU = (
    *(2391, 2242, 2092, 1943, 1793, 1644, 1495, 1345, 1196, 1046, 897, 747, 673, 598, 538, 478),
    *(418, 359, 329, 299, 269, 239, 209, 179, 164, 149, 135, 120),
)
_BWG_THOU = (
    *(454, 425, 380),
    *(340, 300, 284, 259, 238, 220, 203, 180, 165, 148, 134, 120, 109, 95, 83, 72, 65, 58, 49),
    *(42, 35, 32, 28, 25, 22, 20, 18, 16, 14, 13, 12),
)
_STEEL_WIRE_TEN_THOU = (
    *(4900, 4615, 4305, 3938, 3625, 3310),
    *(3065, 2830, 2625, 2437, 2253, 2070, 1920, 1770, 1620, 1483, 1350, 1205, 1055, 915, 800, 720),
    *(625, 540, 475, 410, 348, 317, 286, 258, 230, 204, 181, 173, 162, 150, 140),
)

GAUGES: dict[str, dict[int, float]] = {
    "SWG": {number - 6: thou * 0.0254 for number, thou in enumerate(_SWG_THOU)},
    "US": {number + 3: ten * 0.00254 for number, ten in enumerate(_US_TEN_THOU)},
    "AWG": {number: 0.127 * 92.0 ** ((36 - number) / 39) for number in range(-3, 41)},
    "BWG": {number - 3: thou * 0.0254 for number, thou in enumerate(_BWG_THOU)},
    "USW": {number - 6: ten * 0.00254 for number, ten in enumerate(_STEEL_WIRE_TEN_THOU)},
}
"""mm by number; 2/0 stands at -1, 3/0 at -2 and so on."""

SOURCES = {
    "SWG": "imperial standard wire gauge, BS 3737",
    "US": "US Manufacturers' Standard Gauge for steel sheet, 41.82 lb/ft2 an inch (from memory)",
    "AWG": "American wire gauge, ASTM B258, for wire that is not iron",
    "BWG": "Birmingham wire gauge, for tube walls (from memory)",
    "USW": "US steel wire gauge (from memory)",
}
"""Where each table comes from."""

_TEXT = re.compile(
    r"(?:(\d{1,2}|[2-7]/0|0{2,7}) ?(?:ga|gauge|g)?\.? ?)?(swg|usw|us|awg|bwg)"
    r"(?: ?(?:gauge )?(\d{1,2}|[2-7]/0|0{2,7}))?",
    re.ASCII,
)


def gauge_mm(number: int, table: str) -> float:
    """Thickness or diameter of a gauge, mm.

    Args:
        number: 0 to 30, 2/0 as -1; US begins at 3.
        table: SWG, US, AWG, BWG or USW.

    Raises:
        SumError: no such table or number.
    """
    known = _table(table)
    if number not in known:
        low, high = _number_words(min(known)), max(known)
        problem = f"{table.upper()} goes from {low} to {high}, not to {_number_words(number)}"
        raise SumError(problem)
    return known[number]


def read_gauge(text: str) -> tuple[str, int]:
    """The table and number of "14 SWG", "SWG 14", "2/0 SWG" or "16 gauge US".

    Raises:
        SumError: the table is not named, or there is no number.
    """
    match = _TEXT.fullmatch(" ".join(text[:40].lower().split()))
    number = (match[1] or match[3]) if match else None
    if match is None or number is None or (match[1] and match[3]):
        from forgelog.units.errors import plain

        raise SumError(
            f'"{plain(text)}" is no gauge; write its table too, like "14 SWG" or "16 US"'
        )
    return match[2].upper(), _number(number)


def parse_gauge(text: str) -> float:
    """Read "14 SWG", "SWG 14" or "16 gauge US". Returns mm.

    Raises:
        SumError: the table is not named, or has no such number.
    """
    table, number = read_gauge(text)
    return gauge_mm(number, table)


def near_gauge(mm: float, table: str) -> int:
    """The gauge nearest to a thickness.

    Raises:
        SumError: no such table.
    """
    known = _table(table)
    return min(known, key=lambda number: abs(known[number] - mm))


def gauge_name(number: int, table: str) -> str:
    """As it is written: "14 SWG", "2/0 SWG"."""
    return f"{_number_words(number)} {table.upper()}"


def _table(table: str) -> dict[int, float]:
    known = GAUGES.get(table.upper())
    if known is None:
        raise SumError(f'a gauge is SWG, US, AWG, BWG or USW, not "{table[:20]}"')
    return known


def _number(text: str) -> int:
    if text.endswith("/0"):
        return 1 - int(text[0])
    return 1 - len(text) if set(text) == {"0"} and len(text) > 1 else int(text)


def _number_words(number: int) -> str:
    return str(number) if number >= 0 else f"{1 - number}/0"
