"""The plan of a day and the advice away from the floor, on a book with two orders."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import layout
from forgelog.desk.next_up import next_up
from forgelog.desk.orders import hold_order, take_order
from forgelog.desk.plan import plan_of
from forgelog.desk.plan_pages import first_words, write_plan
from forgelog.desk.plan_told import PlanTold
from forgelog.desk.session import start
from forgelog.desk.shop import Shop

MORNING = float((date(2026, 3, 2) - date(1970, 1, 1)).days * 86_400 + 8 * 3600)
"""A Monday."""


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(MORNING)


@pytest.fixture
def two_orders(shop: Shop, clock: FakeClock) -> Shop:
    take_order(shop, "test-pin", title="two pins", count=2, promised="2026-03-06", clock=clock)
    take_order(shop.again(), "leaf-coat-hooks", title="hooks", clock=clock)
    return shop.again()


@pytest.fixture
def told(two_orders: Shop, clock: FakeClock) -> PlanTold:
    return plan_of(two_orders, until="17:00", clock=clock, worlds=6)


def test_the_plan_names_every_order_and_its_days(told: PlanTold) -> None:
    assert {o.name for o in told.orders} == {"two pins", "hooks"}
    for order in told.orders:
        assert "2026-03-02" <= order.low <= order.middle <= order.high
        assert datetime.fromisoformat(order.planned) > datetime(2026, 3, 2, 8)
    assert (told.day, told.begins, told.until) == ("2026-03-02", "08:00", "17:00")


def test_nothing_is_in_two_places_and_one_thing_is_in_hand(told: PlanTold) -> None:
    assert told.timeline is not None
    spans = told.timeline.spans
    hands = sorted((s.from_min, s.to_min) for s in spans if s.doing in ("hand", "bench"))
    assert all(a[1] <= b[0] + 0.02 for a, b in pairwise(hands))
    for workpiece in {s.workpiece for s in spans}:
        own = sorted((s.from_min, s.to_min) for s in spans if s.workpiece == workpiece)
        assert all(a[1] <= b[0] + 0.02 for a, b in pairwise(own))
    assert max(s.to_min for s in spans) <= 9 * 60


def test_every_tool_of_the_day_stands_with_its_time(told: PlanTold) -> None:
    tools = {t.name: t for t in told.tools}
    assert tools["bending jig"].setting == "stop at 60 mm"
    assert "08:00" <= tools["small fuller"].by < "17:00"
    assert tools["small fuller"].by <= tools["bending jig"].by
    assert any(j.setups >= 1 and j.settings == ("stop at 60 mm",) for j in told.jigs)


@pytest.mark.parametrize("width", [80, 100])
def test_no_line_is_wider_than_the_page(told: PlanTold, width: int) -> None:
    pages = write_plan(told, width)
    assert [p.title for p in pages][1:3] == ["ORDERS", "TOOLS BY WHEN"]
    assert max(len(line) for page in pages for line in (page.title, *page.lines)) <= width
    assert "Until 17:00" in first_words(told)
    assert any("most often" in line or "done Mon 2 Mar" in line for line in pages[1].lines)


def test_the_same_book_gives_the_same_plan(two_orders: Shop, clock: FakeClock) -> None:
    first = plan_of(two_orders, until="12:00", clock=clock, worlds=2)
    assert plan_of(two_orders.again(), until="12:00", clock=clock, worlds=2) == first


def test_a_short_day_leaves_work_for_the_next_one(two_orders: Shop, clock: FakeClock) -> None:
    told = plan_of(two_orders, until="08:40", clock=clock, worlds=2)
    assert told.timeline is not None
    assert max(s.to_min for s in told.timeline.spans) <= 40
    assert len(told.finished) < told.pieces
    assert max(o.planned for o in told.orders) >= "2026-03-03"


def test_a_later_day_begins_in_the_morning_and_a_weekend_is_no_working_day(
    two_orders: Shop, clock: FakeClock
) -> None:
    told = plan_of(two_orders, "2026-03-06", "08:40", clock=clock, worlds=2)
    assert (told.day, told.begins) == ("2026-03-06", "08:00")
    days = {o.planned[:10] for o in told.orders}
    assert not days & {"2026-03-07", "2026-03-08"}
    assert max(days) >= "2026-03-09"


@pytest.mark.parametrize(
    ("day", "until", "words"),
    [
        ("2026-02-01", "", "has been"),
        ("soon", "", "no date"),
        ("", "late", "no time of day"),
        ("", "08:10", "half an hour"),
    ],
)
def test_what_cannot_be_planned_is_said(
    two_orders: Shop, clock: FakeClock, day: str, until: str, words: str
) -> None:
    with pytest.raises(CannotDo, match=words):
        plan_of(two_orders, day, until, clock=clock)


def test_without_an_order_there_is_no_plan(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="no order to work on"):
        next_up(shop, clock=clock)


def test_next_is_what_the_floor_advises(two_orders: Shop, clock: FakeClock) -> None:
    view = next_up(two_orders, clock=clock)
    assert not view.running
    assert view.next
    session = start(two_orders, list(two_orders.state.orders), clock=clock)
    chosen = session.stand.chosen
    session.close()
    assert view.next[0].workpiece == chosen
    running = next_up(two_orders.again(), clock=clock)
    assert running.running
    assert running.next[0].workpiece == chosen
    assert all(len(one.why.split()) <= 6 for one in view.next)


def test_a_held_order_is_left_out_and_said(two_orders: Shop, clock: FakeClock) -> None:
    order = next(o for o in two_orders.state.orders.values() if o.title == "hooks")
    hold_order(two_orders, order, "bar has not come", clock=clock)
    view = next_up(two_orders.again(), clock=clock)
    assert {one.order for one in view.next} == {"two pins"}
    assert view.left_out == ("hooks is held (bar has not come)",)


def test_planning_writes_nothing(two_orders: Shop, clock: FakeClock) -> None:
    before = sorted(p for p in two_orders.book.rglob("*") if p.is_file())
    plan_of(two_orders, until="09:00", clock=clock, worlds=1)
    next_up(two_orders.again(), clock=clock)
    assert sorted(p for p in two_orders.book.rglob("*") if p.is_file()) == before


def test_a_jig_that_two_orders_want_at_different_settings_is_named_with_both_and_set_up_twice(
    shop: Shop, clock: FakeClock
) -> None:
    for drop in (60.0, 90.0):
        sizes = {"drop": drop}
        take_order(shop.again(), "test-pin", title=f"{drop:g}", sizes_mm=sizes, clock=clock)
    both = shop.again()
    shown = layout(both, list(both.state.orders), clock.stamp()).tools
    (jig,) = (t for t in shown if t.id == "bending-jig")
    assert "at 2 settings: stop at 60 mm; stop at 90 mm" in jig.words
    told = plan_of(both, until="17:00", clock=clock, worlds=1)
    (planned,) = (j for j in told.jigs if j.name == "bending jig")
    assert planned.setups >= 2
    assert set(planned.settings) == {"stop at 60 mm", "stop at 90 mm"}


def test_the_run_begins_with_the_hands_and_the_fire_of_the_whole_shop(told: PlanTold) -> None:
    (run,) = (page for page in write_plan(told, 98) if page.title.startswith("THE RUN"))
    hands, fire = run.lines[1], run.lines[2]
    assert hands.startswith("THE HANDS")
    assert fire.startswith("THE FIRE")
    marks = hands.removeprefix("THE HANDS").split()[0]
    assert set(marks) <= set("#b-")
    assert "#" in marks
    busiest = max(int(mark) for mark in fire if mark.isdigit())
    assert 1 <= busiest <= 3


def test_a_helper_at_the_bench_takes_work_off_the_smith_and_never_delays_it(
    told: PlanTold,
) -> None:
    helper = next(way for way in told.others if way.method == "helper")
    assert helper.work_min <= told.work_min
    assert helper.hands_min < told.hands_min


def test_a_search_that_is_stopped_leaves_the_best_plan_so_far(
    two_orders: Shop, clock: FakeClock
) -> None:
    stopped = plan_of(two_orders, clock=clock, worlds=2, stop=lambda: True)
    assert stopped.trials == 1
    assert stopped.orders
