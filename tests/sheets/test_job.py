"""The job sheet: every step once and in its order, with as many boxes as heats are planned."""

from __future__ import annotations

import re

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.job import job_of
from forgelog.desk.orders import find_order, hold_order, take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.sheets.html import PAPERS, set_page
from forgelog.sheets.job import job_sheet
from forgelog.sheets.text import set_lines
from tests.desk.working import work
from tests.sheets.reading import PageRead

RECIPES = (
    "cross-peen-hammer",
    "gate-hinge-set",
    "leaf-coat-hooks",
    "poker-and-shovel",
    "scroll-shelf-brackets",
)


def page(shop: Shop, clock: FakeClock, order: str = "gate 14", **more: bool) -> PageRead:
    told = job_of(shop, find_order(shop.whole_state, order), clock=clock, **more)
    return PageRead(set_page(job_sheet(told)))


@pytest.mark.parametrize("recipe", RECIPES)
def test_every_step_stands_on_the_sheet_once_and_in_order(
    recipe: str, shop: Shop, clock: FakeClock
) -> None:
    take_order(shop, recipe, label="all", clock=clock)
    shop = shop.again()
    order = find_order(shop.state, "all")
    steps = [
        (component.name, number, step)
        for component in shop.resolved(recipe, {}).components
        for number, step in enumerate(component.steps, 1)
    ]
    sheet = job_sheet(job_of(shop, order, clock=clock))
    read = PageRead(set_page(sheet))
    cycles = {
        id(step): f", cycle {step.cycle} of {step.cycles}" if step.cycle else ""
        for _, _, step in steps
    }
    assert read.titles == [
        f"{number} {step.do} {name}{cycles[id(step)]}" for name, number, step in steps
    ]
    told = re.findall(r"^ {1,2}(\d+)\. ([A-Z].*(?:\n {5}\S.*\))?)", set_lines(sheet), re.M)
    for stock in job_of(shop, order, clock=clock).stock:
        assert f"From {stock.section}, {stock.each} each" in read.text, "as in the cut list"
    assert [int(number) for number, _ in told] == [number for _, number, _ in steps]
    for (_, words), (_, _, step) in zip(told, steps, strict=True):
        assert " ".join(words.split()).startswith(step.do.upper())
    for _, _, step in steps:
        for gauge in step.gauges:
            assert gauge.what in read.text


def test_there_is_a_box_for_every_planned_heat_and_one_for_done(
    shop: Shop, clock: FakeClock
) -> None:
    told = job_of(shop, find_order(shop.state, "gate 14"), clock=clock)
    pin, wedge = told.components
    assert [piece.name for piece in pin.pieces] == ["left 1", "right 1", "left 2", "right 2"]
    assert [step.heats for step in pin.steps] == [2, 0, 1, 0]
    assert [piece.name for piece in wedge.pieces] == [""], "a handful is ticked as one"
    steps = [b for part in job_sheet(told).parts for b in part.blocks if b.kind == "step"]
    rows = {row.label: row for row in steps[0].rows}
    assert [cell.boxes for cell in rows["Heats"].cells] == [2, 2, 2, 2]
    assert [cell.boxes for cell in rows["Done"].cells if not cell.note] == [1, 1, 1, 1]
    assert [row.label for row in steps[1].rows] == ["Rested: black"]


def test_more_boxes_are_there_where_more_heats_were_learnt(shop: Shop, clock: FakeClock) -> None:
    from forgelog.desk.learnt import heats_in_words
    from forgelog.floor.settings import LearntHeats

    learnt = {
        ("test-pin", "pin", "bend", "hand"): LearntHeats(heats=3, low=2, high=4, records=7),
        ("test-pin", "pin", "twist", "hand"): LearntHeats(heats=1, low=1, high=1, records=2),
        ("other", "pin", "bend", "hand"): LearntHeats(heats=9, low=8, high=9, records=7),
    }
    assert heats_in_words(learnt, "test-pin") == {
        ("pin", "bend", "hand"): "3 (2 to 4 most often), from 7 of yours",
        ("pin", "twist", "hand"): "1 most often, from 2 of yours",
    }


def test_what_is_done_is_crossed_when_the_sheet_is_printed_under_way(
    shop: Shop, clock: FakeClock
) -> None:
    order = find_order(shop.state, "gate 14")
    session = start(shop, [order.id], clock=clock)
    work(session, clock, 40)
    session.close()
    shop = shop.again()
    order = find_order(shop.state, "gate 14")
    state = shop.state
    done = sum(min(p.step, 4) for p in state.pieces.values() if p.component == "pin")
    assert done > 0
    told = job_of(shop, order, clock=clock)
    steps = [b for part in job_sheet(told).parts for b in part.blocks if b.kind == "step"]
    crossed = sum(cell.crossed for step in steps[:4] for row in step.rows for cell in row.cells)
    assert crossed == done


