"""The bar that lies there: chosen before the fire is lit, recomputed, and in the journal."""

from __future__ import annotations

import pytest

from forgelog.desk.bars import BarsShown, bars_shown, choose_bar, choose_bars, read_bars
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import LayoutView, layout
from forgelog.desk.order_text import order_lines
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import change_sizes, take_order
from forgelog.desk.recipe_moved import KEEP, NOT_BEGUN, moved_lines, recipe_moved, take_over
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.trade.sections import Section, parse_section
from forgelog.work.state import Order
from tests.desk.working import work

HALF_INCH = Section(kind="square", a_mm=12.7)


@pytest.fixture
def order(shop: Shop, clock: FakeClock) -> Order:
    taken = take_order(shop, "test-pin", label="gate", count=2, clock=clock)
    clock.go_on(60.0)
    return taken


def chosen(shop: Shop, order: Order, clock: FakeClock, **bars: str | None) -> Order:
    """The order with bars chosen."""
    again = shop.again()
    choose_bars(
        again,
        again.state.orders[order.id],
        {name: parse_section(bar) if bar else None for name, bar in bars.items()},
        clock=clock,
    )
    clock.go_on(60.0)
    return shop.again().state.orders[order.id]


def laid_out(shop: Shop, order: Order, clock: FakeClock) -> LayoutView:
    return layout(shop.again(), [order.id], clock.stamp())


def pin_words(shop: Shop, order: Order, clock: FakeClock) -> list[str]:
    return [s.words for s in laid_out(shop, order, clock).stock if s.component == "pin"]


def offered(shop: Shop, order: Order, component: str = "pin") -> BarsShown:
    again = shop.again()
    return bars_shown(again, again.state.orders[order.id], component)


def racked(shop: Shop, *bars: str) -> None:
    text = "".join(f'[[bar]]\nsection = "{bar}"\nlong = "3 m"\n' for bar in bars)
    (shop.book / "stock.toml").write_text(text)


