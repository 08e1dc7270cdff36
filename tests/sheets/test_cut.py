"""The cut list on paper: every piece has its mark and its box."""

from __future__ import annotations

from forgelog.desk.clock import FakeClock
from forgelog.desk.cut import cut_of
from forgelog.desk.orders import find_order, take_order
from forgelog.desk.shop import Shop
from forgelog.sheets.cut import cut_sheet
from forgelog.sheets.html import set_page
from forgelog.sheets.making import Wanted, set_sheet
from forgelog.sheets.text import set_lines
from tests.sheets.reading import PageRead


def test_every_piece_has_its_mark_and_a_box(shop: Shop, clock: FakeClock) -> None:
    take_order(shop, "gate-hinge-set", label="hinges", clock=clock)
    shop = shop.again()
    told = cut_of(shop)
    runs = [run for s in told.sections for bar in s.bars for run in bar.runs]
    assert sum(run.count for run in runs) == told.pieces == 18  # 4 pins, 6 wedges, 8 of the hinges
    sheet = cut_sheet(told, "2026-01-30")
    bars = sum(len(section.bars) for section in told.sections)
    read = PageRead(set_page(sheet))
    for run in runs:
        assert run.words in read.text
        for mark in run.marks:
            assert mark in read.text
    for words in told.buy:
        assert words in read.text
    assert read.count(class_="bar") == bars, "each bar is drawn"
    assert read.count(class_="box") == told.pieces + bars + len(told.buy)
    assert set_lines(sheet).count("[ ]") == told.pieces + bars + len(told.buy)


def test_the_list_is_of_one_order_or_of_all(shop: Shop, clock: FakeClock) -> None:
    take_order(shop, "gate-hinge-set", label="hinges", clock=clock)
    shop = shop.again()
    one = set_sheet(shop, Wanted(kind="cut", order="hinges"), clock=clock)
    every = set_sheet(shop, Wanted(kind="cut"), clock=clock)
    assert one.name.startswith("cut-hinges-")
    assert every.name == "cut-all.html"
    assert "gate 14" not in PageRead(one.text).text
    assert "gate 14" in PageRead(every.text).text
    assert find_order(shop.state, "hinges").id in one.name
