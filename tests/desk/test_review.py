"""The evening's review, from a journal on the disk to its words."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args, get_type_hints

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.__main__ import main
from forgelog.commands import review as command
from forgelog.desk.errors import CannotDo
from forgelog.desk.learnt import learnt_heats
from forgelog.desk.review import (
    more_heats,
    put_right,
    review_of,
    review_view,
)
from forgelog.desk.review_chart import CELLS_MIN, draw_chart
from forgelog.desk.review_facts import Review, SpanTold, TimelineTold
from forgelog.desk.review_first import METHOD_WORDS, NOTHING_ODD, NOTHING_YET
from forgelog.desk.review_words import folded
from forgelog.desk.shop import open_shop
from forgelog.recipe.resolved import METHODS
from forgelog.work.facts import (
    DayEnded,
    EndCutOff,
    FireLit,
    HeatsCorrected,
    MethodChanged,
    Noted,
    OrderClosed,
    PutInFire,
    RestBrokenOff,
    RestSkipped,
    StepFinished,
)
from tests.desk.past_work import AGAIN, FIRST, SECOND, THIRD, PastWork, two_days
from tests.learn.shop import HAMMER, LEFT, RECIPE, RIGHT


@pytest.fixture
def past(book: Path) -> PastWork:
    past = PastWork(book)
    past.open_order(FIRST, orders=("o1",))
    return past


def _review(past: PastWork, session: str | None = None, recipe: str | None = None) -> Review:
    return review_of(past.write(), session, recipe, clock=past.evening)


def _page(past: PastWork, title: str, *, width: int = 80, session: str | None = None) -> list[str]:
    view = review_view(past.write(), session, width=width, clock=past.evening)
    return [line for page in view.pages if page.title.startswith(title) for line in page.lines]


# The first line


def test_an_empty_book_says_that_nothing_is_written_down_yet(book: Path) -> None:
    view = review_view(open_shop(book))
    assert view.first == NOTHING_YET
    assert view.pages == ()
    assert view.to_put_right == ()


def test_a_skipped_normalising_cycle_is_the_first_thing_said(book: Path) -> None:
    first = _review(two_days(book)).first
    assert first.startswith(
        "A normalising cycle was skipped: orchard gate: hammer head 1, normalise, second."
    )
    assert "cracked tools (common practice)" in first


def test_several_skipped_cycles_are_counted(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1", "skipped")
    past.normalised("normalise-2", "skipped")
    assert _review(past).first.startswith("2 normalising cycles were skipped: orchard gate")


def test_a_cycle_that_does_not_count_comes_before_a_remake(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1", "short")
    past.strap_drawn(RIGHT, 3)
    past.spoilt(RIGHT, "burnt")
    assert _review(past).first.startswith("A normalising cycle does not count: orchard gate")


def test_a_remake_comes_before_a_short_rest(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.rested(LEFT, 30.0, "short")
    past.strap_drawn(RIGHT, 3)
    past.spoilt(RIGHT, "burnt in the eye")
    assert _review(past).first == (
        "A piece was spoilt and made again: orchard gate: strap right 1, roll the eye: "
        "burnt in the eye."
    )


def test_a_short_rest_comes_before_heats_that_differ(past: PastWork) -> None:
    past.forge(LEFT, "draw", 9)
    past.rested(LEFT, 30.0, "short")
    assert _review(past).first == (
        "1 rest was not kept; orchard gate: strap left 1, rest to black (short). "
        "Why it rests: so that the eye is not worked on too cold."
    )


def test_without_faults_the_step_furthest_from_its_plan_is_told(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.forge(LEFT, "eye", 6)
    assert _review(past).first == (
        "strap, roll the eye by hand: planned 2 heats, yours most often 2 to 7, about 4 "
        "(from 1 of yours)."
    )


def test_where_all_went_as_planned_that_is_said(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    assert _review(past).first == NOTHING_ODD


def test_old_faults_of_closed_orders_no_longer_come_first(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.rested(LEFT, 30.0, "short")
    past.press(10.0, DayEnded())
    past.day(SECOND)
    past.strap_drawn(RIGHT, 3)
    past.press(10.0, OrderClosed(order="o1"))
    review = _review(past)
    assert review.first == NOTHING_ODD
    assert [(f.verdict, f.open) for f in review.rests.faults] == [("short", False)]
    assert any("1 older one on closed orders" in line for line in _page(past, "RESTS"))


# Rests, remakes, trouble


def test_skipped_cycles_stand_first_among_the_rests_with_their_piece(book: Path) -> None:
    past = two_days(book)
    lines = _page(past, "RESTS")
    assert lines[0] == "2 kept, 0 unsure, 1 short, 1 skipped, 0 broken."
    assert lines[1] == "orchard gate: hammer head 1, normalise, second: skipped"
    assert lines[2] == "    risks coarse grain, a common cause of cracked tools (common practice)."
    assert lines[3] == "orchard gate: strap left 1, rest to black: short, 1 min of about 3 min 20 s"
    assert lines[4] == "    why it rests: so that the eye is not worked on too cold."


def test_water_and_doubt_are_told_as_what_they_are(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.rest(LEFT, "black")
    past.press(9.0, RestBrokenOff(workpiece=LEFT, step="black", by="water", rested_s=9.0))
    past.forge(RIGHT, "draw", 3)
    past.rested(RIGHT, 200.0, "unsure")
    lines = _page(past, "RESTS")
    assert lines[0] == "0 kept, 1 unsure, 0 short, 0 skipped, 1 broken."
    assert "orchard gate: strap left 1, rest to black: broken by water, after 9 s" in lines
    assert any(line.startswith("Of 1 rest nobody can be sure") for line in lines)
    (doubt,) = _review(past).rests.doubts
    assert (doubt.workpiece, doubt.verdict) == (RIGHT, "unsure")


def test_a_normalising_cycle_in_doubt_is_named(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1", "unsure")
    lines = _page(past, "RESTS")
    assert lines[0] == "0 kept, 1 unsure, 0 short, 0 skipped, 0 broken."
    assert lines[1].startswith("orchard gate: hammer head 1, normalise, first: unsure")


def test_a_rest_that_is_still_due_is_not_judged(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.rest(LEFT, "black")
    review = _review(past)
    assert review.rests.faults == review.rests.doubts == ()
    assert review.rests.kept == 0


def test_a_rest_that_ended_the_piece_overnight_counts_as_kept(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1")
    past.normalised("normalise-2")
    past.press(5.0, *_ground())
    past.rest(HAMMER, "cool", needed_s=3000.0)
    past.press(5.0, DayEnded())
    assert _review(past).rests.kept == 3


def _ground() -> tuple[StepFinished, ...]:
    return (StepFinished(workpiece=HAMMER, step="grind"),)


def test_a_piece_made_again_is_told_with_its_reason(book: Path) -> None:
    past = two_days(book)
    (remake,) = _review(past).remakes
    assert (remake.workpiece, remake.remade_as, remake.why) == (RIGHT, AGAIN, "hole ran off")
    assert _page(past, "SPOILT") == [
        "orchard gate: strap right 1, when it was finished: hole ran off (made again)"
    ]


def test_a_piece_spoilt_in_practice_is_told_of_practice_alone(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.day(SECOND, practice=20.0)
    past.strap_drawn(RIGHT, 3)
    past.spoilt(RIGHT, "burnt")
    assert _review(past).remakes == ()
    assert [r.why for r in _review(past, SECOND).remakes] == ["burnt"]


def test_a_burnt_end_is_told_under_trouble(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.press(1.0, EndCutOff(workpiece=LEFT, lost_mm=12.0))
    assert _page(past, "SPOILT") == ["orchard gate: strap left 1: burnt end cut off, 12 mm lost"]


# Heats and minutes


def test_heats_stand_beside_the_plan_with_what_comes_next_and_from_how_many(book: Path) -> None:
    lines = _page(two_days(book), "HEATS · Test piece")
    draw = next(line for line in lines if "draw the tail" in line)
    assert " ".join(draw.split()) == "draw the tail hand 3 5 4 9 5 (3-9) from 3 of yours"
    eye = next(line for line in lines if "roll the eye" in line)
    assert "3 ?" in eye
    assert "3 (2-5) from 1 of yours" in eye
    assert any("never an exact chance" in line for line in lines)


def test_each_method_has_a_row_of_its_own(past: PastWork) -> None:
    past.strap_drawn(LEFT, 4)
    past.press(1.0, MethodChanged(method="power"))
    past.forge(RIGHT, "draw", 2, method="power")
    rows = {(s.step, s.method): s for s in _review(past).steps}
    assert rows["draw", "hand"].taken_heats == (4,)
    assert rows["draw", "power"].taken_heats == (2,)
    assert (rows["draw", "hand"].planned_heats, rows["draw", "power"].planned_heats) == (3, 1)


def test_a_step_without_a_piece_of_ones_own_keeps_its_plan(past: PastWork) -> None:
    past.strap_drawn(LEFT, 6)
    rows = {s.step: s for s in _review(past).steps}
    assert rows["eye"].next is None
    assert rows["eye"].taken_heats == ()
    assert any(
        "roll the eye" in line and line.endswith("the plan: not enough yet")
        for line in _page(past, "HEATS")
    )


def test_a_method_that_the_recipe_does_not_plan_is_said_to_be_unplanned(past: PastWork) -> None:
    past.press(1.0, MethodChanged(method="press"))
    past.forge(LEFT, "draw", 2, method="press")
    (row,) = [s for s in _review(past).steps if s.step == "draw"]
    assert (row.method, row.planned_heats, row.next) == ("press", None, None)
    assert any("not planned by this method" in line for line in _page(past, "HEATS"))


def test_time_at_the_bench_is_told_with_the_slow_first_piece_taken_out(book: Path) -> None:
    review = _review(two_days(book))
    (drill,) = review.bench
    assert drill.planned_min == 10.0
    assert drill.taken_min == (13.33, 8.33)
    assert drill.next is not None
    assert drill.next.low_min < drill.next.steady_min < drill.next.high_min
    assert drill.next.steady_min < 8.0
    assert drill.next.records == 2


def test_an_unusual_piece_of_the_last_session_is_asked_about_and_not_blamed(book: Path) -> None:
    past = two_days(book)
    (odd,) = _review(past).unusual
    assert (odd.workpiece, odd.taken_heats, odd.usual_heats) == (AGAIN, 9, 4.1)
    assert " ".join(_page(past, "WORTH A QUESTION")) == (
        "orchard gate: strap right 1, remade, draw the tail by hand: 9 heats, usually "
        "about 4.1. Was it so?"
    )
    assert _review(past, FIRST).unusual == ()


def test_every_method_has_its_words() -> None:
    assert set(METHOD_WORDS) == set(METHODS)


# What the journal has taught the floor


def test_the_floor_learns_only_steps_that_were_made(book: Path) -> None:
    learnt = learnt_heats(two_days(book).state)
    assert set(learnt) == {
        ("test-piece", "strap", "draw", "hand"),
        ("test-piece", "strap", "eye", "hand"),
        ("test-piece", "head", "drift", "hand"),
    }
    draw = learnt["test-piece", "strap", "draw", "hand"]
    assert (draw.heats, draw.low, draw.high, draw.records) == (5, 3, 9, 3)
    assert [heats for heats, _, _ in draw.early] == [6, 6]


def test_a_plan_that_was_changed_since_scales_what_was_learnt(book: Path) -> None:
    strap = RECIPE.components[0]
    draw = msgspec.structs.replace(strap.steps[0], heats={"hand": 6})
    strap = msgspec.structs.replace(strap, steps=(draw, *strap.steps[1:]))
    newer = msgspec.structs.replace(RECIPE, components=(strap, RECIPE.components[1]))
    learnt = learnt_heats(two_days(book).state, [newer])
    assert learnt["test-piece", "strap", "draw", "hand"].heats == 10


def test_practice_teaches_practice_alone(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.day(SECOND, practice=20.0)
    past.forge(RIGHT, "draw", 12)
    key = ("test-piece", "strap", "draw", "hand")
    assert learnt_heats(past.state)[key].records == 1
    assert learnt_heats(past.state)[key].heats == 3
    assert learnt_heats(past.state, practice=True)[key].heats > 6
    review = _review(past)
    assert not review.practice
    assert [s.session for s in review.sessions] == [FIRST]
    practised = _review(past, SECOND)
    assert practised.practice
    assert [s.session for s in practised.sessions] == [SECOND]
    assert {s.taken_heats for s in practised.steps if s.step == "draw"} == {(12,)}


# To be put right


def test_heats_that_nobody_pressed_are_asked_about_and_put_right(book: Path) -> None:
    past = two_days(book)
    shop = past.write()
    (ask,) = review_view(shop, clock=past.evening).to_put_right
    assert ask.words == "orchard gate: strap right 1, roll the eye"
    assert ask.choices == ("1", "2", "3", "4", "more")
    assert ask.step == "eye"
    before = {f.session for f in shop.whole}
    put_right(shop, ask.workpiece, ask.step, 4, clock=past.evening)
    shop = open_shop(book)
    (mended,) = [f for f in shop.whole if f.session not in before]
    assert mended.header is not None
    assert mended.header.kind == "desk"
    assert mended.presses[1].facts == (HeatsCorrected(workpiece=RIGHT, step="eye", heats=4),)
    review = review_of(shop, clock=past.evening)
    assert review.to_put_right == ()
    (eye,) = [s for s in review.steps if s.step == "eye"]
    assert (eye.taken_heats, eye.corrected) == ((3, 4), 1)
    assert eye.next is not None
    assert eye.next.records == 2


def test_more_than_four_heats_are_chosen_from_the_next_four() -> None:
    assert more_heats(0) == ("1", "2", "3", "4", "more")
    assert more_heats(4) == ("5", "6", "7", "8", "more")


@pytest.mark.parametrize("heats", [0, -1, 100])
def test_a_number_of_heats_that_cannot_be_is_refused(book: Path, heats: int) -> None:
    past = two_days(book)
    with pytest.raises(CannotDo, match="from 1 to 99"):
        put_right(past.write(), RIGHT, "eye", heats)


@pytest.mark.parametrize(("piece", "step"), [(RIGHT, "drill"), ("o1/strap/9", "eye"), (AGAIN, "x")])
def test_only_a_forging_step_that_was_done_can_be_put_right(
    book: Path, piece: str, step: str
) -> None:
    shop = two_days(book).write()
    with pytest.raises(CannotDo, match="no heats written down"):
        put_right(shop, piece, step, 3)
    assert len(open_shop(book).whole) == 2


def test_nothing_is_asked_about_an_order_that_is_closed(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.eye_not_pressed(LEFT)
    assert len(_review(past).to_put_right) == 1
    past.press(1.0, OrderClosed(order="o1"))
    assert _review(past).to_put_right == ()


# Sessions and the timeline


def test_sessions_are_told_with_their_heats_and_how_they_ended(book: Path) -> None:
    past = two_days(book)
    first, second = _review(past).sessions
    assert (first.number, first.session, first.heats) == (1, FIRST, 12)
    assert (first.ended, first.where) == ("ended", "box 2")
    assert first.orders == ("orchard gate",)
    assert first.length_min > first.worked_min + 29.9
    assert (second.heats, second.ended, second.where) == (16, "ended", "")
    lines = _page(past, "SESSIONS")
    assert "orchard gate" in lines[1]
    assert lines[1].rstrip().endswith("ended, box 2")


def test_a_session_that_was_cut_off_and_went_on_is_told_so(past: PastWork) -> None:
    past.press(5.0, PutInFire(workpiece=LEFT))
    past.begin(SECOND, after_s=600.0, continues=FIRST, orders=("o1",))
    past.press(5.0, FireLit(orders=("o1",)))
    assert [s.ended for s in _review(past).sessions] == ["went on later", "not ended"]


def test_the_timeline_at_80_columns(book: Path) -> None:
    assert _page(two_days(book), "SESSION ·", session=FIRST) == [
        "               09:00          09:30          10:00       in hand",
        "strap left 1   f######rrrrr..............f####.bbbbbbb      4:00",
        "strap right 1        f#####rrrrrrrrrrrrrrr...fff            2:00",
        "pause                      ===============",
        "",
        "A mark is 2 min: # in hand at times, f fire, r rest, b bench, . lying, = pause.",
        "1 h 19 min from first press to last, 49 min worked. In hand 6 min and at the",
        "bench 13 min (hands idle 60% of the time worked). Fire lit 1 h 19 min, with",
        "something in it 27 min.",
    ]


@pytest.mark.parametrize("width", [80, 81, 95, 96, 100, 120])
def test_no_line_of_a_review_is_wider_than_asked_for(book: Path, width: int) -> None:
    past = two_days(book)
    past.press(1.0, Noted(words="x" * 300, workpiece=LEFT))
    past.press(1.0, EndCutOff(workpiece=LEFT, why="burnt" * 60))
    view = review_view(past.write(), width=width, clock=past.evening)
    for page in view.pages:
        for line in page.lines:
            assert len(line) <= width, line


def test_one_session_is_looked_at_by_its_number_its_id_or_its_beginning(book: Path) -> None:
    past = two_days(book)
    for name in ("1", FIRST, FIRST[:8]):
        review = _review(past, name)
        assert review.shown_session == FIRST
        assert [s.session for s in review.sessions] == [FIRST]
        assert review.remakes == ()
        assert review.timeline is not None
        assert review.timeline.session == FIRST


def test_a_session_that_is_not_there_is_refused_with_what_there_is(book: Path) -> None:
    past = two_days(book)
    with pytest.raises(CannotDo, match="by its number, 1 to 2"):
        _review(past, "7")
    with pytest.raises(CannotDo, match="may be any of"):
        _review(past, FIRST[:6])


def test_one_recipe_alone_can_be_looked_at(book: Path) -> None:
    past = two_days(book)
    review = _review(past, recipe="test-piece")
    assert set(review.recipes) == {"test-piece"}
    with pytest.raises(CannotDo, match='did you mean "test-piece"'):
        _review(past, recipe="test-pice")


def test_words_that_a_person_wrote_cannot_harm_the_terminal(past: PastWork) -> None:
    past.strap_drawn(RIGHT, 3)
    past.spoilt(RIGHT, "burnt \x1b[2J\u202e")
    view = review_view(past.write(), clock=past.evening)
    text = command.as_text(view, 80)
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "U+001B" in text


def test_what_only_rested_on_from_the_day_before_has_no_row(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.rest(LEFT, "black", needed_s=90_000.0)
    past.press(5.0, DayEnded())
    past.day(SECOND)
    past.forge(RIGHT, "draw", 3)
    rows = _page(past, "SESSION ·")
    assert any(row.startswith("strap right 1") for row in rows)
    assert not any(row.startswith("strap left 1") for row in rows)


def test_two_pieces_of_the_same_name_keep_rows_of_their_own(past: PastWork) -> None:
    past.strap_drawn(RIGHT, 3)
    past.spoilt(RIGHT, "burnt")
    past.forge(AGAIN, "draw", 3)
    rows = _page(past, "SESSION ·")[1:3]
    assert rows[0].startswith("strap right 1  ")
    assert rows[1].startswith("strap right 1, remade  ")


def test_a_skip_that_is_only_a_note_is_told_as_skipped(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.press(1.0, RestSkipped(workpiece=LEFT, step="black", until="black"))
    assert "orchard gate: strap left 1, rest to black: skipped" in _page(past, "RESTS")


# The command


def test_the_command_prints_the_one_thing_worth_knowing_first(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two_days(book).write()
    assert main(["review", "--book", str(book)]) == 0
    out = capsys.readouterr().out
    assert out.startswith("A normalising cycle was skipped: orchard gate: hammer head 1")
    assert "HEATS · Test piece" in out
    assert max(map(len, out.splitlines())) <= 80


def test_in_a_terminal_the_review_opens_on_a_screen(
    book: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from forgelog.commands import telling
    from forgelog.screens import app
    from forgelog.screens.review import ReviewScreen

    two_days(book).write()
    opened: list[object] = []
    monkeypatch.setattr(telling, "on_terminal", lambda: True)
    monkeypatch.setattr(app, "run", lambda first: opened.append(first(None)) or 0)
    assert main(["review", "1", "--book", str(book)]) == 0
    (page,) = opened
    assert isinstance(page, ReviewScreen)
    assert page.shown_session == FIRST
    assert capsys.readouterr().out == ""
    assert main(["review", "--plain", "--book", str(book)]) == 0
    assert len(opened) == 1
    assert "SESSIONS" in capsys.readouterr().out


def test_the_json_has_the_keys_that_the_command_says_it_has(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two_days(book).write()
    assert main(["review", "--book", str(book), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told) == set(_fields(Review, deep=False))
    assert told["sessions"][0]["heats"] == 12
    assert told["steps"][0]["taken_heats"] == [5, 4, 9]
    assert msgspec.convert(told, Review).first == told["first"]
    said = command.__doc__ or ""
    words = set(re.findall(r"\w+", said))
    missing = {name for name in _fields(Review, deep=True) if name not in words}
    assert not missing


def _fields(kind: type[msgspec.Struct], *, deep: bool) -> Iterator[str]:
    for name, hint in get_type_hints(kind).items():
        yield name
        for part in (hint, *get_args(hint)) if deep else ():
            if isinstance(part, type) and issubclass(part, msgspec.Struct):
                yield from _fields(part, deep=True)


def test_the_command_refuses_what_it_cannot_find(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two_days(book).write()
    assert main(["review", "9", "--book", str(book)]) == 2
    assert "there is no session" in capsys.readouterr().err
    assert main(["review", "--book", str(book / "no")]) == 2


# The chart alone

_spans = st.lists(
    st.builds(
        lambda piece, doing, begin, long: SpanTold(
            workpiece=piece,
            piece=f"gate: {piece}",
            slot=piece,
            doing=doing,
            step="s",
            from_min=begin,
            to_min=begin + long,
            work_min=long,
        ),
        st.sampled_from(("a", "strap left 1", "a very long name of some piece or other")),
        st.sampled_from(("hand", "fire", "rest", "bench")),
        st.floats(0.0, 500.0),
        st.floats(0.01, 200.0),
    ),
    min_size=1,
    max_size=12,
)


@given(
    spans=_spans,
    began_min=st.floats(0.0, 1439.9),
    stretch=st.floats(1.0, 30.0),
    width=st.integers(80, 140),
)
def test_a_chart_fits_its_width_and_has_a_mark_for_all_that_was_done(
    spans: list[SpanTold], began_min: float, stretch: float, width: int
) -> None:
    length_min = max(s.to_min for s in spans) * stretch
    line = TimelineTold(
        session="s",
        began="2025-10-09T09:00:00+00:00",
        began_local_s=60.0 * began_min,
        length_min=length_min,
        worked_min=length_min,
        hand_min=0.0,
        bench_min=0.0,
        fire_min=0.0,
        lit_min=0.0,
        idle_share=None,
        spans=tuple(spans),
        stood=(),
    )
    chart = draw_chart(line, width)
    assert all(len(row) <= width for row in chart)
    rows = chart[1 : chart.index("")] if "" in chart else []
    told = {s.workpiece for s in spans if s.doing != "rest" or s.from_min > 0.0}
    assert len(rows) == len(told)
    assert any("#" in row for row in rows) == any(s.doing == "hand" for s in spans)


def test_a_day_long_session_still_fits() -> None:
    assert CELLS_MIN[-1] * 40 > 24 * 60


@given(
    text=st.text(st.characters(codec="ascii", exclude_categories=["Cc"])), width=st.integers(6, 40)
)
def test_folding_loses_no_letter_and_exceeds_no_width(text: str, width: int) -> None:
    lines = folded(text, width, "    ")
    assert all(len(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_third_day_is_the_one_shown(past: PastWork) -> None:
    for day in (SECOND, THIRD):
        past.press(5.0, DayEnded())
        past.day(day)
        past.press(5.0, PutInFire(workpiece=LEFT))
        past.press(100.0, FireLit(orders=("o1",)))
    review = _review(past)
    assert review.shown_session == THIRD
    assert [s.number for s in review.sessions] == [1, 2, 3]
