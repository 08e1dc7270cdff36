from __future__ import annotations

import json

import msgspec
import pytest

from forgelog.desk.bars import choose_bar
from forgelog.desk.clock import FakeClock
from forgelog.desk.cut import cut_of
from forgelog.desk.cut_done import cut_done, last_words, take_back
from forgelog.desk.cut_pages import write_cut
from forgelog.desk.cut_told import CutTold
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import layout
from forgelog.desk.orders import hold_order, take_order
from forgelog.desk.rack import rack, use_up
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.trade.sections import Section
from tests.desk.working import work

SQUARE = Section(kind="square", a_mm=12.0)
RACK = """
[[bar]]
section = "12 mm square"
long = "3 m"
count = 2
where = "rack, left"
[[bar]]
section = "10 mm round"
long = "1 m"
[[offcut]]
label = "B2"
section = "12 mm square"
long = "400 mm"
"""


def taken(shop: Shop, clock: FakeClock, **more: object) -> str:
    clock.go_on(60.0)
    return take_order(shop.again(), "test-pin", clock=clock, **more).id  # type: ignore[arg-type]


def racked(shop: Shop, text: str = RACK) -> Shop:
    (shop.book / "stock.toml").write_text(text)
    return shop.again()


def lines(told: CutTold, width: int = 78) -> list[str]:
    return [line for page in write_cut(told, width) for line in (page.title, *page.lines)]


def test_every_piece_has_its_bar_its_mark_and_its_turn_at_the_saw(
    shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock, label="14")
    told = cut_of(racked(shop))
    pins = next(s for s in told.sections if s.section == "12 mm square")
    (bar,) = pins.bars
    # Two pins of 180 mm and two cuts of 2 mm: 364 mm of the offcut of 400 mm.
    assert (bar.kind, bar.label, bar.words) == ("offcut", "B2", "offcut B2, 400 mm")
    (run,) = bar.runs
    assert run.words == "2 of 180 mm: pin (14)"
    assert (run.marks_mm, run.marks) == ((180.0, 362.0), ("180 mm", "362 mm"))
    assert (bar.cuts, bar.kerf_mm, bar.rest_mm, bar.rest_label) == (2, 4.0, 36.0, "")
    assert bar.rest_words == "left over: 36 mm, too short to keep"
    assert told.first == "5 pieces from 1 bar and 1 offcut; nothing is to be bought."
    assert told.buy == ()
    # 360 mm of 12 mm square and 90 mm of 10 mm round at 7850 kg/m3.
    assert told.mass_kg == pytest.approx(0.40694 + 0.05549, abs=1e-4)


def test_cut_list_and_lay_out_agree_on_what_is_to_be_cut(shop: Shop, clock: FakeClock) -> None:
    one, two = taken(shop, clock, count=2), taken(shop, clock, count=3)
    session = start(racked(shop), [one], clock=clock)
    work(session, clock, 14)
    session.close()
    shop = shop.again()
    stock = layout(shop, [one, two], clock.stamp()).stock
    told = cut_of(shop)
    assert {(s.order, s.component, s.pieces, s.each) for s in stock if s.pieces} == {
        (r.order, r.component, sum(x.count for x in _runs(told, r.order, r.component)), r.long)
        for r in _runs(told)
    }
    begun = [p for p in shop.state.pieces.values() if p.begun and p.component == "pin"]
    assert begun
    assert sum(r.count for r in _runs(told, one, "pin")) == 4 - len(begun)


def _runs(told: CutTold, order: str = "", component: str = "") -> list:  # type: ignore[type-arg]
    return [
        run
        for section in told.sections
        for bar in section.bars
        for run in bar.runs
        if order in ("", run.order) and component in ("", run.component)
    ]


def test_a_length_by_the_sum_is_rounded_up_never_down(shop: Shop, clock: FakeClock) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    form = 'each = 2\nform = [{ solid = "square", across = "12 mm", long = "150 mm" }]\n'
    text = path.read_text().replace("each = 2\n", form, 1).replace(', cut = "180 mm"', "")
    path.write_text(text)
    order = taken(shop, clock)
    (run,) = _runs(cut_of(racked(shop)), order, "pin")
    # 150 / 0.96 = 156.25 mm.
    assert (run.long_mm, run.long, run.note) == (156.5, "156.5 mm", "by the sum")
    (shop.book / "shop.toml").write_text('units = "inch"\n')
    (run,) = _runs(cut_of(shop.again()), order, "pin")
    assert run.long == "6 5/32 in"
    assert run.long_mm == pytest.approx(156.36875)
    assert run.long_mm >= 156.25


