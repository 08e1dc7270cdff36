"""How rests are judged in hindsight."""

from __future__ import annotations

import pytest

from forgelog.learn.rests import see_rests, tally_rests
from forgelog.work.apply import now, settle
from forgelog.work.facts import (
    BenchBegun,
    FireLit,
    PutInFire,
    RestBrokenOff,
    RestEnded,
    RestSkipped,
    RestStarted,
    Scrapped,
    StepFinished,
    StepReopened,
)
from forgelog.work.moments import Stamp
from tests.learn.shop import HAMMER, LEFT, RIGHT, Shop


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def _verdicts(shop: Shop) -> list[tuple[str, str, str]]:
    return [(r.workpiece, r.step, r.verdict) for r in see_rests(shop.state)]


def _normalised(shop: Shop, step: str, *, verdict: str, counts: bool | None) -> None:
    shop.press(5.0, PutInFire(workpiece=HAMMER))
    shop.press(600.0, *_out(step))
    shop.press(
        300.0,
        RestEnded(workpiece=HAMMER, step=step, rested_s=300.0, verdict=verdict, counts=counts),
    )


def _out(step: str) -> tuple[RestStarted, ...]:
    return (
        RestStarted(
            workpiece=HAMMER, step=step, until="black", start_degc=860.0, needed_s=280.0,
            skipping="matters", from_fire=True,
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("said", "seen"),
    [("ok", "kept"), ("unsure", "unsure"), ("short", "short"), ("skipped", "skipped")],
)
def test_the_verdict_of_the_journal_holds(shop: Shop, said: str, seen: str) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.rest(LEFT, "black")
    shop.press(60.0, RestEnded(workpiece=LEFT, step="black", rested_s=60.0, verdict=said))
    assert _verdicts(shop) == [(LEFT, "black", seen)]


def test_a_rest_that_still_runs_is_not_judged(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.rest(LEFT, "black")
    assert see_rests(shop.state) == ()


def test_a_rest_that_was_never_begun_yet_is_not_called_skipped(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.press(9000.0, FireLit(orders=("o1",)))
    assert see_rests(shop.state) == ()


def test_a_rest_broken_by_water_is_broken(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.rest(LEFT, "black")
    shop.press(9.0, RestBrokenOff(workpiece=LEFT, step="black", by="water", rested_s=9.0))
    assert _verdicts(shop) == [(LEFT, "black", "broken")]


def test_a_rest_that_ends_the_piece_and_was_not_broken_is_kept(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 3)
    _normalised(shop, "normalise-1", verdict="ok", counts=True)
    _normalised(shop, "normalise-2", verdict="ok", counts=True)
    shop.press(5.0, BenchBegun(workpiece=HAMMER, step="grind"))
    shop.press(600.0, StepFinished(workpiece=HAMMER, step="grind"))
    shop.rest(HAMMER, "cool", needed_s=1200.0)
    assert len(see_rests(shop.state)) == 2
    later_s = shop.now_s + 1300.0
    later = Stamp(wall=later_s, steady=later_s, awake=later_s, boot="b")
    settled = settle(shop.state, now(shop.state, later))
    assert settled.pieces[HAMMER].place == "finished"
    assert ("cool", "kept") in [(r.step, r.verdict) for r in see_rests(settled)]


def test_skipped_normalising_cycles_come_first_and_kept_rests_last(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.rest(LEFT, "black")
    shop.press(300.0, RestEnded(workpiece=LEFT, step="black", rested_s=300.0, verdict="ok"))
    shop.forge(RIGHT, "draw", 2)
    shop.press(1.0, RestSkipped(workpiece=RIGHT, step="black", until="black"))
    shop.forge(HAMMER, "drift", 3)
    _normalised(shop, "normalise-1", verdict="short", counts=False)
    shop.press(1.0, RestSkipped(workpiece=HAMMER, step="normalise-2", skipping="matters"))
    assert _verdicts(shop) == [
        (HAMMER, "normalise-2", "skipped"),
        (HAMMER, "normalise-1", "short"),
        (RIGHT, "black", "skipped"),
        (LEFT, "black", "kept"),
    ]
    first, second, third, last = see_rests(shop.state)
    assert first.lost_cycle
    assert second.lost_cycle
    assert third.faulty
    assert not third.lost_cycle
    assert not third.matters
    assert not last.faulty
    tally = tally_rests(see_rests(shop.state))
    assert (tally.kept, tally.unsure, tally.short, tally.skipped, tally.broken) == (1, 0, 1, 2, 0)


def test_a_cycle_that_cooled_well_but_was_not_hot_enough_is_lost(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 3)
    _normalised(shop, "normalise-1", verdict="ok", counts=False)
    (rest,) = see_rests(shop.state)
    assert rest.lost_cycle
    assert rest.faulty


def test_a_cycle_done_again_is_judged_by_its_last_time(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 3)
    shop.press(1.0, RestSkipped(workpiece=HAMMER, step="normalise-1", skipping="matters"))
    shop.press(60.0, StepReopened(workpiece=HAMMER, step="normalise-1"))
    _normalised(shop, "normalise-1", verdict="ok", counts=True)
    assert _verdicts(shop) == [(HAMMER, "normalise-1", "kept")]


def test_a_plain_rest_keeps_each_of_its_verdicts(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.press(1.0, RestSkipped(workpiece=LEFT, step="black", until="black"))
    shop.press(60.0, StepReopened(workpiece=LEFT, step="black"))
    shop.rest(LEFT, "black")
    shop.press(300.0, RestEnded(workpiece=LEFT, step="black", rested_s=300.0, verdict="ok"))
    assert [v for _, _, v in _verdicts(shop)] == ["skipped", "kept"]


def test_a_rest_that_the_smith_added_is_not_counted(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 2)
    shop.rest(LEFT, "")
    shop.press(9.0, RestEnded(workpiece=LEFT, step="", rested_s=9.0, verdict="short"))
    assert see_rests(shop.state) == ()


def test_a_lost_cycle_of_a_scrapped_piece_no_longer_comes_first(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 3)
    shop.press(1.0, RestSkipped(workpiece=HAMMER, step="normalise-1", skipping="matters"))
    shop.press(1.0, Scrapped(workpiece=HAMMER, why="cracked"))
    shop.forge(RIGHT, "draw", 2)
    shop.press(1.0, RestSkipped(workpiece=RIGHT, step="black", until="black"))
    assert [r.workpiece for r in see_rests(shop.state)] == [RIGHT, HAMMER]
    assert [r.over for r in see_rests(shop.state)] == [False, True]


def test_rests_of_practice_sessions_stay_with_practice(shop: Shop) -> None:
    shop.begin("s2", FireLit(orders=("o1",)), after_s=60.0, practice=20.0)
    shop.forge(LEFT, "draw", 2)
    shop.press(1.0, RestSkipped(workpiece=LEFT, step="black", until="black"))
    assert see_rests(shop.state) == ()
    assert [r.verdict for r in see_rests(shop.state, practice=True)] == ["skipped"]
