"""How the shop saws, from shop.toml: kerf, new bars, the least rest, and substitutes."""

from __future__ import annotations

import msgspec

from forgelog.book.settings_written import WrittenShop
from forgelog.book.toml_file import TomlFile
from forgelog.recipe.problems import Fault
from forgelog.trade.bars import BAR_M
from forgelog.trade.sections import Section, parse_section
from forgelog.trade.stock import KERF_MM
from forgelog.units import parse_length

LEAST_MM = 150.0
"""A shorter rest is not worth a label, where shop.toml says nothing: common practice."""
WIDEST_KERF_MM = 10.0
"""No saw of a forge cuts wider."""


class Substitute(msgspec.Struct, frozen=True, kw_only=True):
    """A bar that may be taken in place of another."""

    planned: Section
    bar: Section


class SawSettings(msgspec.Struct, frozen=True, kw_only=True):
    """What a cut list goes by."""

    kerf_mm: float = KERF_MM
    bar_mm: float = 1000 * BAR_M["uk"]
    least_mm: float = LEAST_MM
    substitutes: tuple[Substitute, ...] = ()


def saw_of(file: TomlFile[WrittenShop]) -> SawSettings:
    """The saw of a shop, its faults reported to the file."""
    shop = file.written
    usual = SawSettings(bar_mm=1000 * BAR_M[shop.dialect])
    saw = shop.saw
    kerf = file.quantity(("saw", "kerf"), saw.kerf or "", parse_length, usual.kerf_mm)
    if kerf > WIDEST_KERF_MM:
        found, expected = "is wider than 10 mm", "write the width of one saw cut"
        file.report(("saw", "kerf"), Fault(found=found, expected=expected))
        kerf = usual.kerf_mm
    bar = file.quantity(("saw", "bar"), saw.bar or "", parse_length, usual.bar_mm)
    if not bar > 0.0:
        found, expected = "is no length", 'write how long a new bar is, like "6 m"'
        file.report(("saw", "bar"), Fault(found=found, expected=expected))
        bar = usual.bar_mm
    return SawSettings(
        kerf_mm=kerf,
        bar_mm=bar,
        least_mm=file.quantity(("saw", "least"), saw.least or "", parse_length, usual.least_mm),
        substitutes=tuple(_substitutes(file)),
    )


def _substitutes(file: TomlFile[WrittenShop]) -> list[Substitute]:
    nothing = Section(kind="", a_mm=0.0)
    found = []
    for number, row in enumerate(file.written.substitute):
        at = ("substitute", number)
        planned = file.quantity((*at, "planned"), row.planned, parse_section, nothing)
        bar = file.quantity((*at, "bar"), row.bar, parse_section, nothing)
        if planned.kind and bar.kind and planned != bar:
            found.append(Substitute(planned=planned, bar=bar))
    return found
