"""Sheets for a line printer: 80 columns of ASCII, a form feed between pages."""

from __future__ import annotations

import re

from forgelog.desk.clock import FakeClock
from forgelog.desk.job import job_of
from forgelog.desk.orders import find_order, take_order
from forgelog.desk.shop import Shop
from forgelog.sheets.blocks import Cell, Part, Row, Sheet, Step, Table, Words
from forgelog.sheets.job import job_sheet
from forgelog.sheets.text import LINES, WIDTH, ascii_only, set_lines


def sheet(*blocks: object) -> Sheet:
    part = Part(title="Work", blocks=blocks)  # type: ignore[arg-type]
    return Sheet(kind="JOB SHEET", title="gate", head="gate", foot="told today", parts=(part,))


def test_pages_are_parted_by_form_feeds_and_none_is_too_long(shop: Shop, clock: FakeClock) -> None:
    take_order(shop, "gate-hinge-set", label="hinges", clock=clock)
    shop = shop.again()
    told = job_of(shop, find_order(shop.state, "hinges"), clock=clock)
    pages = set_lines(job_sheet(told)).split("\f")
    assert 10 <= len(pages) <= 40
    for number, page in enumerate(pages, 1):
        lines = page.split("\n")
        assert len(lines) <= LINES + 1
        assert lines[0].endswith(f"{number}/{len(pages)}")
        assert all(len(line) <= WIDTH for line in lines)
        assert page.isascii()


def test_a_step_is_never_broken_over_two_pages() -> None:
    steps = [
        Step(
            number=number,
            title=f"step {number}",
            facts=tuple((f"fact {i}", "words") for i in range(number % 9)),
            rows=(Row(label="Done", cells=(Cell(boxes=1),)),),
        )
        for number in range(1, 60)
    ]
    pages = set_lines(sheet(*steps)).split("\f")
    assert len(pages) > 3
    for page in pages:
        begun = re.findall(r"^ *\d+\. STEP", page, re.M)
        assert len(begun) == page.count("Done:"), "what begins on a page ends on it"


def test_boxes_stand_behind_the_name_of_each_piece_and_wrap_between_pieces() -> None:
    cells = tuple(Cell(name=f"left {i}", boxes=3, crossed=i == 2) for i in range(1, 9))
    text = set_lines(sheet(Step(number=1, title="draw", rows=(Row(label="Heats", cells=cells),))))
    assert "left 1 [ ][ ][ ]" in text
    assert "left 2 [x][x][x]" in text
    assert all(f"left {i} [" in text for i in range(1, 9))


def test_columns_of_figures_are_set_to_the_right() -> None:
    table = Table(
        head=("what", "kg"),
        rows=(("pin", "1.5"), ("hinge", "10.2"), ("together", "11.7")),
        right=frozenset({1}),
        total=True,
    )
    lines = set_lines(sheet(table)).split("\n")
    assert "pin        1.5" in lines
    assert "hinge     10.2" in lines
    assert lines[lines.index("together  11.7") - 1] == "-" * WIDTH


def test_letters_that_a_line_printer_has_not_are_written_otherwise() -> None:
    assert ascii_only("Łódź, naïve × 3 · 5 € “so”") == '<U+0141>odz, naive x 3 - 5 EUR "so"'
    assert ascii_only("漢") == "<U+6F22>"
    assert ascii_only("a\u202eb") == "a<U+202E>b"
    assert set_lines(sheet(Words(words="漢 " * 60))).isascii()
