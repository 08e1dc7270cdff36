from __future__ import annotations

import os
from pathlib import Path

import pytest

from forgelog.book.folders import mark_as_practice
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.desk import session as session_module
from forgelog.desk.clock import FakeClock, PracticeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.desk.faults import fault_file
from forgelog.desk.orders import find_order, hold_order, take_order
from forgelog.desk.session import FloorSession, resume, start, unfinished
from forgelog.desk.shop import Shop
from forgelog.floor.stand import Pressed
from forgelog.work.facts import FireLit, PutInFire, RecipePinned, SessionBegan
from forgelog.work.fold import fold
from forgelog.work.state import State
from tests.desk.working import work


def taken(shop: Shop, clock: FakeClock, recipe: str = "test-pin") -> str:
    clock.go_on(60.0)
    return take_order(shop.again(), recipe, clock=clock).id


def begun(shop: Shop, clock: FakeClock, *orders: str) -> FloorSession:
    clock.go_on(60.0)
    return start(shop.again(), orders, clock=clock)


def same(a: State, b: State) -> None:
    """The states agree in all that stands; the way back is not looked at."""
    assert a.pieces == b.pieces
    assert a.orders == b.orders
    assert a.fire == b.fire
    assert a.hot == b.hot
    assert a.moment == b.moment
    assert a.press == b.press
    assert a.troubles == b.troubles == ()