def test_an_empty_rack_is_bought_from_in_whole_bars(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock, count=20)
    told = cut_of(racked(shop, ""))
    # 40 pins of 180 mm and their cuts are 7280 mm; 60 wedges of 30 mm go into one bar.
    assert told.buy == (
        "10 mm round, mild: 1 bar of 6000 mm, 3.70 kg",
        "12 mm square, mild: 2 bars of 6000 mm, 13.6 kg",
    )
    assert "nothing of this bar is on the rack" in told.sections[1].notes
    (shop.book / "shop.toml").write_text('dialect = "us"\nunits = "inch"\n')
    assert cut_of(shop.again()).bar == "240 in"


def test_a_piece_longer_than_any_bar_is_told_in_a_sentence(shop: Shop, clock: FakeClock) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace('cut = "180 mm"', 'cut = "6500 mm"'))
    taken(shop, clock, label="14")
    told = cut_of(racked(shop))
    pins = next(s for s in told.sections if s.section == "12 mm square")
    assert (pins.bars, pins.buy) == ((), 0)
    assert pins.lacking == (
        "pin (14), 2 of 6500 mm: longer than a new bar (6000 mm) and than any left on the rack. "
        "Get a longer bar and list it in stock.toml, or forge it from two and weld",
    )
    long = RACK.replace('long = "3 m"', 'long = "6.6 m"')
    pins = cut_of(racked(shop, long)).sections[1]
    assert [bar.words for bar in pins.bars] == ["bar of 6600 mm (rack, left)"] * 2
    assert pins.lacking == ()


def test_held_orders_are_left_out_unless_they_are_named(shop: Shop, clock: FakeClock) -> None:
    held, other = taken(shop, clock, label="14"), taken(shop, clock, label="15")
    shop = racked(shop)
    clock.go_on(60.0)
    hold_order(shop, shop.state.orders[held], "waits for the gate", clock=clock)
    shop = shop.again()
    told = cut_of(shop)
    assert {run.order for run in _runs(told)} == {other}
    assert told.left_out == ("14 is held (waits for the gate)",)
    named = cut_of(shop, [held])
    assert {run.order for run in _runs(named)} == {held}
    assert "14 is held (waits for the gate)" in named.notes


def test_without_an_order_there_is_nothing_to_cut(shop: Shop, clock: FakeClock) -> None:
    assert cut_of(racked(shop)).first == "There is nothing to cut."
    with pytest.raises(CannotDo, match="nothing to cut"):
        cut_done(shop.again(), clock=clock)
    order = taken(shop, clock, label="14")
    shop = shop.again()
    call_off(shop, shop.state.orders[order], "given up", clock=clock)
    with pytest.raises(CannotDo, match='order "14" is closed'):
        cut_of(shop.again(), [order])
    with pytest.raises(CannotDo, match="there is no order"):
        cut_of(shop.again(), ["nobody"])


def test_what_was_sawn_is_not_cut_again_and_the_rack_knows(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock, count=3, label="14")
    shop = racked(shop)
    stock = (shop.book / "stock.toml").read_bytes()
    told = cut_done(shop, clock=clock)
    shop = shop.again()
    # Six pins and their cuts are 1092 mm of one bar of 3 m; nine wedges 288 mm of the round.
    words = [(bar.label, bar.long_mm, bar.count) for bar in rack(shop)]
    assert words == [("", 3000.0, 1), ("B2", 400.0, 1), ("K1", 712.0, 1), ("K2", 1908.0, 1)]
    assert (shop.book / "stock.toml").read_bytes() == stock
    after = cut_of(shop)
    assert (after.pieces, after.sections) == (0, ())
    assert after.first == "Nothing is left to cut: all of it lies sawn or was begun."
    assert after.notes == ("pin (14): 6 blanks sawn already", "wedge (14): 9 blanks sawn already")
    assert [s.words for s in layout(shop, [order], clock.stamp()).stock] == [
        "wedge: 9 sawn already, 10 mm round, 30 mm",
        "pin: 6 sawn already, 12 mm square, 180 mm",
    ]
    assert [bar.rest_label for s in told.sections for bar in s.bars] == ["K1", "K2"]