def test_the_customer_is_on_it_only_where_that_was_asked_for(shop: Shop, clock: FakeClock) -> None:
    order = find_order(shop.state, "gate 14")
    folder = shop.book / "customers"
    folder.mkdir(exist_ok=True)
    (folder / f"{order.id}.toml").write_text('name = "Hazel Oakes"\nphone = 12\n[more]\na = 1\n')
    assert "Hazel Oakes" not in page(shop, clock).text
    text = page(shop, clock, customer=True).text
    assert "For Hazel Oakes Known phone: 12" in text


def test_a_customer_file_that_cannot_be_read_is_told(shop: Shop, clock: FakeClock) -> None:
    from forgelog.desk.errors import CannotDo

    order = find_order(shop.state, "gate 14")
    (shop.book / "customers").mkdir(exist_ok=True)
    (shop.book / "customers" / f"{order.id}.toml").write_text("name = Hazel\n")
    with pytest.raises(CannotDo, match="cannot be read"):
        page(shop, clock, customer=True)
    assert "gate 14" in page(shop, clock).text


def test_a_held_or_closed_order_says_so(shop: Shop, clock: FakeClock) -> None:
    hold_order(shop, find_order(shop.state, "gate 14"), "waits for the post", clock=clock)
    shop = shop.again()
    assert "This order is held (waits for the post)." in page(shop, clock).text
    clock.go_on(60)
    call_off(shop, find_order(shop.state, "gate 14"), "called off", clock=clock)
    assert "This order is closed (called off)." in page(shop.again(), clock).text


def test_spares_have_their_boxes_before_the_first_lay_out_and_after(
    shop: Shop, clock: FakeClock
) -> None:
    from forgelog.desk.spares import add_spares

    add_spares(shop, find_order(shop.state, "gate 14"), "pin", 1, mark="left", clock=clock)
    for _ in range(2):
        shop = shop.again()
        order = find_order(shop.state, "gate 14")
        pin = job_of(shop, order, clock=clock).components[0]
        assert pin.count == "4 and 1 spare, left and right (mirror images)"
        names = ["left 1", "left 2", "left spare 1", "right 1", "right 2"]
        assert sorted(piece.name for piece in pin.pieces) == names
        clock.go_on(60)
        start(shop, [order.id], clock=clock).close()


def test_many_pieces_are_counted_and_not_ticked_by_name(shop: Shop, clock: FakeClock) -> None:
    take_order(shop, "test-pin", label="many", count=100, clock=clock)
    shop = shop.again()
    told = job_of(shop, find_order(shop.state, "many"), clock=clock)
    assert (told.components[0].pieces, told.components[0].many) == ((), 200)
    html = set_page(job_sheet(told))
    assert "of 200" in PageRead(html).text
    assert len(html) < 60_000


def test_cautions_tools_sizes_and_stock_are_told(shop: Shop, clock: FakeClock) -> None:
    text = page(shop, clock).text
    assert "Steel shows no colour in shop light below about 480 degC" in text
    assert "bending jig, stop at 60 mm (not in tools.toml), jig" in text
    assert "drop 60 mm recipe's how far it hangs down" in text
    assert "pin: 4 of 12 mm square, 180 mm each (proved)" in text
    assert "Work from" in text
    assert "degC (" in text, "a temperature stands with its colours"


@pytest.mark.parametrize("paper", PAPERS)
def test_the_page_is_of_the_paper_that_was_asked_for(
    paper: str, shop: Shop, clock: FakeClock
) -> None:
    told = job_of(shop, find_order(shop.state, "gate 14"), clock=clock)
    style = PageRead(set_page(job_sheet(told), paper)).style
    assert f"size: {PAPERS[paper].css};" in style
    assert ".step { break-inside: avoid;" in style


def test_the_plan_of_the_day_is_on_it_where_that_was_asked_for(
    shop: Shop, clock: FakeClock
) -> None:
    assert "The day, " not in page(shop, clock).text
    read = page(shop, clock, plan=True)
    assert "The day, 2026-01-30" in read.text
    assert "Two pins no date 2026-01-30" in read.text
    assert read.count(class_="timeline") == 1


def test_work_without_a_recipe_has_room_for_the_steps_that_were_done(
    shop: Shop, clock: FakeClock
) -> None:
    from forgelog.desk.free_work import read_part, take_free

    take_free(shop, "garden latch", [read_part("latch=12 mm square")], label="free", clock=clock)
    read = page(shop.again(), clock, "free")
    assert "Recipe none: said as it is done" in read.text
    assert "Steps as they were done, with their heats" in read.text
    assert "Steps as they were done" not in page(shop, clock).text
