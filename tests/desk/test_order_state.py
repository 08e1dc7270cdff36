"""What is read from the index is what a fold of the whole journal gives."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from forgelog.book.folders import mark_as_practice
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.clock import FakeClock, PracticeClock
from forgelog.desk.draft import draft_of
from forgelog.desk.errors import CannotDo
from forgelog.desk.export import export
from forgelog.desk.indexed import ask_index
from forgelog.desk.learnings import learnings_from, learnings_of, read_past
from forgelog.desk.order_state import state_with
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.quote import quote_of
from forgelog.desk.quote_past import past_of
from forgelog.desk.session import start
from forgelog.desk.sharing import share
from forgelog.desk.shop import Shop, at_sizes, open_shop
from forgelog.desk.side_by_side import side_by_side
from forgelog.desk.trends import trends_of
from forgelog.desk.writing import mend
from forgelog.learn.evidence import evidence_of
from forgelog.learn.minutes import LearntTimes, learn_times
from forgelog.learn.records import bench_times, hand_times
from forgelog.learn.row_making import make_rows, session_rows
from forgelog.learn.rows import SCRAPPED, Rows
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolved import at_the_fire
from forgelog.work.facts import HeatsCorrected, Scrapped
from forgelog.work.state import State
from tests.desk.conftest import PIN
from tests.desk.test_shop import months
from tests.desk.working import work


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of eleven sessions; most of its orders are closed, and a piece was scrapped."""
    folder = tmp_path_factory.mktemp("made")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FORGELOG_DEVICE", str(folder / "device"))
        patch.setenv("FORGELOG_CACHE", str(folder / "cache"))
        make_book(folder / "book", shipped_recipes())
        (folder / "book" / "recipes" / "test-pin.toml").write_text(PIN)
        shop, clock = open_shop(folder / "book"), FakeClock()
        months(shop, clock, random.Random(1))
        clock.start_again(3600.0, boot="last")
        order = take_order(shop.again(), "test-pin", clock=clock, count=2)
        session = start(shop.again(), [order.id], clock=clock)
        work(session, clock, 30)
        piece = next(p for p in session.state.pieces.values() if p.order == order.id and p.done)
        session._take(clock.stamp(), (Scrapped(workpiece=piece.id, why="burnt"),))
        clock.go_on(5.0)
        work(session, clock, 30)
        session.close()
    return folder / "book"


@pytest.fixture
def worked(made: Path, tmp_path: Path) -> Shop:
    shutil.copytree(made, tmp_path / "worked")
    return open_shop(tmp_path / "worked")


@pytest.fixture
def clock() -> FakeClock:
    """A year after all of it."""
    clock = FakeClock()
    clock.start_again(366 * 86_400.0, boot="later")
    return clock


def closed(state: State) -> list[str]:
    found = [order.id for order in state.orders.values() if order.closed is not None]
    assert len(found) > 2
    return found


def rows_of(shop: Shop, *, practice: bool = False) -> Rows:
    rows = make_rows(shop.whole_state)
    return Rows(
        orders=rows.orders,
        steps=tuple(r for r in rows.steps if r.practice == practice),
        rests=tuple(r for r in rows.rests if r.practice == practice),
        spoilt=tuple(r for r in rows.spoilt if r.practice == practice),
        gauges=tuple(r for r in rows.gauges if r.practice == practice),
    )


def taught(times: LearntTimes) -> dict[tuple[object, ...], float]:
    """Figures of every step that was learnt, as a quote asks for them."""
    figures: dict[tuple[object, ...], float] = {}
    for key in times.learnt.steps:
        time = times.ask(key, 120.0)
        figures[(*key, "records")] = time.records
        figures[(*key, "centre")] = time.centre_s
        figures[(*key, "high")] = time.high_s
        figures[(*key, "run")] = time.run_s(1, 3)
    return figures


def test_a_closed_order_stands_as_a_whole_fold_has_it(worked: Shop) -> None:
    whole = worked.whole_state
    for order in closed(whole):
        state = state_with(worked, order)
        assert state.orders[order] == whole.orders[order]
        assert {i: p for i, p in state.pieces.items() if p.order == order} == {
            i: p for i, p in whole.pieces.items() if p.order == order
        }
        assert [s for s in state.sessions if order in s.orders] == [
            s for s in whole.sessions if order in s.orders
        ]


