from __future__ import annotations

import random

import pytest

from forgelog.book.folders import mark_as_practice
from forgelog.book.index_fold import IndexFold
from forgelog.desk.clock import FakeClock, PracticeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.learnt import learnt_heats
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.desk.writing import mend
from forgelog.work.facts import HeatsCorrected
from tests.desk.test_shop import months
from tests.desk.working import work


@pytest.mark.parametrize("seed", range(3))
def test_memory_gives_what_a_whole_fold_gives(shop: Shop, clock: FakeClock, seed: int) -> None:
    months(shop, clock, random.Random(seed))
    whole = learnt_heats(shop.again().whole_state)
    assert learnt_so_far(shop.again()) == whole
    assert any(heats.records > 3 for heats in whole.values())
    assert learnt_so_far(shop.again()) == whole  # now from the cache


def test_closed_orders_are_read_once(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    months(shop, clock, random.Random(7))
    first = learnt_so_far(shop.again())

    def fails(*rest: object) -> object:
        raise AssertionError("a closed order was read again")

    monkeypatch.setattr(IndexFold, "fold", fails)
    assert learnt_so_far(shop.again()) == first


def test_a_correction_of_a_closed_order_is_seen(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 60)
    session.close()
    clock.go_on(60.0)
    call_off(shop.again(), order, "given up", clock=clock)
    before = learnt_so_far(shop.again())
    clock.go_on(60.0)
    done = [
        (w, r) for w, p in session.state.pieces.items() for r in p.done if r.heats and not p.lot
    ]
    facts = [HeatsCorrected(workpiece=w, step=r.step, heats=9) for w, r in done]
    mend(shop.again(), *facts, clock=clock)
    after = learnt_so_far(shop.again())
    assert after != before
    assert after == learnt_heats(shop.again().whole_state)


def test_the_floor_does_not_wait_for_years(shop: Shop, clock: FakeClock) -> None:
    months(shop, clock, random.Random(7))
    at_once = learnt_so_far(shop.again(), patience_s=-1.0)
    assert at_once == learnt_heats(shop.again().state)
    whole = learnt_heats(shop.again().whole_state)
    assert at_once != whole
    # What was begun goes on: each start finds the index further on.
    starts = [learnt_so_far(shop.again(), patience_s=-1.0) for _ in range(60)]
    assert starts[-1] == whole


def test_in_a_practice_copy_only_practice_teaches(shop: Shop, clock: FakeClock) -> None:
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 20)
    session.close()
    assert learnt_so_far(shop.again()) != {}
    mark_as_practice(shop.book)
    assert learnt_so_far(shop.again()) == {}
    clock.go_on(60.0)
    again = start(shop.again(), [order.id], clock=PracticeClock(1.0, clock))
    work(again, clock, 60)
    again.close()
    practised = learnt_so_far(shop.again())
    assert practised == learnt_heats(shop.again().whole_state, practice=True) != {}
