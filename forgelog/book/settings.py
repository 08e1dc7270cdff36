"""The shop as its settings files have it: name, units, fires, tools, bars.

These files are the smith's and are never written to. A file that is not there means the defaults;
one with faults gives all that is sound in it, and the faults.
"""

from __future__ import annotations

from pathlib import Path

import msgspec

from forgelog.book.money_settings import rates_of
from forgelog.book.saw_settings import SawSettings, saw_of
from forgelog.book.settings_written import (
    WrittenBar,
    WrittenFire,
    WrittenRack,
    WrittenShop,
    WrittenTools,
)
from forgelog.book.toml_file import TomlFile, bytes_of
from forgelog.money.rates import Rates
from forgelog.recipe.plain import quoted
from forgelog.recipe.problems import Fault, Problem
from forgelog.recipe.slugs import slug
from forgelog.trade.sections import Section, parse_section
from forgelog.units import UnitSystem, parse_length, parse_temperature
from forgelog.work.bar import Bar

AIR_DEGC = 20.0
"""Where shop.toml says nothing."""


class FirePlace(msgspec.Struct, frozen=True, kw_only=True):
    """A fire of the shop."""

    id: str = "gas"
    name: str = "gas"
    kind: str = "gas"
    """gas, coke or charcoal."""
    places: int = 3
    degc: float | None = None
    """How hot it runs; None where the shop does not say."""


class ShopSettings(msgspec.Struct, frozen=True, kw_only=True):
    """shop.toml."""

    name: str = ""
    who: str = ""
    dialect: str = "uk"
    units: UnitSystem = UnitSystem.MM
    currency: str = ""
    light: str = "dim"
    air_degc: float = AIR_DEGC
    methods: tuple[str, ...] = ("hand",)
    """The usual one first."""
    alarms_off: frozenset[str] = frozenset()
    fires: tuple[FirePlace, ...] = (FirePlace(),)
    """The usual one first; never empty."""
    rates: Rates = Rates()
    """What is charged and paid; all that is not set is None."""
    saw: SawSettings = SawSettings()
    """What a cut list goes by."""


class OwnTool(msgspec.Struct, frozen=True, kw_only=True):
    """A tool or jig of tools.toml."""

    id: str
    name: str
    also: tuple[str, ...] = ()
    state: str = "have"
    setting: str = ""
    jig: bool = False

    @property
    def ids(self) -> tuple[str, ...]:
        """Every id by which a recipe may ask for it."""
        return tuple(dict.fromkeys((self.id, slug(self.name), *map(slug, self.also))))


class BookSettings(msgspec.Struct, frozen=True, kw_only=True):
    """All three files, with what is wrong in them."""

    shop: ShopSettings = ShopSettings()
    tools: tuple[OwnTool, ...] = ()
    bars: tuple[Bar, ...] = ()
    problems: tuple[Problem, ...] = ()


def read_settings(book: Path) -> BookSettings:
    """Read the settings of a book. Never raises.

    Args:
        book: The book's folder.
    """
    problems: list[Problem] = []

    def data(name: str) -> bytes:
        found, problem = bytes_of(book / name)
        problems.extend([problem] if problem else [])
        return found

    shop, shop_problems = read_shop(data("shop.toml"))
    tools, tool_problems = read_tools(data("tools.toml"))
    bars, bar_problems = read_stock(data("stock.toml"))
    return BookSettings(
        shop=shop,
        tools=tools,
        bars=bars,
        problems=(*problems, *shop_problems, *tool_problems, *bar_problems),
    )


def read_shop(data: bytes, name: str = "shop.toml") -> tuple[ShopSettings, tuple[Problem, ...]]:
    """shop.toml from its bytes, and everything that is wrong with it."""
    file = TomlFile(WrittenShop, data, name)
    shop = file.written
    if shop.currency and not (len(shop.currency) == 3 and shop.currency.isalpha()):
        found = f"is {quoted(shop.currency)}"
        expected = 'write the three letters of a currency, like "EUR"'
        file.report(("currency",), Fault(found=found, expected=expected))
    _ids_differ(file, "fire", [f.id for f in shop.fire])
    fires = [_fire(file, i, f) for i, f in enumerate(shop.fire) if f.id]
    currency = shop.currency.upper()
    known = len(currency) == 3 and currency.isalpha()
    settings = ShopSettings(
        name=shop.name or "",
        who=shop.who or "",
        dialect=shop.dialect,
        units=UnitSystem(shop.units),
        currency=currency,
        light=shop.light,
        air_degc=file.quantity(("air",), shop.air or "", parse_temperature, AIR_DEGC),
        methods=tuple(dict.fromkeys(m for m in shop.methods if m)) or ("hand",),
        alarms_off=frozenset(shop.alarms_off),
        fires=tuple(fires) or (FirePlace(),),
        rates=rates_of(file, currency if known else ""),
        saw=saw_of(file),
    )
    return settings, file.problems


def read_tools(
    data: bytes, name: str = "tools.toml"
) -> tuple[tuple[OwnTool, ...], tuple[Problem, ...]]:
    """tools.toml from its bytes, and everything that is wrong with it."""
    file = TomlFile(WrittenTools, data, name)
    tools = tuple(
        OwnTool(
            id=tool.id or slug(tool.name),
            name=tool.name,
            also=tuple(n for n in tool.also if n),
            state=tool.state,
            setting=tool.setting,
            jig=tool.jig,
        )
        for tool in file.written.tool
    )
    _ids_differ(file, "tool", [t.id for t in tools])
    return tuple(t for t in tools if t.name), file.problems


def read_stock(
    data: bytes, name: str = "stock.toml"
) -> tuple[tuple[Bar, ...], tuple[Problem, ...]]:
    """stock.toml from its bytes, and everything that is wrong with it."""
    file = TomlFile(WrittenRack, data, name)
    bars = [
        bar
        for key, rows in (("bar", file.written.bar), ("offcut", file.written.offcut))
        for number, row in enumerate(rows)
        if (bar := _bar(file, (key, number), row)) is not None
    ]
    return tuple(bars), file.problems


def _fire(file: TomlFile[WrittenShop], number: int, fire: WrittenFire) -> FirePlace:
    degc = file.quantity(("fire", number, "heat"), fire.heat or "", _degc, None)
    return FirePlace(
        id=fire.id,
        name=fire.name or fire.id,
        kind=fire.kind,
        places=fire.places,
        degc=degc,
    )


def _degc(text: str) -> float | None:
    return parse_temperature(text)


def _bar(file: TomlFile[WrittenRack], at: tuple[str, int], row: WrittenBar) -> Bar | None:
    nothing = Section(kind="", a_mm=0.0)
    section = file.quantity((*at, "section"), row.section, parse_section, nothing)
    long_mm = file.quantity((*at, "long"), row.long, parse_length, 0.0)
    if not section.kind or long_mm <= 0:
        return None
    return Bar(
        section=section,
        long_mm=long_mm,
        count=row.count,
        steel=row.steel,
        label=row.label,
        where=row.where,
        offcut=at[0] == "offcut",
    )


def _ids_differ(
    file: TomlFile[WrittenShop] | TomlFile[WrittenTools], key: str, ids: list[str]
) -> None:
    for number, one in enumerate(ids):
        if one and one in ids[:number]:
            found = f"is {quoted(one)}, like {key} {ids.index(one) + 1}"
            at = (key, number, "id")
            file.report(at, Fault(found=found, expected="give each an id of its own"))