def test_open_orders_need_no_index(worked: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("forgelog.desk.order_state.ask_index", None)
    open_ones = [o.id for o in worked.state.orders.values() if o.closed is None]
    assert open_ones
    assert state_with(worked, *open_ones) is worked.state


def test_an_order_that_there_is_not_is_passed_over(worked: Shop) -> None:
    assert state_with(worked, "nobody-0000").orders == worked.state.orders


def test_the_readout_of_a_closed_order_is_that_of_a_whole_fold(
    worked: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = worked.whole_state
    shown = [order_shown(worked, whole.orders[o]) for o in closed(whole)]
    assert any(one.pieces for one in shown)
    monkeypatch.setattr("forgelog.desk.order_view.state_with", lambda shop, *orders: whole)
    assert shown == [order_shown(worked, whole.orders[o]) for o in closed(whole)]


def test_heats_of_a_closed_order_are_put_right(worked: Shop, clock: FakeClock) -> None:
    whole = worked.whole_state
    orders = closed(whole)
    piece, record = next(
        (p, r) for p in whole.pieces.values() if p.order in orders for r in p.done if r.heats
    )
    mend(worked, HeatsCorrected(workpiece=piece.id, step=record.step, heats=9), clock=clock)
    after = worked.again().whole_state
    assert after.troubles == whole.troubles
    assert [r.heats for r in after.pieces[piece.id].done if r.step == record.step][-1] == 9
    with pytest.raises(CannotDo, match="cannot be"):
        mend(worked.again(), HeatsCorrected(workpiece=piece.id, step="no-such", heats=2))


@pytest.mark.parametrize("practice", [False, True])
def test_the_record_behind_a_quote_is_that_of_a_whole_fold(
    worked: Shop, clock: FakeClock, practice: bool
) -> None:
    if practice:
        mark_as_practice(worked.book)
        order = take_order(worked, "test-pin", clock=clock)
        session = start(worked.again(), [order.id], clock=PracticeClock(1.0, clock))
        work(session, clock, 60)
        session.close()
    shop = worked.again()
    floors = ask_index(shop, lambda index: index.floors)
    assert {f.practice for f in floors} == {False, practice}
    rows = rows_of(shop)
    order_id = rows.steps[0].order
    past = past_of(shop, order_id, clock=clock)
    assert past.steps == tuple(row for row in rows.steps if row.order == order_id)
    hand, bench = learn_times(hand_times(rows.steps)), learn_times(bench_times(rows.steps))
    assert taught(past.hand) == pytest.approx(taught(hand))
    assert taught(past.bench) == pytest.approx(taught(bench))
    assert taught(hand)
    hand_s = {f.session: 0.0 for f in floors if not f.practice}
    bench_s = dict(hand_s)
    for row in rows.steps:
        if row.session in hand_s:
            (hand_s if at_the_fire(row.kind) else bench_s)[row.session] += row.work_s
    assert any(hand_s.values())
    assert past.session_hand_s == pytest.approx(hand_s)
    assert past.session_fire_s == pytest.approx(
        {
            f.session: max(hand_s[f.session], f.worked_s - bench_s[f.session])
            for f in floors
            if not f.practice
        }
    )
    made = {row.workpiece: row.lot or 1 for row in rows.steps}
    lost = [r for r in rows.spoilt if r.kind == SCRAPPED and r.workpiece in made]
    assert lost
    assert past.made == {"test-pin": (len(lost), sum(made.values()))}


def test_a_quote_of_a_closed_order_is_that_of_a_whole_fold(
    worked: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = worked.whole_state
    orders = [whole.orders[o] for o in closed(whole)]
    told = [quote_of(worked, order, clock=clock) for order in orders]
    assert any(quote.actual is not None for quote in told)
    monkeypatch.setattr("forgelog.desk.quote.state_with", lambda shop, *orders: whole)
    assert told == [quote_of(worked, order, clock=clock) for order in orders]


def test_what_is_shared_is_what_a_whole_fold_says(worked: Shop) -> None:
    written, _ = read_recipe(share(worked, "test-pin").text.encode(), "test-pin.toml")
    assert written is not None
    state = worked.whole_state
    evidence = evidence_of(
        at_sizes(worked.recipe("test-pin"), {}), make_rows(state), session_rows(state.sessions)
    )
    assert evidence is not None
    assert written.evidence is not None
    assert written.evidence.rests == evidence.rests
    assert written.evidence.spoilt == evidence.spoilt
    assert [(s.step, s.pieces, s.heats, s.time) for s in written.evidence.steps] == [
        (s.step, s.pieces, s.heats, s.time) for s in evidence.steps
    ]


def test_what_is_compared_counts_the_pieces_of_a_whole_fold(worked: Shop) -> None:
    compared = side_by_side(str(worked.book), "test-pin", "test-pin@1")
    assert compared.same_process
    rows = [r for r in rows_of(worked).steps if not (r.scrapped or r.again)]
    for step in compared.steps:
        mine = [r for r in rows if (r.component, r.step) == (step.component, step.step)]
        if mine:
            words = f"{len(mine)} piece{'' if len(mine) == 1 else 's'}"
            assert step.first_records.split(", ")[0] == words
            assert step.second_records == step.first_records
    assert any(step.first_records for step in compared.steps)


@pytest.mark.parametrize("name", ["steps", "rests"])
def test_what_is_exported_are_the_rows_of_a_whole_fold(worked: Shop, name: str) -> None:
    rows = getattr(rows_of(worked), name)
    assert rows
    assert [(r["workpiece"], r["step"], r["session"]) for r in export(worked, name)] == [
        (r.workpiece, r.step, r.session) for r in rows
    ]


def test_work_with_a_recipe_gives_no_draft(worked: Shop) -> None:
    with pytest.raises(CannotDo, match="follows the recipe"):
        draft_of(worked, worked.whole_state.orders[closed(worked.whole_state)[0]])


def test_what_is_learnt_is_told_anew_when_a_recipe_or_the_journal_changes(
    worked: Shop, clock: FakeClock
) -> None:
    first = learnings_of(worked)
    assert first.records > 0
    assert learnings_of(worked.again()) == first == learnings_from(worked, read_past(worked))
    path = worked.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace('do = "draw the point"', 'do = "draw a long point"'))
    renamed = learnings_of(worked.again())
    assert renamed != first
    assert renamed == learnings_from(worked.again(), read_past(worked.again()))
    piece, done = next(
        (p, r) for p in worked.state.pieces.values() for r in p.done if r.heats and not p.lot
    )
    mend(worked.again(), HeatsCorrected(workpiece=piece.id, step=done.step, heats=30), clock=clock)
    after = learnings_of(worked.again())
    assert after != renamed
    assert after == learnings_from(worked.again(), read_past(worked.again()))


def test_trends_that_were_kept_are_the_same(worked: Shop, clock: FakeClock) -> None:
    first = trends_of(worked, clock=clock)
    assert first.sessions
    assert trends_of(worked.again(), clock=clock) == first
    assert trends_of(worked, "test-pin", clock=clock).curves == first.curves
