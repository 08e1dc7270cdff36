from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.layout import layout
from forgelog.desk.orders import change_sizes, take_order
from forgelog.desk.recipe_moved import (
    KEEP,
    NEXT_STEP,
    NOT_BEGUN,
    REMAKE,
    REWORK,
    RIGHT,
    RecipeMoved,
    moved_lines,
    recipe_moved,
    take_over,
)
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.desk.spares import add_spares
from forgelog.work.state import Order, Workpiece
from tests.desk.working import finish, work


@pytest.fixture
def order(shop: Shop, clock: FakeClock) -> Order:
    """An order of two sets, half done: some pins have been bent, the wedges are not begun."""
    taken = take_order(shop, "test-pin", count=2, clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [taken.id], clock=clock)
    for _ in range(200):
        if "WEDGE" in session.view().piece:
            session.press("tab")
        work(session, clock, 1)
        if any(p.step >= 3 for p in session.state.pieces.values()):
            break
    session.close()
    clock.go_on(3600.0)
    return session.state.orders[taken.id]


def rewritten(shop: Shop, old: str, new: str) -> Shop:
    path: Path = shop.book / "recipes" / "test-pin.toml"
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))
    return shop.again()


def pieces(shop: Shop) -> dict[str, Workpiece]:
    return shop.again().state.pieces


def moved_now(shop: Shop, order: Order) -> RecipeMoved:
    moved = recipe_moved(shop, shop.state.orders[order.id])
    assert moved is not None
    return moved


def test_nothing_is_asked_while_nothing_has_changed(shop: Shop, order: Order) -> None:
    assert recipe_moved(shop.again(), order) is None
    assert recipe_moved(rewritten(shop, "Two pins and", "Two fine pins and"), order) is None
    assert moved_lines(shop.again(), order) == []


def test_a_changed_step_is_told_with_old_and_new(shop: Shop, order: Order) -> None:
    changed = rewritten(shop, "hand = 2", "hand = 3, power = 1")
    moved = moved_now(changed, order)
    assert [s.words for s in moved.steps] == [
        "pin, draw the point: planned heats 2 (hand), now 3 (hand) and 1 (power)"
    ]
    assert {p.slot for p in moved.pieces} == {
        p.slot for p in changed.state.pieces.values() if p.component == "pin" and p.step >= 1
    }


def test_new_and_lost_steps_are_told(shop: Shop, order: Order) -> None:
    changed = rewritten(shop, 'do = "file the end"', 'do = "grind the end"')
    assert [s.words for s in moved_now(changed, order).steps] == [
        "pin, grind the end: is new",
        "pin, file the end: is gone",
    ]


def test_another_stock_is_told(shop: Shop, order: Order) -> None:
    changed = rewritten(shop, 'cut = "180 mm"', 'cut = "190 mm"')
    assert [s.words for s in moved_now(changed, order).steps] == [
        "pin: cut from 180 mm of 12 mm square, now 190 mm of 12 mm square"
    ]


