from __future__ import annotations

import random
from pathlib import Path

import pytest

from forgelog.book.sessions import journal_files
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop, open_shop
from forgelog.desk.writing import mend, write_down
from forgelog.work.facts import HeatsCorrected, OrderHeld, ToolSeen
from forgelog.work.state import State
from tests.desk.working import work


def months(shop: Shop, clock: FakeClock, chance: random.Random) -> None:
    """Orders come and go, several worked on together, over many sessions."""
    current: list[str] = []
    for _ in range(10):
        clock.start_again(chance.uniform(600, 90_000), boot=str(chance.random()))
        while len(current) < 2 or (len(current) < 4 and chance.random() < 0.5):
            current.append(take_order(shop.again(), "test-pin", clock=clock, count=2).id)
            clock.go_on(5.0)
        chosen = chance.sample(current, chance.randint(1, len(current)))
        session = start(shop.again(), chosen, clock=clock)
        work(session, clock, chance.randint(5, 40))
        if chance.random() < 0.5:
            session.press("backspace")
            clock.go_on(3.0)
        session.close()
        if chance.random() < 0.6:
            done = current.pop(chance.randrange(len(current)))
            opened = shop.again()
            call_off(opened, opened.state.orders[done], "given up", clock=clock)


def on_open(state: State) -> dict[str, object]:
    """What stands on the open orders."""
    orders = {o: order for o, order in state.orders.items() if order.closed is None}
    return {
        "orders": orders,
        "pieces": {w: p for w, p in state.pieces.items() if p.order in orders},
        "hot": {w: h for w, h in state.hot.items() if w.partition("/")[0] in orders},
    }


@pytest.mark.parametrize("seed", range(3))
def test_opening_quickly_gives_what_a_whole_fold_gives(
    shop: Shop, clock: FakeClock, seed: int
) -> None:
    months(shop, clock, random.Random(seed))
    opened = shop.again()
    assert opened.whole_state.troubles == ()
    assert opened.state.troubles == ()
    assert on_open(opened.state) == on_open(opened.whole_state)
    closed = {o for o, order in opened.whole_state.orders.items() if order.closed is not None}
    assert closed
    assert not any(p.order in closed for p in opened.state.pieces.values())
    assert any(p.order in closed for p in opened.whole_state.pieces.values())


def test_closed_orders_are_not_folded_at_the_start(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 20)
    session.close()
    clock.go_on(60.0)
    call_off(shop.again(), order, "delivered", clock=clock)
    opened = shop.again()
    assert session.id not in {f.session for f in opened.files}
    assert session.id in {f.session for f in opened.whole}
    assert opened.state.orders[order.id].closed == "delivered"


def test_a_tool_that_was_seen_long_ago_is_still_known(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    session._take(clock.stamp(), (ToolSeen(tool="bending-jig", state="to be made"),))
    session.close()
    clock.go_on(60.0)
    call_off(shop.again(), order, "given up", clock=clock)
    for _ in range(2):  # the second time from what the cache remembers
        opened = shop.again()
        assert session.id in {f.session for f in opened.files}
        assert opened.state.tools["bending-jig"][0] == "to be made"
        assert opened.state.pieces == {}


def test_a_folder_that_is_no_book_is_told_with_the_way_out(tmp_path: Path) -> None:
    with pytest.raises(CannotDo, match="is not there; `forgelog new-book"):
        open_shop(tmp_path / "nowhere")
    with pytest.raises(CannotDo, match="is no shop's book; `forgelog new-book"):
        open_shop(tmp_path)


def test_recipes_are_found_by_id_file_and_name(shop: Shop) -> None:
    for name in ("test-pin", "test-pin.toml", "Pin for tests"):
        assert shop.again().recipe(name).id == "test-pin"
    (shop.book / "recipes" / "test-pin.toml").rename(shop.book / "recipes" / "other.toml")
    assert shop.again().recipe("test-pin").id == "test-pin"
    assert shop.again().recipe("other").id == "test-pin"


def test_a_recipe_that_is_not_there_is_told_with_the_nearest(shop: Shop) -> None:
    with pytest.raises(CannotDo, match='did you mean "test-pin"') as refused:
        shop.recipe("tets-pin")
    assert "leaf-coat-hooks" in str(refused.value)


def test_a_recipe_with_errors_is_told_with_its_errors(shop: Shop) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace("hand = 2", 'hand = "two"'))
    with pytest.raises(CannotDo, match="has errors") as refused:
        shop.recipe("test-pin")
    assert "test-pin.toml:" in str(refused.value)


def test_lines_set_aside_are_told(shop: Shop, clock: FakeClock) -> None:
    take_order(shop, "test-pin", clock=clock)
    path = journal_files(shop.book)[-1]
    path.write_bytes(path.read_bytes() + b'{"seq":2,"at"')
    (aside,) = shop.again().set_aside
    assert aside.words.startswith(f"journal/2026/{path.name}:3: the line is cut short")


def test_what_cannot_be_is_refused_and_not_written(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="this cannot be: there is no order"):
        write_down(shop, OrderHeld(order="nobody-0000"), clock=clock)
    assert journal_files(shop.book) == []


def test_a_disk_that_takes_nothing_is_told(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    import os

    def full(fd: int, data: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(CannotDo, match="nothing was written down: the disk is full"):
        take_order(shop, "test-pin", clock=clock)
    assert journal_files(shop.book) == []


def test_heats_are_put_right_at_the_desk(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 30)
    session.close()
    piece = next(p for p in session.state.pieces.values() if p.done and p.component == "pin")
    clock.go_on(3600.0)
    fact = HeatsCorrected(workpiece=piece.id, step=piece.done[0].step, heats=4)
    mend(shop.again(), fact, clock=clock)
    record = shop.again().state.pieces[piece.id].done[0]
    assert (record.heats, record.corrected) == (4, True)
    assert shop.again().whole_state.pieces[piece.id].done[0] == record


def test_a_correction_of_what_is_not_there_is_refused(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    files = journal_files(shop.book)
    fact = HeatsCorrected(workpiece=f"{order.id}/pin/9", step="draw-the-point", heats=4)
    with pytest.raises(CannotDo, match="this cannot be"):
        mend(shop.again(), fact, clock=clock)
    assert journal_files(shop.book) == files
