"""Five minutes after the fire: what is asked, what is written down, and what comes first."""

from __future__ import annotations

import json

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.evening import evening
from forgelog.desk.evening_deeds import prove_cut, stow, tell_bottle, tell_fuel
from forgelog.desk.evening_told import Evening
from forgelog.desk.layout import layout
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from tests.desk.working import work


def tonight(shop: Shop, clock: FakeClock) -> Evening:
    clock.go_on(60.0)
    return evening(shop.again(), clock=clock)


@pytest.fixture
def worked(shop: Shop, clock: FakeClock) -> Shop:
    """A day at the fire on one order, ended."""
    order = take_order(shop, "test-pin", label="7", title="orchard gate", clock=clock)
    clock.go_on(600.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 24)
    session.press("q")
    clock.go_on(5.0)
    session.press("enter")
    session.close()
    return shop.again()


def test_before_the_first_fire_nothing_is_asked(shop: Shop, clock: FakeClock) -> None:
    view = tonight(shop, clock)
    assert (view.session, view.day, view.fuel) == ("", "", None)
    assert view.heats == view.lying == view.cuts == view.next == ()


def test_the_evening_asks_for_what_the_day_left_open(worked: Shop, clock: FakeClock) -> None:
    view = tonight(worked, clock)
    assert view.fuel is not None
    assert (view.fuel.fire, view.fuel.weighed, view.fuel.told) == ("gas forge", True, "")
    assert [bar.words for bar in view.bars] == ["10 mm round, mild", "12 mm square, mild"]
    assert "orchard gate: pin, 180 mm of 12 mm square" in [cut.words for cut in view.cuts]
    assert view.label == "K1"
    assert view.next
    assert view.next[0].startswith("orchard gate: ")
    assert view.sheets == ("forgelog sheet 7",)
    named = [w for one in view.lying for w in one.workpieces]
    begun = {p.id for p in worked.state.pieces.values() if p.begun}
    assert sorted(named) == sorted(begun)


def test_a_place_that_was_told_is_known_and_nothing_else_has_changed(
    worked: Shop, clock: FakeClock
) -> None:
    before = worked.state.pieces
    lying = next(one for one in tonight(worked, clock).lying if "pin, left" in one.words)
    stow(worked.again(), lying.workpieces, "box 9", clock=clock)
    view = tonight(worked, clock)
    assert [one.words for one in view.lying if one.where == "box 9"] == [lying.words]
    assert "box 9" in view.places
    after = worked.again().state.pieces[lying.workpieces[0]]
    was = before[lying.workpieces[0]]
    assert (after.place, after.since_s, after.step) == (was.place, was.since_s, was.step)


def test_the_bottle_is_weighed_twice_and_what_it_lost_was_burnt(
    worked: Shop, clock: FakeClock
) -> None:
    asked = tonight(worked, clock).fuel
    assert asked is not None
    state = tell_bottle(worked.again(), asked, 21.4, 18.8, clock=clock)
    assert state.fuel[asked.session].kg == 2.6
    told = tonight(worked, clock).fuel
    assert told is not None
    assert told.told == "2.60 kg, from 21.4 kg to 18.8 kg"
    with pytest.raises(CannotDo, match="less after the session"):
        tell_bottle(worked.again(), asked, 18.8, 18.8, clock=clock)
    with pytest.raises(CannotDo, match="more than nothing"):
        tell_fuel(worked.again(), asked, 0.0, clock=clock)


def test_the_next_session_begins_with_the_weight_that_the_bottle_had(
    worked: Shop, clock: FakeClock
) -> None:
    asked = tonight(worked, clock).fuel
    assert asked is not None
    tell_bottle(worked.again(), asked, 21.4, 18.8, clock=clock)
    clock.go_on(70_000.0)
    again = worked.again()
    session = start(again, list(again.state.orders), clock=clock)
    session.close()
    later = tonight(worked, clock).fuel
    assert later is not None
    assert later.session != asked.session
    assert (later.before_kg, later.told) == (18.8, "")


def test_a_cut_that_came_out_short_says_what_to_try(worked: Shop, clock: FakeClock) -> None:
    cut = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    prove_cut(worked.again(), cut, -6.0, clock=clock)
    told = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    assert told.told == "180 mm came out 6 mm short: try 186 mm"
    assert told.cut_mm == 180.0
    with pytest.raises(CannotDo, match="longer than all that was cut"):
        prove_cut(worked.again(), told, 180.0, clock=clock)