def test_what_was_sawn_wrongly_is_taken_back_whole(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock)
    shop = racked(shop)
    before, lay = cut_of(shop), rack(shop)
    clock.go_on(60.0)
    cut_done(shop, clock=clock)
    shop = shop.again()
    assert last_words(shop) == "2 bars (10 mm round, 12 mm square)"
    clock.go_on(60.0)
    assert take_back(shop, clock=clock) == "2 bars (10 mm round, 12 mm square)"
    shop = shop.again()
    assert sorted((b.label, b.long_mm) for b in rack(shop)) == sorted(
        (b.label, b.long_mm) for b in lay
    )
    again = cut_of(shop)
    assert (again.pieces, again.buy) == (before.pieces, before.buy)
    assert again.notes == before.notes
    with pytest.raises(CannotDo, match="no bar is written down as sawn"):
        take_back(shop, clock=clock)


def test_one_bar_of_the_list_is_ticked_off_and_the_others_are_still_to_saw(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, count=20, label="14")
    shop = racked(shop, "")
    told = cut_of(shop)
    # 40 pins want two bars of 6 m; 60 wedges a third.
    assert [(bar.number, bar.kind) for bar in told.bars] == [(1, "new"), (2, "new"), (3, "new")]
    done = cut_done(shop, bars=[3], expected=told, clock=clock)
    (bar,) = done.bars
    pins = bar.pieces
    assert (bar.number, bar.words, bar.rest_label) == (
        3,
        "new bar of 6000 mm",
        told.bars[2].rest_label,
    )
    assert done.pieces == pins < 40
    assert done.first == f"{pins} pieces from 1 bar; buy 1 bar."
    shop = shop.again()
    assert [one.cut.rest_label for one in shop.state.sawn] == [bar.rest_label]
    kept = [(b.label, b.long_mm) for b in rack(shop)]
    assert kept == ([(bar.rest_label, bar.rest_mm)] if bar.rest_label else [])
    left = cut_of(shop)
    assert (left.pieces, len(left.bars)) == (100 - pins, 2)
    # Every pin is given to one piece of the order, none to two.
    sawn = [w for one in shop.state.sawn for p in one.cut.pieces for w in p.workpieces]
    still = [w for run in _runs(left, order, "pin") for w in run.workpieces]
    assert not set(sawn) & set(still)
    clock.go_on(60.0)
    assert take_back(shop, clock=clock) == "1 bar (12 mm square)"
    assert cut_of(shop.again()).pieces == 100
    with pytest.raises(CannotDo, match="no bar 4 in the list: it has bars 1 to 3"):
        cut_done(shop.again(), bars=[1, 4], clock=clock)


def test_what_is_cut_into_is_told_as_it_is(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock)
    assert cut_of(racked(shop, "")).first == "5 pieces from 2 bars; buy 2 bars."
    rest = '[[offcut]]\nlabel = "{}"\nsection = "{}"\nlong = "400 mm"\n'
    rests = rest.format("B2", "12 mm square") + rest.format("B3", "10 mm round")
    told = cut_of(racked(shop, rests))
    assert told.first == "5 pieces from 2 offcuts; nothing is to be bought."
    assert any("2 pieces, 360 mm, from 1 offcut" in line for line in lines(told))