def test_a_changed_size_names_the_finished_steps_it_moves(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    change_sizes(shop.again(), order, {"drop": 80.0}, clock=clock)
    changed = shop.again()
    moved = moved_now(changed, order)
    (step,) = moved.steps
    assert "60 mm" in step.words
    assert "80 mm" in step.words
    bent = {p.id for p in changed.state.pieces.values() if p.component == "pin" and p.step >= 3}
    assert {p.workpiece for p in moved.pieces} == bent != set()
    assert all("bending jig: stop at 60 mm, now stop at 80 mm" in p.lines[0] for p in moved.pieces)
    lines = moved_lines(changed, changed.state.orders[order.id])
    assert lines[0] == "The next lay-out asks what to do about:"
    assert any(line.startswith(f"  {moved.pieces[0].slot}: bend the pin") for line in lines)


@pytest.mark.parametrize("choice", [KEEP, NOT_BEGUN, NEXT_STEP])
def test_it_is_asked_once_and_the_chosen_pieces_go_over(
    shop: Shop, order: Order, clock: FakeClock, choice: str
) -> None:
    changed = rewritten(shop, "hand = 2", "hand = 3")
    before = pieces(shop)
    take_over(changed, moved_now(changed, order), choice, clock=clock)
    after = shop.again()
    assert recipe_moved(after, after.state.orders[order.id]) is None
    assert len(after.state.orders[order.id].pins) == 2
    for piece in after.state.pieces.values():
        expected = {
            KEEP: 0,
            NOT_BEGUN: 0 if piece.begun else 1,
            NEXT_STEP: 0 if piece.place == "finished" else 1,
        }[choice]
        assert piece.pin == expected, piece.slot
        assert piece.step == before[piece.id].step
    assert any(p.begun for p in after.state.pieces.values())
    assert not all(p.begun for p in after.state.pieces.values())
    assert after.whole_state.troubles == ()


def test_a_finished_step_is_reworked_remade_or_still_right(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    change_sizes(shop.again(), order, {"drop": 80.0}, clock=clock)
    changed = shop.again()
    moved = moved_now(changed, order)
    first = moved.pieces[0]
    assert set(first.answers) == {RIGHT, REWORK, REMAKE}
    clock.go_on(60.0)
    take_over(changed, moved, NEXT_STEP, {first.workpiece: REWORK}, clock=clock)
    piece = pieces(shop)[first.workpiece]
    assert (piece.pin, piece.step, piece.place) == (1, 2, "waiting")
    assert "bend-the-pin" not in [r.step for r in piece.done]

    change_sizes(shop.again(), order, {"drop": 90.0}, clock=clock)
    clock.go_on(60.0)
    changed = shop.again()
    moved = moved_now(changed, order)
    assert first.workpiece not in {p.workpiece for p in moved.pieces}


def test_a_remake_takes_the_slot_at_the_new_size(
    shop: Shop, order: Order, clock: FakeClock
) -> None:
    change_sizes(shop.again(), order, {"drop": 80.0}, clock=clock)
    clock.go_on(60.0)
    changed = shop.again()
    moved = moved_now(changed, order)
    first = moved.pieces[0]
    take_over(changed, moved, NEXT_STEP, {first.workpiece: REMAKE}, clock=clock)
    after = pieces(shop)
    assert after[first.workpiece].place == "scrapped"
    (again,) = [p for p in after.values() if p.remade_from == first.workpiece]
    assert (again.pin, again.step, again.slot) == (1, 0, first.slot)
    assert shop.again().whole_state.troubles == ()


def test_still_right_only_moves_the_piece_on(shop: Shop, order: Order, clock: FakeClock) -> None:
    change_sizes(shop.again(), order, {"drop": 80.0}, clock=clock)
    clock.go_on(60.0)
    changed = shop.again()
    moved = moved_now(changed, order)
    before = pieces(shop)
    take_over(changed, moved, NEXT_STEP, {moved.pieces[0].workpiece: RIGHT}, clock=clock)
    piece = pieces(shop)[moved.pieces[0].workpiece]
    assert piece.step == before[piece.id].step
    assert piece.done == before[piece.id].done


def test_a_new_component_gets_its_workpieces(shop: Shop, order: Order, clock: FakeClock) -> None:
    more = (
        '[[component]]\nid = "cap"\nname = "cap"\neach = 2\n'
        'stock = { section = "20 mm round", cut = "20 mm" }\n'
        '[[component.step]]\ndo = "dish"\nheats = { hand = 1 }\n[[component]]\nid = "wedge"'
    )
    changed = rewritten(shop, '[[component]]\nid = "wedge"', more)
    moved = moved_now(changed, order)
    assert [s.words for s in moved.steps] == ["cap: is new"]
    take_over(changed, moved, NOT_BEGUN, clock=clock)
    caps = [p for p in pieces(shop).values() if p.component == "cap"]
    assert [p.slot for p in caps] == ["cap 1", "cap 2", "cap 3", "cap 4"]
    assert len({p.serial for p in pieces(shop).values()}) == len(pieces(shop))
    assert all(p.pin == 1 for p in caps)


def test_an_answer_that_cannot_be_is_refused(shop: Shop, order: Order, clock: FakeClock) -> None:
    changed = rewritten(shop, 'do = "bend the pin"', 'do = "bend it"')
    moved = moved_now(changed, order)
    for piece in moved.pieces:
        assert piece.answers == (RIGHT,)
        with pytest.raises(CannotDo):
            take_over(changed, moved, NEXT_STEP, {piece.workpiece: REWORK}, clock=clock)
    assert moved.pieces


BAR = """
format = 1
id = "test-bar"
name = "Bars for tests"
[sizes.post]
default = "100 mm"
[[component]]
id = "bar"
name = "bar"
each = 3
stock = { section = "12 mm square", loss = 0 }
form = [{ solid = "square", across = "12 mm", long = "post + 50 mm" }]
[[component.step]]
do = "saw the bar"
kind = "bench"
[[component.step]]
do = "point it"
heats = { hand = 1 }
"""


def test_a_size_that_moves_only_the_cut_asks_of_every_piece_that_was_cut(
    shop: Shop, clock: FakeClock
) -> None:
    (shop.book / "recipes" / "test-bar.toml").write_text(BAR)
    order = take_order(shop.again(), "test-bar", clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    sawn, pointed, _ = session.state.pieces.values()
    finish(session, clock, sawn, steps=1)
    finish(session, clock, pointed)
    session.close()
    change_sizes(shop.again(), order, {"post": 120.0}, clock=clock)
    clock.go_on(60.0)
    changed = shop.again()
    moved = moved_now(changed, order)
    assert [p.workpiece for p in moved.pieces] == [sawn.id, pointed.id]
    assert all(
        p.lines == ("cut from 150 mm of 12 mm square, now 170 mm of 12 mm square",)
        for p in moved.pieces
    )
    assert all(p.rework_from == "saw-the-bar" for p in moved.pieces)
    answers = {sawn.id: REMAKE, pointed.id: RIGHT}
    take_over(changed, moved, NEXT_STEP, answers, clock=clock)
    # Two bars still to cut at the new length: the one never begun, and the one made again.
    (stock,) = layout(shop.again(), [order.id], clock.stamp()).stock
    assert (stock.pieces, stock.each_mm) == (2, 170.0)
    assert recipe_moved(shop.again(), shop.again().state.orders[order.id]) is None


def test_a_cut_that_has_proved_itself_asks_nothing_of_what_was_cut(
    shop: Shop, clock: FakeClock
) -> None:
    path = shop.book / "recipes" / "test-bar.toml"
    path.write_text(BAR)
    order = take_order(shop.again(), "test-bar", clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    finish(session, clock, next(iter(session.state.pieces.values())), steps=1)
    session.close()
    path.write_text(BAR.replace("loss = 0", 'cut = "160 mm", loss = 0'))
    proved = moved_now(shop.again(), order)
    assert (len(proved.steps), proved.pieces) == (1, ())


def test_a_spare_that_is_made_again_stays_a_spare(shop: Shop, clock: FakeClock) -> None:
    (shop.book / "recipes" / "test-bar.toml").write_text(BAR)
    order = take_order(shop.again(), "test-bar", clock=clock)
    add_spares(shop.again(), order, "bar", clock=clock)
    session = start(shop.again(), [order.id], clock=clock)
    spare = next(p for p in session.state.pieces.values() if p.spare)
    finish(session, clock, spare, steps=1)
    session.close()
    change_sizes(shop.again(), order, {"post": 120.0}, clock=clock)
    clock.go_on(60.0)
    changed = shop.again()
    moved = moved_now(changed, order)
    take_over(changed, moved, NEXT_STEP, {spare.id: REMAKE}, clock=clock)
    (again,) = [p for p in pieces(shop).values() if p.remade_from == spare.id]
    assert again.spare
    assert len({p.serial for p in pieces(shop).values()}) == len(pieces(shop))
