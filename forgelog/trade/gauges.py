"""Wire and sheet gauges. A number alone means nothing: 14 is 2.03, 1.90 or 1.63 mm."""

from __future__ import annotations

import re

from forgelog.trade.errors import SumError

_SWG_THOU = (
    *(324, 300, 276, 252, 232, 212, 192, 176, 160, 144, 128, 116, 104, 92, 80, 72, 64, 56, 48),
    *(40, 36, 32, 28, 24, 22, 20, 18, 16.4, 14.8, 13.6, 12.4),
)
_US_TEN_THOU = (
    *(2391, 2242, 2092, 1943, 1793, 1644, 1495, 1345, 1196, 1046, 897, 747, 673, 598, 538, 478),
    *(418, 359, 329, 299, 269, 239, 209, 179, 164, 149, 135, 120),
)

GAUGES: dict[str, dict[int, float]] = {
    "SWG": {number: thou * 0.0254 for number, thou in enumerate(_SWG_THOU)},
    "US": {number + 3: ten * 0.00254 for number, ten in enumerate(_US_TEN_THOU)},
    "AWG": {number: 0.127 * 92.0 ** ((36 - number) / 39) for number in range(31)},
}
"""mm by number. Sources: SWG, BS 3737; US, Manufacturers' Standard Gauge for steel sheet (from
memory, 41.82 lb/ft2 an inch); AWG, ASTM B258, which is for wire that is not iron."""

_TEXT = re.compile(r"(?:(\d{1,2}) ?(?:ga|gauge|g)?\.? ?)?(swg|us|awg)(?: ?(\d{1,2}))?", re.ASCII)


def gauge_mm(number: int, table: str) -> float:
    """Thickness or diameter of a gauge, mm.

    Args:
        number: 0 to 30; US begins at 3.
        table: SWG, US or AWG.

    Raises:
        SumError: no such table or number.
    """
    known = GAUGES.get(table.upper())
    if known is None:
        raise SumError(f'a gauge is SWG, US or AWG, not "{table}"')
    if number not in known:
        raise SumError(f"{table.upper()} goes from {min(known)} to {max(known)}, not to {number}")
    return known[number]


def parse_gauge(text: str) -> float:
    """Read "14 SWG", "SWG 14" or "16 gauge US". Returns mm.

    Raises:
        SumError: the table is not named, or has no such number.
    """
    match = _TEXT.fullmatch(" ".join(text[:40].lower().split()))
    number = (match[1] or match[3]) if match else None
    if match is None or number is None or (match[1] and match[3]):
        raise SumError(f'"{text[:40]}" is no gauge; write its table too, like "14 SWG" or "16 US"')
    return gauge_mm(int(number), match[2])


def near_gauge(mm: float, table: str) -> int:
    """The gauge nearest to a thickness.

    Raises:
        SumError: no such table.
    """
    known = GAUGES.get(table.upper())
    if known is None:
        raise SumError(f'a gauge is SWG, US or AWG, not "{table}"')
    return min(known, key=lambda number: abs(known[number] - mm))