def test_a_bar_that_is_chosen_changes_the_cut_and_is_in_the_journal(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    order = chosen(shop, order, clock, pin="12.7 mm square")
    assert order.bars == {"pin": HALF_INCH}
    assert pin_words(shop, order, clock) == [
        "pin: 4 of 12.7 mm square, 161 mm each (by area from the proved 180 mm of 12 mm square)"
    ]
    journal = "".join(p.read_text() for p in sorted((shop.book / "journal").rglob("*.jsonl")))
    assert '"fact":"bar chosen"' in journal


def test_the_cut_of_a_bar_that_may_stay_as_thick_is_told_beside_it(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    order = chosen(shop, order, clock, pin="12.7 mm square")
    (stock,) = [s for s in laid_out(shop, order, clock).stock if s.component == "pin"]
    assert stock.more == ("drawn to the recipe's sizes; left as thick as the bar, cut 180 mm",)


def test_the_recipes_own_bar_can_be_taken_again(shop: Shop, order: Order, clock: FakeClock) -> None:
    before = pin_words(shop, order, clock)
    chosen(shop, order, clock, pin="12.7 mm square")
    order = chosen(shop, order, clock, pin=None)
    assert order.bars == {}
    assert pin_words(shop, order, clock) == before


def test_naming_the_recipes_own_bar_is_no_other_bar(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    chosen(shop, order, clock, pin="12.7 mm square")
    assert chosen(shop, order, clock, pin="12 mm square").bars == {}


def test_the_fire_is_lit_on_the_bar_that_was_chosen(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    chosen(shop, order, clock, pin="12.7 mm square")
    session = start(shop.again(), [order.id], clock=clock)
    session.close()
    (pin,) = session.state.orders[order.id].pins
    stock = pin.components[0].stock
    assert stock is not None
    assert stock.section == HALF_INCH
    assert stock.cut_mm == pytest.approx(180.0 * 144.0 / 12.7**2)
    assert (stock.planned, stock.planned_mm) == (parse_section("12 mm square"), 180.0)
    assert {step.section for step in pin.components[0].steps} == {HALF_INCH}


def test_another_bar_under_way_is_asked_about(shop: Shop, order: Order, clock: FakeClock) -> None:
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 4)
    session.close()
    clock.go_on(3600.0)
    order = chosen(shop, order, clock, pin="12.7 mm square")
    view = laid_out(shop, order, clock)
    (question,) = view.moved
    assert "bar has changed" in question.words
    assert question.steps[0] == (
        "pin: cut from 180 mm of 12 mm square, now 161 mm of 12.7 mm square"
    )
    assert any("bar 12 mm square, now 12.7 mm square" in step for step in question.steps)
    (stock,) = [s for s in view.stock if s.component == "pin"]
    assert stock.section == "12 mm square"
    assert stock.pending == "12.7 mm square"
    assert moved_lines(shop.again(), order)[0] == "The next lay-out asks what to do about:"


@pytest.mark.parametrize(
    ("choice", "sections"), [(NOT_BEGUN, {"12.7 mm square"}), (KEEP, {"12 mm square"})]
)
def test_the_answer_says_which_pieces_are_cut_from_it(
    shop: Shop, order: Order, clock: FakeClock, choice: str, sections: set[str]
) -> None:
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 4)
    session.close()
    clock.go_on(3600.0)
    chosen(shop, order, clock, pin="12.7 mm square")
    again = shop.again()
    moved = recipe_moved(again, again.state.orders[order.id])
    assert moved is not None
    take_over(again, moved, choice, clock=clock)
    view = laid_out(shop, order, clock)
    assert view.moved == ()
    pins = [s for s in view.stock if s.component == "pin"]
    assert {s.section for s in pins} == sections
    assert {s.pending for s in pins} == {""}
    begun = [p for p in shop.again().state.pieces.values() if p.begun]
    assert begun
    assert all(p.pin == 0 for p in begun)


def test_sizes_and_bars_are_changed_one_after_the_other(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    chosen(shop, order, clock, pin="12.7 mm square")
    again = shop.again()
    change_sizes(again, again.state.orders[order.id], {"drop": 80.0}, clock=clock)
    order = shop.again().state.orders[order.id]
    assert (order.bars, order.sizes_mm) == ({"pin": HALF_INCH}, {"drop": 80.0})


def test_rack_and_usual_bars_near_the_recipes_are_offered_with_their_cut(
    shop: Shop, order: Order
) -> None:
    racked(shop, "12.7 mm square", "12 mm round", "40 mm square", "12 mm square")
    rows = offered(shop, order).rows
    assert [(row.words, row.whence, row.cut) for row in rows] == [
        ("12 mm square", "the recipe's; on the rack: 1 bar of 3000 mm", "180 mm"),
        ("10 mm square", "a usual size", "259.5 mm"),
        ("12.7 mm square", "on the rack: 1 bar of 3000 mm", "161 mm"),
        ("13 mm square", "a usual size", "153.5 mm"),
        ("14 mm square", "a usual size", "132.5 mm"),
    ]
    assert rows[0].section is None


def test_bars_of_another_steel_are_not_offered(shop: Shop, order: Order) -> None:
    (shop.book / "stock.toml").write_text(
        '[[bar]]\nsection = "12.7 mm square"\nlong = "3 m"\nsteel = "tool steel"\n'
    )
    assert all("rack" not in row.whence for row in offered(shop, order).rows)


def test_what_was_chosen_by_hand_stands_among_what_is_offered(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    chosen(shop, order, clock, pin="12.5 mm square")
    shown = offered(shop, order)
    assert shown.title == "gate: pin"
    assert shown.rows[shown.at].words == "12.5 mm square"
    assert shown.rows[shown.at].whence == "written by hand"


def test_a_bar_with_too_little_is_offered_and_says_so(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "gate-hinge-set", label="hinges", clock=clock)
    clock.go_on(60.0)
    rows = {row.words: row for row in offered(shop, order, "pintle").rows}
    assert rows["24 mm square"].problems == (
        "pintle: 24 mm square is too little for 25 mm square; it would have to be upset",
    )
    assert rows["26 mm square"].problems == ()
    chosen(shop, order, clock, pintle="24 mm square")
    assert (
        "hinges: pintle: 24 mm square is too little for 25 mm square; it would have to be upset"
        in laid_out(shop, order, clock).doubts
    )


def test_doubts_go_by_the_actual_bar(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "gate-hinge-set", clock=clock)
    clock.go_on(60.0)
    assert laid_out(shop, order, clock).doubts == ()
    racked(shop, "20 x 16 mm flat", "25 x 13 mm flat", "40 x 10 mm flat")
    rows = {row.words: row for row in offered(shop, order, "nut").rows}
    assert set(rows) == {"25 x 12 mm flat", "20 x 16 mm flat", "25 x 13 mm flat"}
    assert rows["25 x 13 mm flat"].problems == ()
    chosen(shop, order, clock, nut="20 x 16 mm flat")
    (doubt,) = laid_out(shop, order, clock).doubts
    assert [f"{order.label}: {text}" for text in rows["20 x 16 mm flat"].problems] == [doubt]
    assert "24 mm across and 8.9 mm high would do" in doubt
    chosen(shop, order, clock, nut="25 x 13 mm flat")
    assert laid_out(shop, order, clock).doubts == ()


def test_the_readout_says_which_bar_is_the_smiths(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    order = chosen(shop, order, clock, pin="12.7 mm square")
    shown = order_shown(shop.again(), order)
    assert [(b.component, b.section, b.given) for b in shown.bars] == [
        ("pin", "12.7 mm square", True),
        ("wedge", "10 mm round", False),
    ]
    assert [line for line in order_lines(shown) if line.startswith("  bar ")] == [
        "  bar       pin 12.7 mm square, 161 mm each, chosen (the recipe's: 12 mm square, 180 mm)",
        "  bar       wedge 10 mm round, 30 mm each, the recipe's",
    ]


@pytest.mark.parametrize(
    ("bars", "said"),
    [
        ({"pinn": "13 mm square"}, 'did you mean "pin"?'),
        ({"pin": "3 mm sheet"}, "has no width"),
        ({"pin": "12 mm square"}, "is cut from the recipe's own bar already"),
        ({"pin": "13 mm square", "wedgy": "9 mm round"}, "is cut from no bar"),
    ],
)
def test_a_bar_that_cannot_be_is_refused_and_not_written_down(
    shop: Shop, order: Order, clock: FakeClock, bars: dict[str, str], said: str
) -> None:
    with pytest.raises(CannotDo) as refused:
        chosen(shop, order, clock, **bars)
    assert said in str(refused.value)
    assert shop.again().state.orders[order.id].bars == {}


@pytest.mark.parametrize(
    ("bar", "said"), [("500 mm square", "times the area"), ("1 mm round", "th of the area")]
)
def test_a_bar_far_from_the_recipes_is_refused_and_not_written_down(
    shop: Shop, order: Order, clock: FakeClock, bar: str, said: str
) -> None:
    with pytest.raises(CannotDo, match=said):
        chosen(shop, order, clock, pin=bar)
    assert not shop.again().state.orders[order.id].bars


def test_a_closed_order_takes_no_other_bar(shop: Shop, order: Order, clock: FakeClock) -> None:
    call_off(shop.again(), order, "given up", clock=clock)
    closed = shop.again()
    with pytest.raises(CannotDo, match="is closed"):
        choose_bar(closed, closed.state.orders[order.id], "pin", HALF_INCH, clock=clock)


def test_a_component_that_the_recipe_has_lost_can_be_let_go(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    chosen(shop, order, clock, wedge="11 mm round")
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace('id = "wedge"', 'id = "key"'))
    assert "is cut from no bar" in laid_out(shop, order, clock).problems[0]
    assert chosen(shop, order, clock, wedge=None).bars == {}
    assert laid_out(shop, order, clock).problems == ()


def test_bars_are_read_as_they_are_written() -> None:
    assert read_bars(["strap=40 x 10 mm flat", "pin = recipe"]) == {
        "strap": Section(kind="flat", a_mm=40.0, b_mm=10.0),
        "pin": None,
    }


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        (["strap"], "write it like"),
        (["=12 mm square"], "write it like"),
        (["strap=40 mm"], "does not say which bar it is"),
        (["pin=12 mm square", "pin=recipe"], "is given twice"),
    ],
)
def test_what_is_no_bar_is_refused_with_words(texts: list[str], said: str) -> None:
    with pytest.raises(CannotDo, match=said):
        read_bars(texts)
