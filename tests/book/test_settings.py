from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.book.new_book import SHOP, STOCK, TOOLS
from forgelog.book.saw_settings import SawSettings, Substitute
from forgelog.book.settings import (
    Bar,
    BookSettings,
    FirePlace,
    OwnTool,
    ShopSettings,
    read_settings,
    read_shop,
    read_stock,
    read_tools,
)
from forgelog.money.amounts import Currency
from forgelog.money.rates import Rates
from forgelog.trade.sections import Section
from forgelog.units import UnitSystem


def uncommented(text: str) -> bytes:
    """The file with its example lines switched on, as a smith would do."""
    rows = []
    for row in text.splitlines():
        example = row.removeprefix("# ")
        rows.append(example if " = " in example or example.startswith("[") else row)
    return "\n".join(rows).encode()


def test_a_book_without_settings_has_the_defaults(tmp_path: Path) -> None:
    assert read_settings(tmp_path) == BookSettings()


def test_the_shop_is_read() -> None:
    shop, problems = read_shop(
        b"""
name = "Our forge"
dialect = "us"
units = "inch"
light = "day"
air = "50 degF"
currency = "usd"
methods = ["power", "hand"]
alarms_off = ["rest", "look"]
[[fire]]
id = "hearth"
kind = "coke"
places = 2
heat = "1350 degC"
[[fire]]
id = "gas"
name = "two-burner"
"""
    )
    assert problems == ()
    assert shop == ShopSettings(
        name="Our forge",
        dialect="us",
        units=UnitSystem.INCH,
        light="day",
        air_degc=10.0,
        currency="USD",
        methods=("power", "hand"),
        alarms_off=frozenset({"rest", "look"}),
        fires=(
            FirePlace(id="hearth", name="hearth", kind="coke", places=2, degc=1350.0),
            FirePlace(id="gas", name="two-burner"),
        ),
        rates=Rates(currency=Currency(code="USD")),
        saw=SawSettings(bar_mm=6096.0),
    )


def test_tools_are_known_by_each_of_their_names() -> None:
    tools, problems = read_tools(
        b"""
[[tool]]
name = "16 mm mandrel"
also = ["Eye mandrel", "bick 16"]
state = "to be repaired"
[[tool]]
id = "jig"
name = "hook jig"
jig = true
setting = "pin at 60 mm"
"""
    )
    assert problems == ()
    assert tools[0].ids == ("16-mm-mandrel", "eye-mandrel", "bick-16")
    assert tools[1] == OwnTool(id="jig", name="hook jig", jig=True, setting="pin at 60 mm")
    assert tools[1].ids == ("jig", "hook-jig")


def test_bars_and_offcuts_are_read() -> None:
    bars, problems = read_stock(
        b"""
[[bar]]
section = "25 x 12 mm flat"
long = "3 m"
count = 2
[[offcut]]
label = "B2"
section = "1 in square"
long = "14 in"
where = "box"
"""
    )
    assert problems == ()
    flat = Section(kind="flat", a_mm=25.0, b_mm=12.0)
    square = Section(kind="square", a_mm=25.4)
    assert bars == (
        Bar(section=flat, long_mm=3000.0, count=2),
        Bar(section=square, long_mm=355.6, label="B2", where="box", offcut=True),
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('dialect = "fr"', 'shop.toml:1: dialect is "fr"; write uk or us, in quotes'),
        ('unit = "mm"', "shop.toml:1: unit is no key that is known here"),
        ('air = "18"', 'shop.toml:1: air is "18", which has no unit; write a temperature'),
        ('currency = "12"', 'shop.toml:1: currency is "12"; write the three letters'),
        ("[[fire]]\nplaces = 0", "shop.toml:1: fire 1: the fire has no id"),
        ("[[fire]]\nplaces = 0", "shop.toml:2: fire 1: places is 0; write a whole number from 1"),
        ('[[fire]]\nid="a"\n[[fire]]\nid="a"', 'shop.toml:4: fire 2: id is "a", like fire 1'),
        ('name = "x', "shop.toml:1: the quotes are not closed"),
        ("name = \xff", "shop.toml:1: byte"),
    ],
)
def test_what_is_wrong_in_the_shop_file_is_told_with_its_line(text: str, says: str) -> None:
    _, problems = read_shop(text.encode("latin-1"))
    assert any(p.text.startswith(says) for p in problems), [p.text for p in problems]


def test_one_fault_hides_neither_another_nor_what_is_sound() -> None:
    shop, problems = read_shop(
        b'name = "Our forge"\ndialect = "fr"\nunits = 3\nlight = "day"\n'
        b'[[fire]]\nid = "gas"\nplaces = 99\n'
    )
    assert len(problems) == 3
    assert (shop.name, shop.dialect, shop.units, shop.light) == ("Our forge", "uk", "mm", "day")
    assert shop.fires == (FirePlace(name="gas"),)


def test_a_bar_that_cannot_be_read_is_left_out_and_told() -> None:
    bars, problems = read_stock(
        b'[[bar]]\nsection = "25 x 12"\nlong = "3 m"\n'
        b'[[bar]]\nsection = "12 mm round"\nlong = "2 m"\n'
    )
    assert [b.long_mm for b in bars] == [2000.0]
    assert [p.line for p in problems] == [2]


def test_a_folder_in_the_place_of_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "tools.toml").mkdir()
    (problem,) = read_settings(tmp_path).problems
    assert "tools.toml: the file cannot be read" in problem.text


@given(st.binary(max_size=200))
def test_any_bytes_give_settings_and_no_fault(data: bytes) -> None:
    shop, _ = read_shop(data)
    assert shop.fires
    assert shop.methods
    read_tools(data)
    read_stock(data)


@pytest.mark.parametrize("text", [SHOP, TOOLS, STOCK])
def test_the_files_of_a_new_book_are_sound_with_and_without_their_examples(text: str) -> None:
    read = {SHOP: read_shop, TOOLS: read_tools, STOCK: read_stock}[text]
    assert read(text.encode())[1] == ()
    values, problems = read(uncommented(text))
    assert problems == ()
    assert values != read(b"")[0]


def test_the_saw_is_read_and_a_bar_that_will_do_in_place_of_another() -> None:
    shop, problems = read_shop(
        b'[saw]\nkerf = "1.6 mm"\nbar = "3 m"\nleast = "8 in"\n'
        b'[[substitute]]\nplanned = "12 mm square"\nbar = "1/2 in square"\n'
    )
    assert problems == ()
    assert (shop.saw.kerf_mm, shop.saw.bar_mm) == (1.6, 3000.0)
    assert shop.saw.least_mm == pytest.approx(203.2)
    assert shop.saw.substitutes == (
        Substitute(
            planned=Section(kind="square", a_mm=12.0), bar=Section(kind="square", a_mm=12.7)
        ),
    )


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ('kerf = "30 mm"', "is wider than 10 mm"),
        ('bar = "0 mm"', "is no length"),
        ('least = "short"', "short"),
    ],
)
def test_a_saw_that_cannot_be_is_reported_and_the_usual_one_taken(line: str, found: str) -> None:
    shop, problems = read_shop(f"[saw]\n{line}\n".encode())
    assert shop.saw == SawSettings()
    assert len(problems) == 1
    assert problems[0].line == 2
    assert found in problems[0].text
