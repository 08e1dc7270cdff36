"""Quotes in a real book: reckoned by hand beside the test, offered, answered, and told apart."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import msgspec
import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo
from forgelog.desk.offers import (
    answer_offer,
    make_offer,
    read_costs,
    read_hours,
    set_costs,
    tell_hours,
)
from forgelog.desk.orders import take_order
from forgelog.desk.quote import quote_of
from forgelog.desk.quote_pages import first_words, write_quote
from forgelog.desk.quote_told import QuoteTold
from forgelog.desk.session import start
from forgelog.desk.shop import Shop, open_shop
from forgelog.desk.spares import add_spares
from forgelog.desk.writing import write_down
from forgelog.work.facts import (
    FuelUsed,
    HoursTold,
    OrderCost,
    OrderTaken,
    Press,
    QuoteMade,
    SessionBegan,
)
from forgelog.work.state import Order
from tests.desk.money_shop import RATES
from tests.desk.past_work import FIRST, PastWork, two_days

EVIL = "[red]carriage[/] \x1b[31m"


@pytest.fixture
def priced(book: Path) -> Shop:
    (book / "shop.toml").write_text(RATES)
    return open_shop(book)


@pytest.fixture
def order(priced: Shop, clock: FakeClock) -> Order:
    return take_order(priced, "test-pin", label="gate", clock=clock)


def amounts(told: QuoteTold) -> dict[str, str]:
    return {line.id: line.amount for line in told.chosen.lines}


def quantity(told: QuoteTold, name: str = "electricity") -> str:
    return next(line.quantity for line in told.chosen.lines if line.id == name)


def now(shop: Shop, order: Order, clock: FakeClock, **more: object) -> QuoteTold:
    return quote_of(shop.again(), order, clock=clock, **more)  # type: ignore[arg-type]


def test_a_quote_without_any_record_by_hand(priced: Shop, order: Order, clock: FakeClock) -> None:
    """The pin of the tests, one set, in a shop without a record; reckoned on paper.

    The k-th piece of a run takes 1 + k^-1.5 of the steady time: 2, 1.3536, 1.1925.
    In hand, a minute a planned heat: points 2 min x 3.3536, bends 1 min x 3.3536, three wedges
    1 min x 4.5460, together 14.607 min. Most often is the middle of a piece's scatter (0.25), and
    several together come to its mean: x exp(0.03125 x (1 - 36.414 / 14.607^2)) = 1.0263, so 14.99.
    At the fire 2.75 times that: 41.22 min, 0.69 h. Filing has no minutes, so half an hour:
    30 min x 3.3536 x exp(0.03125 x (1 - 5248.9 / 100.61^2)) = 102.1 min, 1.70 h.
    12 mm square, 2 of 180 and 2 mm kerf: 144 mm2 x 364 mm x 7.85e-6 = 0.411 kg, 0.82.
    10 mm round, 3 of 30 and 2 mm: 78.54 mm2 x 96 mm x 7.85e-6 = 0.059 kg, 0.12.
    Gas 0.69 h x 0.95 kg (the middle of 0.4 to 1.5) = 0.66 kg, 1.65. Current 2.39 h x 0.5 kWh =
    1.20 kWh (1.195), 0.36. Consumables 2.39 h, 2.87. Work 40.00 + 20.00 + 33.12 + 68.00 + 10.00.
    Overhead 5400 / 900 = 6.00 for 4.14 h, 24.84.
    Made again 4 % of 0.82 + 0.12 + 1.65 + 0.36 + 2.87 + 33.12 + 68.00 = 106.94: 4.28.
    Costs 206.06, margin 20.61, price 226.67, tax 45.33, total 272.00, deposit 81.60.
    """
    told = now(priced, order, clock)
    assert amounts(told) == {
        "stock:12-mm-square-mild": "0.82",
        "stock:10-mm-round-mild": "0.12",
        "fuel": "1.65",
        "electricity": "0.36",
        "consumables": "2.87",
        "hours:design": "40.00",
        "hours:lay-out": "20.00",
        "hours:fire": "33.12",
        "hours:bench": "68.00",
        "hours:pack": "10.00",
        "overhead": "24.84",
        "remakes": "4.28",
        "margin": "20.61",
    }
    column = told.chosen
    assert (column.cost, column.net, column.tax) == ("206.06", "226.67", "45.33")
    assert (column.total, column.deposit, column.rest) == ("272.00", "81.60", "190.40")
    assert (column.without, column.tax_words) == ((), "VAT 20 %")
    # Under the hammer, 0.25 h in hand x 2 kWh more: 1.70 kWh, 0.51; made again 4.28; margin 20.62.
    assert [one.net for one in told.columns] == ["226.67", "226.83"]
    assert float(column.net_low) < 226.67 < float(column.net_high)
    fuel = next(line for line in column.lines if line.id == "fuel")
    assert "0.95 kg an hour assumed" in fuel.note
    assert "from memory" in fuel.note
    fire = next(one for one in column.hours if one.kind == "fire")
    assert float(fire.low) < 0.69 < float(fire.high)
    assert "no record yet" in fire.source


def test_set_up_is_once_an_order_and_the_first_piece_is_the_dearest(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    twelve = take_order(priced.again(), "test-pin", label="many", count=12, clock=clock)
    one, many = now(priced, order, clock), now(priced, twelve, clock)
    assert amounts(one)["hours:lay-out"] == amounts(many)["hours:lay-out"] == "20.00"
    assert float(amounts(many)["hours:fire"]) < 0.7 * 12 * float(amounts(one)["hours:fire"])


def test_a_spare_that_is_made_in_the_run_costs_its_stock_and_its_time(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    before = amounts(now(priced, order, clock))
    add_spares(priced.again(), order, "pin", 1, mark="left", clock=clock)
    after = amounts(now(priced, order, clock))
    assert (before["stock:12-mm-square-mild"], after["stock:12-mm-square-mild"]) == ("0.82", "1.23")
    assert float(after["hours:fire"]) > float(before["hours:fire"])
    assert after["hours:lay-out"] == before["hours:lay-out"]


def test_a_shop_without_rates_gets_blank_lines_that_say_what_to_set(
    shop: Shop, clock: FakeClock
) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    told = now(shop, order, clock)
    assert set(amounts(told).values()) == {""}
    assert (told.chosen.net, told.chosen.total, told.chosen.tax) == ("", "", "")
    missing = {line.id: line.missing for line in told.chosen.lines}
    assert missing["hours:fire"] == "not set: shop.toml [rates] fire_hour"
    assert missing["stock:12-mm-square-mild"] == 'not set: shop.toml [prices.steel] "mild"'
    assert missing["hours:design"] == "not known: --hours design=1, or shop.toml [quote] design"
    assert missing["fuel"] == "not set: shop.toml [fuel] gas"
    assert "fire" in told.chosen.without
    assert first_words(told).startswith("Nothing is priced yet")
    with pytest.raises(CannotDo, match="nothing is priced yet"):
        make_offer(shop.again(), told, clock=clock)


def test_one_rate_that_is_missing_leaves_one_line_blank_and_the_total_says_so(
    book: Path, order: Order, clock: FakeClock
) -> None:
    whole = now(open_shop(book), order, clock)
    (book / "shop.toml").write_text(RATES.replace('gas = "2.50"\n', ""))
    told = now(open_shop(book), order, clock)
    assert amounts(told)["fuel"] == ""
    assert told.chosen.without_words == "without gas"
    assert float(told.chosen.net) < float(whole.chosen.net)
    words = "\n".join(line for page in write_quote(told, 80) for line in page.lines)
    assert "gas: not set: shop.toml [fuel] gas" in words


def test_hand_and_power_hammer_stand_side_by_side(priced: Shop, clock: FakeClock) -> None:
    order = take_order(priced, "gate-hinge-set", clock=clock)
    told = now(priced, order, clock, method="power")
    hand, power = told.columns
    assert (hand.method, power.method, told.chosen) == ("hand", "power", power)
    hours = [{one.kind: one.hours for one in column.hours} for column in told.columns]
    assert float(hours[1]["fire"]) < float(hours[0]["fire"])
    assert hours[0]["bench"] == hours[1]["bench"]
    kwh = [next(x.quantity for x in c.lines if x.id == "electricity") for c in told.columns]
    assert float(kwh[1].split()[0]) > float(kwh[0].split()[0])
    bought = next(line for line in hand.lines if line.id == "bought:coach-bolt")
    assert bought.missing == "not set: shop.toml [prices.bought] coach-bolt"


@pytest.mark.parametrize("recipe", ["gate-hinge-set", "leaf-coat-hooks", "cross-peen-hammer"])
def test_what_is_shown_adds_up_for_real_recipes(
    priced: Shop, clock: FakeClock, recipe: str
) -> None:
    order = take_order(priced, recipe, count=3, clock=clock)
    set_costs(priced.again(), order, {"carriage": "35.555"}, clock=clock)
    for column in now(priced, order, clock).columns:
        lines = [Decimal(line.amount) for line in column.lines if line.amount]
        assert sum(lines) == Decimal(column.net)
        assert Decimal(column.net) + Decimal(column.tax) == Decimal(column.total)
        assert Decimal(column.deposit) + Decimal(column.rest) == Decimal(column.total)
        for line in column.lines:
            if line.each and line.amount and line.quantity:
                exact = Decimal(line.quantity.split()[0]) * Decimal(line.each)
                assert abs(exact - Decimal(line.amount)) <= Decimal("0.005")


def test_hours_that_the_smith_names_outrank_all_else_and_stay_with_the_offer(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    hours = read_hours(["design=2.5", "fitting=90 min", "lay_out=0"])
    told = now(priced, order, clock, hours=hours)
    assert amounts(told)["hours:design"] == "100.00"
    assert amounts(told)["hours:fitting"] == "60.00"
    assert amounts(told)["hours:lay-out"] == "0.00"
    assert quantity(now(priced, order, clock, hours=read_hours(["fire=2.75"]), method="power")) == (
        "4.23 kWh"  # (2.75 + 1.70) h x 0.5 kWh, and 1 h in hand x 2 kWh: 4.225
    )
    make_offer(priced.again(), told, hours=hours, clock=clock)
    clock.go_on(60.0)
    assert amounts(now(priced, order, clock)) == amounts(told)
    forgotten = now(priced, order, clock, hours=read_hours(["design=none"]))
    assert amounts(forgotten)["hours:design"] == "40.00"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("design", "write them like"),
        ("design=", "write them like"),
        ("desing=2", 'did you mean "design"'),
        ("design=-2", "hours of design"),
        ("design=2 kg", "is a mass"),
        ("design=99999", "more than"),
        ("design=nan", "hours of design"),
    ],
)
def test_what_are_no_hours_is_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(CannotDo, match=words):
        read_hours([text])


def test_an_offer_takes_the_place_of_the_one_before_and_is_answered(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    with pytest.raises(CannotDo, match="no price was offered"):
        answer_offer(priced.again(), order, accepted=True, clock=clock)
    make_offer(priced.again(), now(priced, order, clock), clock=clock)
    clock.go_on(3600.0)
    make_offer(priced.again(), now(priced, order, clock, method="power"), clock=clock)
    clock.go_on(3600.0)
    order = priced.again().state.orders[order.id]
    answer_offer(priced.again(), order, accepted=True, clock=clock)
    told = now(priced, order, clock)
    assert [offer.answer for offer in told.offers] == ["superseded", "accepted"]
    assert told.offers[0].total == "272.00"
    assert told.method == "power"
    assert "accepted" in first_words(told)


def test_an_offer_lapses_when_its_last_day_is_over(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    make_offer(priced.again(), now(priced, order, clock), clock=clock)
    clock.go_on(29 * 86_400.0)
    assert not now(priced, order, clock).offers[0].lapsed
    clock.go_on(3 * 86_400.0)
    assert now(priced, order, clock).offers[0].lapsed


def test_a_closed_order_is_offered_no_more(priced: Shop, order: Order, clock: FakeClock) -> None:
    told = now(priced, order, clock)
    call_off(priced.again(), order, "gone elsewhere", clock=clock)
    with pytest.raises(CannotDo, match="is closed"):
        make_offer(priced.again(), told, clock=clock)


def test_costs_of_the_order_alone_are_kept_changed_and_taken_off(
    priced: Shop, order: Order, clock: FakeClock
) -> None:
    set_costs(priced.again(), order, read_costs(["carriage=35", "site survey=40"]), clock=clock)
    order = priced.again().state.orders[order.id]
    told = now(priced, order, clock)
    assert [(line.words, line.amount) for line in told.own] == [
        ("carriage", "35.00"),
        ("site survey", "40.00"),
    ]
    # 75.00 and its tenth of margin on top of the price by hand above
    assert told.chosen.net == f"{Decimal('226.67') + 75 + Decimal('7.50')}"
    set_costs(priced.again(), order, {"carriage": "none"}, clock=clock)
    assert [line.words for line in now(priced, order, clock).own] == ["site survey"]
    for wrong in ({"carriage": "-3"}, {"carriage": "3 USD"}, {"lamp": "none"}):
        with pytest.raises(CannotDo):
            set_costs(priced.again(), order, wrong, clock=clock)


def test_words_of_strangers_stay_plain_text(priced: Shop, order: Order, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="cannot be seen"):
        read_costs([f"{EVIL}=3"])
    set_costs(priced.again(), order, {"[red]lamp[/] {x}": "3"}, clock=clock)
    told = now(priced, order, clock)
    words = "\n".join(line for page in write_quote(told, 80) for line in page.lines)
    assert "[red]lamp[/] {x}" in words


@pytest.mark.parametrize("text", ["1e999999", "NaN", "-3", "lots", "", "9" * 400])
def test_no_amount_in_a_journal_from_elsewhere_breaks_the_quote(
    priced: Shop, order: Order, clock: FakeClock, text: str
) -> None:
    write_down(
        priced.again(),
        OrderCost(order=order.id, words="carriage", amount=text),
        QuoteMade(order=order.id, net=text, total=text, told={"design": text, "[b]x": "1"}),
        HoursTold(order=order.id, hours={"pack": text}),
        clock=clock,
    )
    clock.go_on(60.0)
    told = now(priced, order, clock)
    assert {line.amount for line in told.own} <= {""}
    assert told.chosen.net == "226.67"
    assert write_quote(told, 80)


def test_pages_stay_within_their_width_with_any_number_of_methods(
    book: Path, order: Order, clock: FakeClock
) -> None:
    for methods in ('"hand"', '"hand", "power"', '"hand", "striker", "power", "press"'):
        (book / "shop.toml").write_text(RATES.replace('"hand", "power"', methods))
        told = now(open_shop(book), order, clock)
        assert len(told.columns) == methods.count(",") + 1
        for width in (78, 98, 120):
            for page in write_quote(told, width):
                assert max(map(len, (page.title, *page.lines))) <= width


@pytest.fixture
def worked(priced: Shop) -> PastWork:
    """Two days on order o1, of which nothing was offered yet."""
    past = two_days(priced.book)
    _took_at_desk(past)
    past.write()
    return past


def _took_at_desk(past: PastWork) -> None:
    """Orders are taken at the desk, in a session of their own."""
    first = past.presses[FIRST]
    (taken,) = (press for press in first if isinstance((*press.facts, None)[0], OrderTaken))
    first[first.index(taken)] = msgspec.structs.replace(taken, facts=())
    desk = "20251009T080000Z-anvil7k-desk"
    began = SessionBegan(session=desk, version="1", device="anvil7k", kind="desk", orders=("o1",))
    head = Press(seq=0, at=first[0].at, facts=(began,))
    past.presses = {
        desk: [head, Press(seq=1, at=first[0].at, facts=taken.facts)],
        **past.presses,
    }


def hours_at_the_fire(past: PastWork) -> float:
    """From first to last press of each day, without the pause and the bench: as it was pressed."""
    whole_s = sum(days[-1].at.wall - days[0].at.wall for days in past.presses.values())
    return (whole_s - 1800.0 - 800.0 - 500.0) / 3600


def test_what_was_worked_is_told_by_kind_with_its_reasons(worked: PastWork) -> None:
    shop = open_shop(worked.book)
    order = shop.state.orders["o1"]
    told = now(shop, order, worked.evening)
    assert told.actual is not None
    lines = {line.id: line for line in told.actual.lines}
    assert float(lines["hours:fire"].actual.split()[0]) == pytest.approx(
        hours_at_the_fire(worked), abs=0.006
    )
    assert lines["hours:bench"].actual == "0.36 h"
    assert "heats more than planned" in lines["hours:fire"].why
    assert "1 piece scrapped (hole ran off)" in lines["hours:fire"].why
    assert told.actual.earned_hour == ""


def test_quoted_against_actual_and_what_the_next_quote_makes_of_it(worked: PastWork) -> None:
    shop, clock = open_shop(worked.book), worked.evening
    order = shop.state.orders["o1"]
    offered = now(shop, order, clock)
    make_offer(shop.again(), offered, clock=clock)
    clock.go_on(60.0)
    tell_hours(shop.again(), order, read_hours(["design=2.5", "pack=10 min"]), clock=clock)
    clock.go_on(60.0)
    call_off(shop.again(), shop.again().state.orders["o1"], "gone elsewhere", clock=clock)
    clock.go_on(60.0)
    told = now(shop, shop.again().state.orders["o1"], clock)
    assert told.actual is not None
    lines = {line.id: line for line in told.actual.lines}
    design = lines["hours:design"]
    assert (design.quoted, design.actual, design.difference) == ("1.00 h", "2.50 h", "+1.50 h")
    wanted = next(one.hours for one in offered.chosen.hours if one.kind == "fire")
    assert lines["hours:fire"].quoted == f"{wanted} h"
    assert next(o.hours for o in told.chosen.hours if o.kind == "design") == "2.50"
    assert "the last order of this recipe" in told.chosen.hours[0].source
    with pytest.raises(CannotDo, match="kept at the fire and the bench"):
        tell_hours(shop.again(), order, read_hours(["fire=2"]), clock=clock)


def test_fuel_that_was_weighed_outranks_the_setting(worked: PastWork) -> None:
    shop, clock = open_shop(worked.book), worked.evening
    text = (
        (worked.book / "shop.toml").read_text().replace("[fuel]\n", '[fuel]\ngas_hour = "2 kg"\n')
    )
    (worked.book / "shop.toml").write_text(text)
    order = shop.state.orders["o1"]
    before = next(x for x in now(shop, order, clock).chosen.lines if x.id == "fuel")
    assert before.note.startswith("2 kg an hour, shop.toml [fuel] gas_hour")
    write_down(shop.again(), FuelUsed(session=FIRST, kg=0.4), clock=clock)
    clock.go_on(60.0)
    after = next(x for x in now(shop, order, clock).chosen.lines if x.id == "fuel")
    assert "weighed in 1 session" in after.note


def test_a_session_without_a_heat_makes_no_heat_dearer(worked: PastWork) -> None:
    shop, clock = open_shop(worked.book), worked.evening
    order = shop.state.orders["o1"]
    before = now(shop, order, clock).chosen.hours
    session = start(shop.again(), ["o1"], clock=clock)
    for _ in range(40):
        clock.go_on(900.0)
        session.press("tab")
    session.close()
    again = shop.again()
    assert now(again, again.state.orders["o1"], clock).chosen.hours == before