def test_the_next_lay_out_says_how_the_last_cut_came_out(worked: Shop, clock: FakeClock) -> None:
    cut = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    prove_cut(worked.again(), cut, -6.0, clock=clock)
    clock.go_on(600.0)
    order = take_order(worked.again(), "test-pin", label="8", clock=clock)
    shown = layout(worked.again(), [order.id], clock.stamp()).stock
    assert [s.more for s in shown if s.component == "pin"] == [
        ("yours: 180 mm came out 6 mm short: try 186 mm",)
    ]


def test_another_order_is_taken_to_be_cut_as_the_last_one_proved(
    worked: Shop, clock: FakeClock
) -> None:
    cut = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    prove_cut(worked.again(), cut, -6.0, clock=clock)
    clock.go_on(600.0)
    order = take_order(worked.again(), "test-pin", label="8", clock=clock)
    clock.go_on(600.0)
    session = start(worked.again(), [order.id], clock=clock)
    work(session, clock, 24)
    session.close()
    cut = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    assert (cut.order, cut.cut_mm) == (order.id, 186.0)


def test_an_order_of_another_length_is_not_cut_as_that_one_proved(
    worked: Shop, clock: FakeClock
) -> None:
    recipe = worked.book / "recipes" / "test-pin.toml"
    cut = next(one for one in tonight(worked, clock).cuts if one.component == "pin")
    prove_cut(worked.again(), cut, -6.0, clock=clock)
    clock.go_on(600.0)
    recipe.write_text(recipe.read_text().replace('cut = "180 mm"', 'cut = "200 mm"'))
    order = take_order(worked.again(), "test-pin", label="8", clock=clock)
    shown = layout(worked.again(), [order.id], clock.stamp()).stock
    assert [s.came_out for s in shown if s.component == "pin"] == [""]


def test_in_inches_all_that_is_asked_is_in_inches(worked: Shop, clock: FakeClock) -> None:
    settings = worked.book / "shop.toml"
    settings.write_text('units = "inch"\n' + settings.read_text().replace('units = "mm"', ""))
    asked = tonight(worked, clock).fuel
    assert asked is not None
    tell_fuel(worked.again(), asked, 0.45359237 * 6, clock=clock)
    view = tonight(worked, clock)
    assert view.fuel is not None
    assert view.fuel.told == "6 lb"
    assert "orchard gate: pin, 7 1/16 in of 15/32 in square" in [cut.words for cut in view.cuts]


def test_the_shell_prints_the_evening_and_takes_the_fuel(
    worked: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(worked.book)]
    assert main([*book, "evening", "--plain"]) == 0
    told = capsys.readouterr().out
    assert "FUEL\n  gas forge: not told\n" in told
    assert "TOMORROW\n  orchard gate: " in told
    assert max(map(len, told.splitlines())) <= 80
    assert main([*book, "evening", "--bottle", "21.4 kg", "18.8 kg"]) == 0
    assert capsys.readouterr().out == "gas forge: 2.60 kg, from 21.4 kg to 18.8 kg\n"
    assert main([*book, "evening", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["fuel"]["told"].startswith("2.60 kg")


def test_what_the_shell_cannot_take_is_said_in_a_sentence(
    worked: Shop, shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(worked.book)]
    assert main([*book, "evening", "--fuel", "lots"]) == 2
    assert '"lots" has no number' in capsys.readouterr().err
    assert main([*book, "evening", "--fuel", "2 kg", "--bottle", "3 kg", "1 kg"]) == 2
    assert "not both" in capsys.readouterr().err


def test_the_rack_is_kept_from_the_shell(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    (shop.book / "stock.toml").write_text("")
    book = ["--book", str(shop.book)]
    assert main([*book, "rack"]) == 0
    assert capsys.readouterr().out == "nothing is listed in stock.toml, and no offcut\n"
    assert main([*book, "rack", "keep", "12 mm square", "210 mm", "--where", "box 2"]) == 0
    assert capsys.readouterr().out == "write on it: K1: 210 mm of 12 mm square, mild, box 2\n"
    assert main([*book, "rack", "--json"]) == 0
    assert [row["long_mm"] for row in json.loads(capsys.readouterr().out)] == [210.0]
    assert main([*book, "rack", "used", "K1"]) == 0
    assert main([*book, "rack", "used", "K1"]) == 2
    assert "no offcut on the rack" in capsys.readouterr().err
    assert main([*book, "rack", "keep", "12 mm wide", "210 mm"]) == 2
    assert "forgelog: " in capsys.readouterr().err
