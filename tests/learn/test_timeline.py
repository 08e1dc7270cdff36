"""The spans of a session, against a second bookkeeping: the clocks that the pieces carry."""

from __future__ import annotations

import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.timeline import Timeline, draw_timeline
from forgelog.work.changes import CannotBe
from forgelog.work.facts import (
    AnyFact,
    BenchBegun,
    BenchStopped,
    DayEnded,
    FireLit,
    FireWentOut,
    HeatEndedEarlier,
    HeatOver,
    LaidAside,
    Paused,
    PutInFire,
    Redone,
    RestEnded,
    RestSkipped,
    RestStarted,
    Resumed,
    StepFinished,
    Swapped,
    TakenOut,
    Undone,
)
from forgelog.work.state import State
from tests.learn.shop import HAMMER, LEFT, RIGHT, Shop


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def _told(shop: Shop, piece: str = LEFT) -> list[tuple[str, float, float]]:
    """Spans of a piece: what, from and to in seconds since the session began."""
    line = draw_timeline(shop.states)
    return [
        (s.doing, round(s.from_s - line.began_s, 3), round(s.to_s - line.began_s, 3))
        for s in line.spans
        if s.workpiece == piece
    ]


def test_fire_hand_and_rest_follow_one_another(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.press(120.0, TakenOut(workpiece=LEFT))
    shop.press(30.0, HeatOver(workpiece=LEFT))
    shop.press(90.0, TakenOut(workpiece=LEFT))
    shop.press(40.0, StepFinished(workpiece=LEFT, step="draw"))
    shop.rest(LEFT, "black")
    shop.press(300.0, RestEnded(workpiece=LEFT, step="black", rested_s=300.0, verdict="ok"))
    shop.press(60.0, DayEnded())
    assert _told(shop) == [
        ("fire", 10, 130),
        ("hand", 130, 160),
        ("fire", 160, 250),
        ("hand", 250, 290),
        ("rest", 291, 591),
    ]
    line = draw_timeline(shop.states)
    assert line.session == "s1"
    assert line.hand_s == pytest.approx(70.0)
    assert line.fire_s == pytest.approx(210.0)
    assert line.worked_s == pytest.approx(651.0)
    assert line.lit_s == pytest.approx(651.0)
    assert line.idle_share == pytest.approx(1 - 70 / 651)


def test_what_is_still_under_way_runs_to_the_last_press(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.press(5.0, PutInFire(workpiece=RIGHT))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    shop.press(20.0, HeatOver(workpiece=LEFT))
    assert _told(shop, RIGHT) == [("fire", 15, 135)]
    assert draw_timeline(shop.states).fire_s == pytest.approx(125.0)


def test_steps_in_the_same_heat_are_spans_of_their_own(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 1, to="hand")
    shop.press(20.0, LaidAside(workpiece=LEFT))
    spans = [s for s in draw_timeline(shop.states).spans if s.doing == "hand"]
    assert [(s.step, s.work_s) for s in spans] == [(0, 30.0), (1, 20.0)]


def test_the_bench_clock_counts_only_while_it_runs(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 1)
    shop.press(1.0, RestSkipped(workpiece=LEFT, step="black"))
    shop.forge(LEFT, "eye", 1)
    shop.press(10.0, BenchBegun(workpiece=LEFT, step="drill"))
    shop.press(60.0, BenchStopped(workpiece=LEFT))
    shop.press(500.0, BenchBegun(workpiece=LEFT, step="drill"))
    shop.press(40.0, StepFinished(workpiece=LEFT, step="drill"))
    line = draw_timeline(shop.states)
    assert [s.work_s for s in line.spans if s.doing == "bench"] == [60.0, 40.0]
    assert line.bench_s == pytest.approx(100.0)


def test_a_pause_is_no_work_but_the_fire_burns_on(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=RIGHT))
    shop.press(0.0, PutInFire(workpiece=LEFT))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    shop.press(10.0, Paused())
    shop.press(600.0, Resumed())
    shop.press(20.0, HeatOver(workpiece=LEFT, to="aside"))
    line = draw_timeline(shop.states)
    assert line.hand_s == pytest.approx(30.0)
    assert line.worked_s == pytest.approx(140.0)
    assert line.fire_s == pytest.approx(730.0)
    assert [(s.to_s - s.from_s, s.worked_s, s.paused) for s in line.stood] == [(600.0, 0.0, True)]


def test_what_was_undone_did_not_happen(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=RIGHT))
    shop.undo(after_s=20.0)
    shop.press(5.0, PutInFire(workpiece=LEFT))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    shop.press(30.0, HeatOver(workpiece=LEFT))
    assert _told(shop, RIGHT) == []
    assert _told(shop) == [("fire", 35, 135), ("hand", 135, 165)]


