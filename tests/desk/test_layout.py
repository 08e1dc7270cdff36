from __future__ import annotations

import pytest

from forgelog.book.settings import read_stock
from forgelog.desk.clock import FakeClock
from forgelog.desk.layout import LayoutView, layout
from forgelog.desk.layout_stock import on_rack
from forgelog.desk.orders import find_order, hold_order, take_order
from forgelog.desk.recipe_moved import KEEP, recipe_moved, take_over
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.work.facts import Noted, ToolSeen
from tests.desk.working import work


def taken(shop: Shop, clock: FakeClock, **more: object) -> str:
    clock.go_on(60.0)
    return take_order(shop.again(), "test-pin", clock=clock, **more).id  # type: ignore[arg-type]


def laid_out(shop: Shop, clock: FakeClock, *orders: str) -> LayoutView:
    return layout(shop.again(), orders, clock.stamp())


def worked(shop: Shop, clock: FakeClock, order: str, presses: int) -> None:
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, presses)
    session.close()


def test_a_new_order_has_all_its_stock_to_cut(shop: Shop, clock: FakeClock) -> None:
    view = laid_out(shop, clock, taken(shop, clock, count=3))
    assert [s.words for s in view.stock] == [
        "wedge: 9 of 10 mm round, 30 mm each (proved)",
        "pin: 6 of 12 mm square, 180 mm each (proved)",
    ]
    pin = next(s for s in view.stock if s.name == "pin")
    assert (pin.pieces, pin.each_mm, pin.total_mm) == (6, 180.0, 1080.0)
    assert view.lies == ()
    assert view.problems == ()
    assert view.moved == ()


def test_a_proved_length_stands_beside_the_sum(shop: Shop, clock: FakeClock) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    form = 'each = 2\nform = [{ solid = "square", across = "12 mm", long = "150 mm" }]\n'
    text = path.read_text().replace("each = 2\n", form, 1)
    path.write_text(text)
    pin = next(s for s in laid_out(shop, clock, taken(shop, clock)).stock if s.name == "pin")
    # 150 mm of the bar itself and 4 per cent of scale: 150 / 0.96 = 156.25, shown to the half.
    assert pin.words == "pin: 2 of 12 mm square, 180 mm each (proved; the sum says 156.5 mm)"
    path.write_text(text.replace(', cut = "180 mm"', ""))
    pin = next(s for s in laid_out(shop, clock, taken(shop, clock)).stock if s.name == "pin")
    assert pin.words == "pin: 2 of 12 mm square, 156.5 mm each (by the sum)"
    assert pin.each_mm == pytest.approx(156.5)