def test_the_first_press_pins_the_recipe_and_lights_the_fire(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    session.close()
    *_, file = read_sessions(journal_files(shop.book))
    began, pin, fire = file.presses[0].facts
    assert isinstance(began, SessionBegan)
    assert (began.kind, began.orders, began.practice) == ("floor", (order,), 0.0)
    assert list(began.seen.values()) == [1]
    assert isinstance(pin, RecipePinned)
    assert [p.slot for p in pin.made] == ["wedge 1", "pin left 1", "pin right 1"]
    assert isinstance(fire, FireLit)
    assert (fire.fire, fire.places, fire.orders) == ("gas forge", 3, (order,))
    assert len(session.state.pieces) == len(pin.made)


def test_what_was_pressed_is_what_the_journal_gives_back(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    work(session, clock, 120)
    assert session.state.press > 20
    assert session.close()
    same(fold(read_sessions(journal_files(shop.book))), session.state)
    same(shop.again().state, session.state)


def test_a_key_that_only_moves_the_choice_writes_nothing(shop: Shop, clock: FakeClock) -> None:
    session = begun(shop, clock, taken(shop, clock))
    before = session.state
    for _ in range(4):
        clock.go_on(1.0)
        session.press("tab")
    assert session.state is before
    session.close()
    *_, file = read_sessions(journal_files(shop.book))
    assert len(file.presses) == 1


def test_a_second_pin_is_not_made(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    pieces = len(session.state.pieces)
    session.close()
    session = begun(shop, clock, order)
    assert len(session.state.pieces) == pieces
    assert len(session.state.orders[order].pins) == 1
    session.close()


def test_the_floor_sees_only_the_orders_in_play(shop: Shop, clock: FakeClock) -> None:
    first, second = taken(shop, clock), taken(shop, clock, "poker-and-shovel")
    both = begun(shop, clock, first, second)
    assert set(both.state.orders) == {first, second}
    both.close()
    one = begun(shop, clock, second)
    assert set(one.state.orders) == {second}
    assert {p.order for p in one.state.pieces.values()} == {second}
    one.close()


def test_what_is_still_hot_of_another_order_stays_on_the_hot_list(
    shop: Shop, clock: FakeClock
) -> None:
    first, second = taken(shop, clock), taken(shop, clock, "poker-and-shovel")
    session = begun(shop, clock, first)
    work(session, clock, 12)
    assert session.state.hot
    session.close()
    other = begun(shop, clock, second)
    assert set(other.state.hot) == set(session.state.hot)
    assert other.view().hot
    assert other.state.orders[first].held == "not at the fire in this session"
    other.close()
    clock.go_on(12 * 3600.0)
    later = begun(shop, clock, second)
    assert first not in later.state.orders
    later.close()


def test_a_session_that_was_cut_off_goes_on_in_a_new_file(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    work(session, clock, 40)
    session.close()
    clock.start_again(120.0)
    opened = shop.again()
    record = unfinished(opened)
    assert record is not None
    assert record.id == session.id
    again = resume(opened, clock=clock)
    assert again.id != session.id
    assert again.state.pieces.keys() == session.state.pieces.keys()
    assert {w: p.place for w, p in again.state.pieces.items()} == {
        w: p.place for w, p in session.state.pieces.items()
    }
    work(again, clock, 30)
    again.close()
    *_, first, second = read_sessions(journal_files(shop.book))
    assert second.header is not None
    assert second.header.continues == first.session
    assert second.header.seen[first.session] == first.presses[-1].seq
    same(shop.again().state, again.state)


def test_undo_reaches_back_into_the_session_that_goes_on(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    session.press("space")
    assert any(p.place == "fire" for p in session.state.pieces.values())
    session.close()
    taken(shop, clock, "poker-and-shovel")  # another order, meanwhile, at the desk
    clock.start_again(30.0)
    again = resume(shop.again(), clock=clock)
    listing = again.view().list
    assert listing is not None
    assert "did the fire burn on" in listing.title
    for key in ("enter", "backspace", "backspace"):
        clock.go_on(5.0)
        again.press(key)
    assert all(p.place == "waiting" for p in again.state.pieces.values())
    again.close()


def test_there_is_nothing_to_resume_after_the_day_was_ended(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    clock.go_on(5.0)
    session.press("q")
    for _ in range(6):
        clock.go_on(2.0)
        session.press("enter")
        if session.state.ended:
            break
    assert session.state.ended
    session.close()
    assert unfinished(shop.again()) is None
    with pytest.raises(CannotDo, match="no session"):
        resume(shop.again(), clock=clock)


def test_the_session_that_was_cut_off_is_known_though_the_clock_was_set_back(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    first = begun(shop, clock, order)
    first.press("q")
    for _ in range(6):
        clock.go_on(2.0)
        first.press("enter")
        if first.state.ended:
            break
    first.close()
    assert first.state.ended
    clock.set_wall(-7200.0)
    second = begun(shop, clock, order)
    assert second.id < first.id
    second.close()
    record = unfinished(shop.again())
    assert record is not None
    assert record.id == second.id


def test_a_session_cut_off_long_before_others_is_not_gone_on_with(
    shop: Shop, clock: FakeClock
) -> None:
    first, second = taken(shop, clock), taken(shop, clock)
    begun(shop, clock, first).close()
    begun(shop, clock, second).close()
    clock.go_on(60.0)
    call_off(shop.again(), find_order(shop.again().state, second), "given up", clock=clock)
    assert unfinished(shop.again()) is None


def test_starting_anew_lays_aside_what_a_cut_off_session_left_in_hand(
    shop: Shop, clock: FakeClock
) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    session.press("space")
    clock.go_on(90.0)
    session.press("space")
    assert any(p.place == "hand" for p in session.state.pieces.values())
    session.close()
    clock.start_again(3600.0)
    again = begun(shop, clock, order)
    assert all(p.place == "waiting" for p in again.state.pieces.values())
    again.close()
    same(shop.again().state, again.state)


def test_only_one_floor_has_the_book(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = begun(shop, clock, order)
    with pytest.raises(FloorTaken, match="only look"):
        begun(shop, clock, order)
    session.close()
    begun(shop, clock, order).close()


def test_a_start_that_fails_lets_go_of_the_book(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    with pytest.raises(CannotDo, match="no order"):
        begun(shop, clock, "nobody-0000")
    with pytest.raises(CannotDo, match="no fire"):
        start(shop.again(), [order], fire="forge 9", clock=clock)
    begun(shop, clock, order).close()


def test_orders_that_are_held_or_closed_are_not_worked_on(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    hold_order(shop.again(), find_order(shop.again().state, order), "no bar", clock=clock)
    with pytest.raises(CannotDo, match=r"held \(no bar\)"):
        begun(shop, clock, order)
    call_off(shop.again(), find_order(shop.again().state, order), "called off", clock=clock)
    with pytest.raises(CannotDo, match=r"closed \(called off\)"):
        begun(shop, clock, order)
    with pytest.raises(CannotDo, match="choose an order"):
        begun(shop, clock)


def test_practice_is_never_written_into_a_real_book(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    files = journal_files(shop.book)
    with pytest.raises(CannotDo, match="practice is never written into a real book"):
        start(shop.again(), [order], clock=PracticeClock(20.0, clock))
    assert journal_files(shop.book) == files


def test_a_practice_copy_takes_practice_and_real_sessions(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    mark_as_practice(shop.book)
    fast = PracticeClock(20.0, clock)
    session = start(shop.again(), [order], clock=fast)
    assert session.state.practice == 20.0
    clock.go_on(3.0)
    session.press("space")
    assert session.state.moment.rest_s == pytest.approx(clock.stamp().wall + 57.0)
    session.close()
    clock.go_on(600.0)
    begun(shop, clock, order).close()


def test_what_cannot_be_is_noted_and_neither_written_nor_shown_as_done(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = begun(shop, clock, taken(shop, clock))
    before = session.state

    def wrong(state: State, stand: object, *rest: object) -> Pressed:
        return Pressed(facts=(PutInFire(workpiece="nobody/hook/9"),), stand=session.stand)

    with monkeypatch.context() as patch:
        patch.setattr(session_module, "press", wrong)
        session.press("space")
    assert session.state is before
    assert "not in the record" in session.view().message
    assert "nobody/hook/9" in fault_file().read_text()
    session.press("space")
    assert session.state.press == 1
    session.close()
    *_, file = read_sessions(journal_files(shop.book))
    assert [p.seq for p in file.presses] == [0, 1]


def test_a_fault_in_the_meaning_of_a_key_does_not_end_the_session(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = begun(shop, clock, taken(shop, clock))

    def broken(*rest: object) -> Pressed:
        raise KeyError("strap")

    with monkeypatch.context() as patch:
        patch.setattr(session_module, "press", broken)
        session.press("space")
    assert "KeyError" in fault_file().read_text()
    session.press("space")
    assert session.state.press == 1
    session.close()


def test_the_work_goes_on_when_the_disk_is_full(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = begun(shop, clock, taken(shop, clock))

    def full(fd: int, data: bytes) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        work(session, clock, 12)
        assert session.not_on_disk > 3
        assert session.why_not_on_disk == "the disk is full"
    assert session.close()
    assert session.not_on_disk == 0
    same(shop.again().state, session.state)


def test_a_book_that_cannot_be_written_to_still_lets_the_smith_work(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = taken(shop, clock)
    real = os.open

    def shut(path: object, flags: int, *rest: object) -> int:
        if "journal" in str(path) and flags & os.O_CREAT:
            raise OSError(30, "Read-only file system")
        return real(path, flags, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", shut)
    session = begun(shop, clock, order)
    work(session, clock, 5)
    assert session.not_on_disk >= 2
    assert session.why_not_on_disk == "the book's folder is read-only"
    monkeypatch.undo()
    assert session.close()


def test_a_clock_set_back_on_the_way_does_not_confuse_the_record(
    shop: Shop, clock: FakeClock
) -> None:
    session = begun(shop, clock, taken(shop, clock))
    work(session, clock, 8)
    clock.set_wall(-7200.0)
    work(session, clock, 8)
    clock.sleep(900.0)
    work(session, clock, 8)
    session.close()
    same(shop.again().state, session.state)


def test_the_journal_of_the_floor_lies_where_it_should(shop: Shop, clock: FakeClock) -> None:
    session = begun(shop, clock, taken(shop, clock))
    session.close()
    paths = journal_files(shop.book)
    assert all(p.parent == shop.book / "journal" / "2026" for p in paths)
    assert paths[-1] == Path(shop.book, "journal", "2026", f"{session.id}.jsonl")