def test_what_was_put_back_happened_when_it_was_first_pressed(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    press = shop.state.press
    shop.undo(after_s=20.0)
    shop.press(5.0, Redone(press=press))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    assert _told(shop) == [("fire", 10, 135)]


def test_a_heat_that_had_ended_a_while_before_the_key_is_shortened(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    shop.press(90.0, HeatOver(workpiece=LEFT))
    shop.press(5.0, HeatEndedEarlier(workpiece=LEFT, seconds=60.0))
    shop.press(40.0, TakenOut(workpiece=LEFT))
    shop.press(0.5, HeatOver(workpiece=LEFT))
    assert _told(shop)[:3] == [("fire", 10, 110), ("hand", 110, 140), ("fire", 140, 245)]


def test_the_piece_that_was_really_held_has_the_heat(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.press(5.0, PutInFire(workpiece=RIGHT))
    shop.press(100.0, TakenOut(workpiece=LEFT))
    shop.press(20.0, Swapped(workpiece=LEFT, other=RIGHT))
    shop.press(10.0, HeatOver(workpiece=RIGHT))
    assert [s for s in _told(shop, LEFT) if s[0] == "hand"] == []
    assert _told(shop, LEFT) == [("fire", 10, 145)]
    assert ("hand", 115, 145) in _told(shop, RIGHT)


def test_a_piece_that_rests_by_itself_to_its_end_rests_no_longer_than_it_needs(shop: Shop) -> None:
    shop.forge(HAMMER, "drift", 1)
    shop.press(1.0, RestSkipped(workpiece=HAMMER, step="normalise-1"))
    shop.press(1.0, RestSkipped(workpiece=HAMMER, step="normalise-2"))
    shop.press(1.0, BenchBegun(workpiece=HAMMER, step="grind"))
    shop.press(60.0, StepFinished(workpiece=HAMMER, step="grind"))
    shop.rest(HAMMER, "cool", needed_s=200.0)
    shop.press(900.0, DayEnded())
    (rest,) = [s for s in draw_timeline(shop.states).spans if s.doing == "rest"]
    assert rest.to_s - rest.from_s == pytest.approx(200.0)


def test_a_session_that_went_on_begins_with_what_lay_in_the_fire(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.begin("s2", after_s=300.0, continues="s1")
    shop.press(20.0, FireWentOut())
    shop.press(30.0, DayEnded())
    assert _told(shop) == [("fire", 0, 20)]
    assert draw_timeline(shop.states).session == "s2"


def test_a_session_of_no_length_has_no_share_of_idle_hands() -> None:
    shop = Shop()
    shop.begin("s1")
    line = draw_timeline(shop.states)
    assert line.spans == ()
    assert line.idle_share is None
    with pytest.raises(ValueError, match="first press"):
        draw_timeline([])


def _carried(state: State) -> tuple[float, float]:
    """Work and fire seconds as the pieces and their records carry them, to the present moment."""
    work_s = fire_s = 0.0
    for piece in state.pieces.values():
        work_s += piece.work_s + sum(r.work_s for r in piece.done)
        fire_s += piece.fire_s + sum(r.fire_s for r in piece.done)
        recorded = {r.step for r in piece.done}
        fire_s += sum(r.fire_s for r in piece.rests if r.step not in recorded)
        if piece.open is not None:
            work_s += state.moment.work_s - piece.open.stretch_work_s
        if piece.running:
            work_s += state.moment.work_s - piece.bench_work_s
        if piece.place == "fire":
            fire_s += state.moment.rest_s - piece.since_s
    return work_s, fire_s


_FINISH = {"draw", "eye", "drift", "drill", "grind"}


def _possible(shop: Shop, piece: str, choice: int) -> tuple[AnyFact, ...]:
    """One of the presses that a smith may make; the state says whether it can be."""
    steps = {LEFT: ["draw", "black", "eye", "drill"], RIGHT: ["draw", "black", "eye", "drill"]}
    names = steps.get(piece, ["drift", "normalise-1", "normalise-2", "grind", "cool"])
    at = shop.state.pieces[piece].step
    step = names[min(at, len(names) - 1)]
    facts: list[tuple[AnyFact, ...]] = [
        (PutInFire(workpiece=piece),),
        (TakenOut(workpiece=piece),),
        (HeatOver(workpiece=piece, to="fire"),),
        (HeatOver(workpiece=piece, to="aside"),),
        (LaidAside(workpiece=piece),),
        (Paused(),),
        (Resumed(),),
        (BenchBegun(workpiece=piece, step=step),),
        (BenchStopped(workpiece=piece),),
    ]
    if step in _FINISH:
        facts += [
            (StepFinished(workpiece=piece, step=step, to=to),)
            for to in ("aside", "hand", "fire" if "drift" in names else "aside")
        ] * 2
    else:
        # Nothing is put in the fire or on the bench for a rest: it has no record for such time.
        facts = [f for f in facts if not isinstance(f[0], PutInFire | BenchBegun)]
        facts += [(PutInFire(workpiece=piece),)] if step.startswith("normalise") else []
        facts += [
            (
                RestStarted(
                    workpiece=piece, step=step, until="black", start_degc=850.0, needed_s=100.0
                ),
            ),
            (RestEnded(workpiece=piece, step=step, rested_s=9.0, verdict="short"),),
        ] * 3
    if shop.state.before is not None and shop.state.made_by[1] > 3:
        facts.append((Undone(press=shop.state.made_by[1], session=shop.state.made_by[0]),))
    if shop.state.undone:
        last = shop.state.undone[-1]
        facts.append((Redone(press=last.made_by[1], session=last.made_by[0]),))
    return facts[choice % len(facts)]


@given(
    presses=st.lists(
        st.tuples(
            st.floats(0.1, 400.0), st.sampled_from((LEFT, RIGHT, HAMMER)), st.integers(0, 99)
        ),
        max_size=60,
    )
)
def test_the_spans_add_up_to_what_the_pieces_carry(
    presses: list[tuple[float, str, int]],
) -> None:
    shop = Shop()
    shop.open_order()
    for after_s, piece, choice in presses:
        facts = _possible(shop, piece, choice)
        if shop.state.pieces[piece].running and isinstance(
            facts[0], PutInFire | RestStarted | BenchBegun
        ):
            continue  # the floor stops the bench clock first
        before_s = shop.now_s
        try:
            shop.press(after_s, *facts)
        except CannotBe:
            shop.now_s = before_s
    line = draw_timeline(shop.states)
    work_s, fire_s = _carried(shop.state)
    assert line.hand_s + line.bench_s == pytest.approx(work_s, abs=1e-3)
    assert sum(s.to_s - s.from_s for s in line.spans if s.doing == "fire") == pytest.approx(
        fire_s, abs=1e-3
    )
    _holds_together(line)


def _holds_together(line: Timeline) -> None:
    reached: dict[str, float] = {}
    in_hand_s = float("-inf")
    for span in line.spans:
        assert line.began_s <= span.from_s < span.to_s <= line.ended_s
        assert span.from_s >= reached.get(span.workpiece, 0.0), "one piece in two places"
        assert 0.0 <= span.work_s <= span.to_s - span.from_s + 1e-6
        reached[span.workpiece] = span.to_s
        if span.doing == "hand":
            assert span.from_s >= in_hand_s, "two pieces in hand"
            in_hand_s = span.to_s
    assert line.idle_share is None or 0.0 <= line.idle_share <= 1.0


def test_five_hundred_presses_are_drawn_at_once(shop: Shop) -> None:
    for _ in range(125):
        shop.press(1.0, PutInFire(workpiece=LEFT))
        shop.press(100.0, TakenOut(workpiece=LEFT))
        shop.press(20.0, HeatOver(workpiece=LEFT))
        shop.press(2.0, LaidAside(workpiece=LEFT))
    began = time.process_time()
    line = draw_timeline(shop.states)
    assert sys.gettrace() is not None or time.process_time() - began < 0.100
    assert len(line.spans) == 375
    assert line.hand_s == pytest.approx(2500.0)
    assert shop.state.pieces[LEFT].heats == 125


def test_a_fire_that_is_lit_again_is_empty(shop: Shop) -> None:
    shop.press(10.0, PutInFire(workpiece=LEFT))
    shop.press(60.0, FireLit(orders=("o1",)))
    shop.press(60.0, DayEnded())
    assert _told(shop) == [("fire", 10, 70)]
