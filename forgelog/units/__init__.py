"""Quantities as smiths write and read them: "12 mm", "1-1/8 in", "950 degC", "1 min 30 s".

Reading is exact: the text becomes a ratio of whole numbers and only the last step is a float,
so that what `write_length` writes is read back as the same number. Nothing is loaded for it.
"""

from __future__ import annotations

from forgelog.units.errors import ReadError, UnitError, plain
from forgelog.units.read import (
    LONGEST_TEXT,
    parse_length,
    parse_mass,
    parse_quantity,
    parse_temperature,
    parse_time,
)
from forgelog.units.scan import LIKE, Quantity, scan_quantity, tidy
from forgelog.units.show import (
    UnitSystem,
    show_clock,
    show_length,
    show_mass,
    show_temperature,
    show_time,
    write_length,
    write_number,
)

__all__ = [
    "LIKE",
    "LONGEST_TEXT",
    "Quantity",
    "ReadError",
    "UnitError",
    "UnitSystem",
    "parse_length",
    "parse_mass",
    "parse_quantity",
    "parse_temperature",
    "parse_time",
    "plain",
    "scan_quantity",
    "show_clock",
    "show_length",
    "show_mass",
    "show_temperature",
    "show_time",
    "tidy",
    "write_length",
    "write_number",
]
