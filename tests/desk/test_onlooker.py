from __future__ import annotations

import pytest

from forgelog.book.sessions import journal_files
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.desk.onlooker import ONLY_LOOKING, look_on
from forgelog.desk.orders import take_order
from forgelog.desk.session import resume, start
from forgelog.desk.shop import Shop
from tests.desk.working import work


def test_a_second_floor_sees_the_first_and_writes_nothing(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 6)
    with pytest.raises(FloorTaken):
        start(shop.again(), [order.id], clock=clock)
    files = {p: p.read_bytes() for p in journal_files(shop.book)}
    onlooker = look_on(shop.again(), clock=clock)
    assert onlooker.state.pieces == session.state.pieces
    for key in ("space", "enter", "p", "tab", "backspace"):
        clock.go_on(2.0)
        onlooker.press(key)
    onlooker.press("text:")
    assert {p: p.read_bytes() for p in journal_files(shop.book)} == files
    assert onlooker.state.pieces == session.state.pieces
    assert onlooker.close()
    session.close()


def test_a_key_that_would_do_something_says_that_it_cannot(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    onlooker = look_on(shop.again(), clock=clock)
    clock.go_on(2.0)
    onlooker.press("space")
    assert onlooker.view().message == ONLY_LOOKING
    assert onlooker.not_on_disk == 0
    session.close()


def test_the_keys_of_an_onlooker_say_what_they_do_and_one_leads_away(
    shop: Shop, clock: FakeClock
) -> None:
    order = take_order(shop, "test-pin", count=2, clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    onlooker = look_on(shop.again(), clock=clock)
    lines = {line.key: line for line in onlooker.view().keys}
    assert not lines["SPACE"].live
    assert not lines["ENTER"].live
    assert lines["TAB"].words.startswith("next: ")
    clock.go_on(2.0)
    onlooker.press("tab")
    assert not onlooker.view().leave
    assert lines["BACKSPACE"].words == "leave: only looking"
    onlooker.press("backspace")
    assert onlooker.view().leave
    session.close()


@pytest.mark.parametrize("key", ["q", "n", "m", "r"])
def test_no_list_and_no_line_opens_for_an_onlooker(shop: Shop, clock: FakeClock, key: str) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    session.press("space")
    onlooker = look_on(shop.again(), clock=clock)
    clock.go_on(2.0)
    onlooker.press(key)
    seen = onlooker.view()
    assert seen.list is None
    assert not seen.entry
    assert seen.leave == (key == "q")
    session.close()


def test_what_happens_at_the_first_floor_is_seen(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    onlooker = look_on(shop.again(), clock=clock)
    assert onlooker.view().fire == ()
    session.press("space")
    assert onlooker.view().fire != ()
    assert onlooker.state.pieces == session.state.pieces
    session.close()
    clock.start_again(60.0)
    again = resume(shop.again(), clock=clock)
    work(again, clock, 4)
    onlooker.view()
    assert onlooker.state.session == again.id
    assert onlooker.state.pieces == again.state.pieces
    again.close()


def test_there_must_be_a_session_to_look_at(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="no session to look at"):
        look_on(shop, clock=clock)