def test_what_was_begun_is_not_cut_again_and_is_told_where_it_lies(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    worked(shop, clock, order, 6)
    view = laid_out(shop, clock, order)
    begun = [p for p in shop.again().state.pieces.values() if p.begun]
    pins = [p for p in begun if p.component == "pin"]
    cut = {s.name: s.pieces for s in view.stock}
    assert cut.get("pin", 0) == 2 - len(pins)
    assert len(pins) >= 1
    assert {line.workpiece for line in view.lies} == {p.id for p in begun}
    assert all(": " in line.words for line in view.lies)


def test_the_last_note_is_told(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, 4)
    piece = next(p.id for p in session.state.pieces.values() if p.begun)
    session._take(clock.stamp(), (Noted(workpiece=piece, words="thin at the \x1b[31mneck"),))
    session.close()
    (line,) = [line for line in laid_out(shop, clock, order).lies if line.note]
    assert line.note == "thin at the <U+001B>[31mneck"


def test_tools_are_told_with_setting_and_state_and_the_missing_first(
    shop: Shop, clock: FakeClock
) -> None:
    (shop.book / "tools.toml").write_text(
        '[[tool]]\nname = "fuller, small"\nalso = ["small fuller"]\nstate = "proved"\n'
        '[[tool]]\nname = "bending jig"\njig = true\nstate = "to be made"\n'
    )
    order = taken(shop, clock, sizes_mm={"drop": 75.0})
    first, second = laid_out(shop, clock, order).tools
    assert (first.name, first.state, first.missing, first.jig) == (
        "bending jig",
        "to be made",
        True,
        True,
    )
    assert first.words == "bending jig, stop at 75 mm (to be made)"
    assert first.for_steps == ("bend the pin",)
    assert second.words == "small fuller (proved)"


def test_a_tool_that_no_file_names_says_so(shop: Shop, clock: FakeClock) -> None:
    tools = laid_out(shop, clock, taken(shop, clock)).tools
    assert {t.state for t in tools} == {"not in tools.toml"}


def test_what_was_seen_at_the_floor_outranks_the_file(shop: Shop, clock: FakeClock) -> None:
    (shop.book / "tools.toml").write_text('[[tool]]\nname = "bending jig"\nstate = "to be made"\n')
    order = taken(shop, clock)
    session = start(shop.again(), [order], clock=clock)
    seen = ToolSeen(tool="bending-jig", state="have", setting="stop at 60 mm")
    session._take(clock.stamp(), (seen,))
    session.close()
    jig = next(t for t in laid_out(shop, clock, order).tools if t.id == "bending-jig")
    assert (jig.state, jig.set_now, jig.missing) == ("have", "stop at 60 mm", False)


def test_the_cautions_are_those_of_recipe_steps_and_shop(shop: Shop, clock: FakeClock) -> None:
    cautions = laid_out(shop, clock, taken(shop, clock)).cautions
    assert any("no colour" in c for c in cautions)
    assert any("infrared" in c for c in cautions)
    assert len(set(cautions)) == len(cautions)
    assert not any("hammer and press" in c or "changing dies" in c for c in cautions)
    (shop.book / "shop.toml").write_text('methods = ["hand", "power"]\n')
    more = laid_out(shop, clock, taken(shop, clock)).cautions
    assert set(more) > set(cautions)


def test_fire_method_and_light_can_be_chosen(shop: Shop, clock: FakeClock) -> None:
    (shop.book / "shop.toml").write_text(
        'light = "day"\nmethods = ["power", "hand"]\nair = "12 degC"\n'
        '[[fire]]\nid = "hearth"\nkind = "coke"\nplaces = 2\n[[fire]]\nid = "gas"\n'
    )
    view = laid_out(shop, clock, taken(shop, clock))
    assert [o.words for o in view.fires.options] == ["hearth, 2 places", "gas, 3 places"]
    assert [o.id for o in view.methods.options] == ["power", "hand"]
    assert view.lights.options[view.lights.at].id == "day"
    assert view.air == "air 10 degC"


def test_a_recipe_that_has_changed_is_asked_about(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    worked(shop, clock, order, 6)
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace("hand = 2", "hand = 3"))
    (moved,) = laid_out(shop, clock, order).moved
    assert moved.order == order
    assert moved.steps == ("pin, draw the point: planned heats 2 (hand), now 3 (hand)",)
    assert [c.id for c in moved.choices] == ["keep", "not begun", "next step"]
    clock.go_on(60.0)
    opened = shop.again()
    asked = recipe_moved(opened, opened.state.orders[order])
    assert asked is not None
    take_over(opened, asked, KEEP, clock=clock)
    assert laid_out(shop, clock, order).moved == ()


def test_what_stands_in_the_way_is_told(shop: Shop, clock: FakeClock) -> None:
    held, broken = taken(shop, clock, label="held"), taken(shop, clock, label="broken")
    opened = shop.again()
    hold_order(opened, find_order(opened.state, held), "no bar", clock=clock)
    assert laid_out(shop, clock, held).problems == ("held is held (no bar)",)
    (shop.book / "recipes" / "test-pin.toml").write_text("format = 1\n")
    (problem,) = laid_out(shop, clock, broken).problems
    assert problem.startswith("broken: the ")


def test_what_is_still_hot_is_told_until_it_has_cooled(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    worked(shop, clock, order, 8)
    hot = laid_out(shop, clock, order).hot
    assert hot
    assert all("about" in line and "degC" in line for line in hot)
    clock.go_on(24 * 3600.0)
    assert laid_out(shop, clock, order).hot == ()


def test_steps_that_are_done_want_no_tools(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    worked(shop, clock, order, 400)
    opened = shop.again()
    pins = [p for p in opened.state.pieces.values() if p.component == "pin"]
    assert all(p.step >= 3 for p in pins)
    assert laid_out(shop, clock, order).tools == ()


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_numbers_are_shown_in_the_shops_units(shop: Shop, clock: FakeClock, units: str) -> None:
    (shop.book / "shop.toml").write_text(f'units = "{units}"\n')
    view = laid_out(shop, clock, taken(shop, clock))
    unit = "in" if units == "inch" else "mm"
    assert all(s.each.endswith(f" {unit}") for s in view.stock)
    assert view.air.endswith("degF" if units == "inch" else "degC")


def test_the_rack_is_looked_at(shop: Shop, clock: FakeClock) -> None:
    (shop.book / "stock.toml").write_text(
        '[[bar]]\nsection = "12 mm square"\nlong = "3 m"\ncount = 2\n'
        '[[bar]]\nsection = "12 mm square"\nlong = "1 m"\nsteel = "tool steel"\n'
        '[[offcut]]\nlabel = "B2"\nsection = "12 mm square"\nlong = "340 mm"\n'
    )
    pin = next(s for s in laid_out(shop, clock, taken(shop, clock)).stock if s.name == "pin")
    assert pin.rack == "2 bars of 3000 mm, offcut B2 of 340 mm"
    wedge = next(s for s in laid_out(shop, clock, taken(shop, clock)).stock if s.name == "wedge")
    assert wedge.rack == ""


def test_bars_of_another_section_do_not_serve(shop: Shop, clock: FakeClock) -> None:
    bars, _ = read_stock(b'[[bar]]\nsection = "12 mm round"\nlong = "3 m"\n')
    order = taken(shop, clock)
    recipe = shop.again().recipe("test-pin")
    assert recipe.component[0].stock is not None
    opened = shop.again()
    session = start(opened, [order], clock=clock)
    session.close()
    stock = session.state.orders[order].pins[0].components[0].stock
    assert stock is not None
    assert on_rack(bars, stock.section, "mild", "mm") == ""