def test_it_is_not_taken_back_once_a_rest_or_a_blank_was_used(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    cut_done(racked(shop), clock=clock)
    clock.go_on(60.0)
    use_up(shop.again(), "K1", clock=clock)
    with pytest.raises(CannotDo, match="its offcut K1 is gone"):
        take_back(shop.again(), clock=clock)
    (shop.book / "shop.toml").write_text('[saw]\nleast = "5 m"\n')
    order = taken(shop, clock)
    clock.go_on(60.0)
    cut_done(shop.again(), clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, 4)
    session.close()
    with pytest.raises(CannotDo, match="has been taken up since"):
        take_back(shop.again(), clock=clock)


def test_a_blank_that_was_taken_up_is_gone_and_one_remade_is_cut_anew(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, count=2)
    cut_done(racked(shop), clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, 10)
    session.close()
    state = shop.again().state
    begun = [p for p in state.pieces.values() if p.begun and p.component == "pin"]
    assert begun
    told = cut_of(shop.again())
    # What is left of the blanks is just what the pieces that were not begun want.
    assert told.pieces == 0
    left = f"{4 - len(begun)} blank{'s' if len(begun) != 3 else ''} sawn already"
    assert any(left in note for note in told.notes) == (len(begun) < 4)


def test_a_rack_that_the_smith_counts_anew_is_believed(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock, count=3)
    cut_done(racked(shop), clock=clock)
    bars = {bar.section.kind: bar.count for bar in rack(shop.again()) if not bar.offcut}
    assert bars == {"square": 1}
    # The file says one bar now: it was counted after the sawing.
    counted = RACK.replace("count = 2", "count = 1").replace('long = "1 m"', 'long = "900 mm"')
    bars = {bar.section.kind: bar.count for bar in rack(racked(shop, counted)) if not bar.offcut}
    assert bars == {"square": 1, "round": 1}
    taken(shop, clock, count=9)
    clock.go_on(60.0)
    cut_done(shop.again(), clock=clock)
    # Sawn from what the file says now; two bought later are two, whatever was sawn before.
    bars = [b.count for b in rack(shop.again()) if not b.offcut and b.section == SQUARE]
    assert bars == []
    bars = [b.count for b in rack(racked(shop)) if not b.offcut and b.section == SQUARE]
    assert bars == [2]


def test_blanks_of_another_length_or_bar_are_told_and_cut_anew(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock, label="14")
    cut_done(racked(shop), clock=clock)
    shop = shop.again()
    clock.go_on(60.0)
    thick = Section(kind="square", a_mm=14.0)
    choose_bar(shop, shop.state.orders[order], "pin", thick, clock=clock)
    told = cut_of(shop.again())
    assert [run.component for run in _runs(told)] == ["pin"]
    note = next(note for note in told.notes if note.startswith("pin"))
    assert note.startswith("pin (14): 2 were sawn of 12 mm square, 180 mm; wanted now is 14 mm")


def test_another_bar_of_the_rack_is_offered_only_where_the_shop_says_that_it_will_do(
    shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock, label="14")
    thicker = '[[bar]]\nsection = "12.7 mm square"\nlong = "1 m"\n'
    assert all(
        "would save" not in n for s in cut_of(racked(shop, thicker)).sections for n in s.notes
    )
    (shop.book / "shop.toml").write_text(
        '[[substitute]]\nplanned = "12 mm square"\nbar = "1/2 in square"\n'
    )
    notes = [n for s in cut_of(shop.again()).sections for n in s.notes]
    assert (
        "pin (14) from 12.7 mm square on the rack would save 1 bar: "
        '`forgelog order bar 14 "pin=12.7 mm square"`'
    ) in notes


def test_a_list_that_has_changed_since_it_was_printed_is_not_written_down(
    shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock)
    old = cut_of(racked(shop))
    taken(shop, clock)
    with pytest.raises(CannotDo, match="has changed since"):
        cut_done(shop.again(), expected=old, clock=clock)
    assert shop.again().state.sawn == ()


def test_hostile_names_do_no_harm_on_any_page(shop: Shop, clock: FakeClock) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace('name = "pin"', 'name = "[red]pin[/]"'))
    taken(shop, clock, label="[@click]x")
    hostile = RACK.replace('"B2"', '"B\\u202e2"').replace("rack, left", "[bold]\\u0007left")
    told = cut_of(racked(shop, hostile))
    for text in (*lines(told), json.dumps(msgspec.to_builtins(told), ensure_ascii=False)):
        assert "\u202e" not in text
        assert "\u0007" not in text


def test_no_line_of_a_page_is_wider_than_asked(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock, count=30, label="a rather long label of a customer's order, number 14")
    assert max(map(len, lines(cut_of(racked(shop))))) <= 78
    assert max(map(len, lines(cut_of(shop.again()), 100))) <= 100
