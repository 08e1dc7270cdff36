"""What is worth knowing, ranked as a smith would: what can still be put right comes first."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.review import review_of, review_view
from forgelog.desk.review_facts import (
    FindingTold,
    NextHeats,
    RemakeTold,
    RestTold,
    Review,
    SessionTold,
    StepTold,
)
from forgelog.desk.review_first import NOTHING_DONE, NOTHING_ODD, find
from forgelog.desk.review_rests import rest_lines, rested_words
from forgelog.work.facts import DayEnded, EndCutOff, NewPiece, RestSkipped, Scrapped
from tests.desk.past_work import FIRST, SECOND, PastWork
from tests.learn.shop import HAMMER, LEFT, RIGHT

SESSION = SessionTold(
    number=1,
    session="s",
    began="2026-01-30T08:15:00+00:00",
    who="",
    orders=("gate",),
    method="hand",
    fire="gas",
    presses=10,
    heats=4,
    length_min=60.0,
    worked_min=50.0,
    ended="ended",
    where="",
)
CYCLE = RestTold(
    recipe="hammer",
    workpiece="o/head/1",
    piece="hammer: head 1",
    session="s",
    step="normalise-2",
    do="normalise, second",
    until="black",
    verdict="skipped",
    normalising=True,
    matters=True,
    open=True,
    hardened=False,
    scrapped=False,
    rested_min=None,
    needed_min=None,
    low_min=None,
    high_min=None,
    section="",
    start_degc=None,
    to_degc=None,
    medium="still air",
    by_sum="",
    degc_at_end=None,
    broken_by="",
    risk="coarse grain",
    advice="Do it again.",
)
CAUSE = FindingTold(kind="cause", words="2 times burnt.")
REMAKE = RemakeTold(
    recipe="gate",
    workpiece="o/strap/1",
    piece="gate: strap 1",
    step="eye",
    do="roll the eye",
    why="burnt",
    remade_as="",
    open=True,
    in_shown=True,
)
STEP = StepTold(
    recipe="gate",
    component="strap",
    component_name="strap",
    step="eye",
    do="roll the eye",
    method="hand",
    planned_heats=2,
    taken_heats=(3, 4, 3),
    shared=0,
    corrected=0,
    spoilt=0,
    next=NextHeats(heats=3, low_heats=2, high_heats=4, records=3),
    in_hand=None,
)


def rest(**changes: object) -> RestTold:
    """A plain rest that was cut short."""
    plain = {"normalising": False, "verdict": "short", "do": "rest to black", "advice": ""}
    return msgspec.structs.replace(CYCLE, **{**plain, **changes})  # type: ignore[arg-type]


def kinds(*found: FindingTold) -> list[str]:
    return [one.kind for one in found]


def test_everything_stands_in_the_order_in_which_a_smith_would_act() -> None:
    noted = rest(matters=False, piece="gate: strap 2")
    found = find(
        [SESSION], [CYCLE, rest(), noted], [CAUSE], [REMAKE], [STEP], lesson="So.", good="Good."
    )
    assert kinds(*found) == ["cycle", "rest", "cause", "spoilt", "heats", "rest", "good"]
    assert found[0].sentence.endswith("It risks coarse grain. Do it again. So.")
    assert "gate: strap 2" in found[5].words


def test_a_cycle_that_can_still_be_done_again_comes_before_one_that_cannot() -> None:
    hardened = msgspec.structs.replace(CYCLE, piece="hammer: head 0", hardened=True)
    found = find([SESSION], [hardened, CYCLE], [], [], [])
    assert "hammer: head 1" in found[0].words


@pytest.mark.parametrize(
    ("taken", "told"),
    [((3, 4, 3), True), ((3, 3), False), ((3, 4, 2), False), ((1, 3, None, 4, 3), True)],
)
def test_a_step_is_told_of_once_three_pieces_in_a_row_took_more_than_planned(
    taken: tuple[int | None, ...], told: bool
) -> None:
    step = msgspec.structs.replace(STEP, taken_heats=taken)
    found = find([SESSION], [rest(matters=False)], [], [], [step])
    assert ("heats" in kinds(*found)) is told


def test_the_step_that_lost_the_most_heats_comes_first_and_three_are_told_at_most() -> None:
    worse = msgspec.structs.replace(STEP, do="draw the tail", taken_heats=(9, 9, 9))
    found = find([SESSION], [], [], [], [STEP, STEP, STEP, worse])
    assert len(found) == 3
    assert "draw the tail" in found[0].words
    assert found[0].advice == "Plan 3, or find what takes the extra heats."


def test_a_good_day_is_said_to_be_one() -> None:
    assert find([], [], [], [], [], good="Good.") == ()
    found = find([SESSION], [], [], [], [], good="Good in this session: nothing was spoilt.")
    assert [one.words for one in found] == [
        NOTHING_ODD,
        "Good in this session: nothing was spoilt.",
    ]


def test_a_session_in_which_nothing_was_done_is_not_praised(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.press(10.0, DayEnded())
    past.day(SECOND)
    review = review_of(past.write(), SECOND, clock=past.evening)
    assert review.first == NOTHING_DONE


@pytest.fixture
def past(book: Path) -> PastWork:
    past = PastWork(book)
    past.open_order(FIRST, orders=("o1",))
    return past


def told(past: PastWork) -> Review:
    return review_of(past.write(), clock=past.evening)


def test_what_spoilt_work_twice_is_told_as_one_cause(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.press(10.0, EndCutOff(workpiece=LEFT, why="burnt", lost_mm=12.0))
    past.press(10.0, DayEnded())
    past.day(SECOND)
    past.strap_drawn(RIGHT, 3)
    past.press(60.0, Scrapped(workpiece=RIGHT, why="Burnt", heat=2))
    causes = [one.words for one in told(past).findings if one.kind == "cause"]
    assert causes == [
        "2 times Burnt, at rest and roll the eye; the last: orchard gate: strap right 1, in heat 2."
    ]


def test_one_mishap_is_no_cause(past: PastWork) -> None:
    past.forge(LEFT, "draw", 3)
    past.press(10.0, EndCutOff(workpiece=LEFT, why="burnt"))
    past.press(10.0, EndCutOff(workpiece=LEFT, why="burnt"))
    assert "cause" not in [one.kind for one in told(past).findings]


def test_what_lost_cycles_led_to_is_told_from_the_smiths_own_record(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1", "skipped")
    past.normalised("normalise-2")
    assert "your own record" not in told(past).first
    new = NewPiece(
        id="o1/head/4", component="head", serial=4, slot="hammer head 1", remade_from=HAMMER
    )
    past.press(60.0, Scrapped(workpiece=HAMMER, why="cracked at the eye", remake=new))
    past.forge(new.id, "drift", 4)
    past.press(5.0, RestSkipped(workpiece=new.id, step="normalise-1", skipping="matters"))
    first = told(past).first
    assert first.startswith("A normalising cycle was skipped: orchard gate: hammer head 1, remade")
    assert first.endswith(
        "In your own record: orchard gate: hammer head 1 went on after normalise, first (skipped), "
        "and was scrapped, at grind the face: cracked at the eye."
    )


def test_every_rest_of_the_piece_stands_with_the_sum_behind_it(past: PastWork) -> None:
    past.forge(HAMMER, "drift", 4)
    past.normalised("normalise-1")
    past.normalised("normalise-2", "skipped")
    past.strap_drawn(LEFT, 3)
    pages = review_view(past.write(), clock=past.evening).pages
    page = next(page for page in pages if page.title == "RESTS, PIECE BY PIECE")
    lines = [line.strip() for line in page.lines]
    assert lines[0] == "orchard gate: strap left 1"
    assert " ".join(lines[1].split()) == "rest to black kept 5 min of 3 min 20 s"
    assert "orchard gate: hammer head 1" in lines
    skipped = "normalise, second SKIPPED never laid to rest"
    assert skipped in [" ".join(line.split()) for line in lines]


def test_a_piece_that_did_not_rest_in_the_session_is_not_told_again(past: PastWork) -> None:
    past.strap_drawn(LEFT, 3)
    past.press(10.0, DayEnded())
    past.day(SECOND)
    past.strap_drawn(RIGHT, 3)
    assert {one.piece for one in told(past).rests.each} == {"orchard gate: strap right 1"}


def test_the_range_of_the_sum_is_told_where_there_is_one() -> None:
    assert rested_words(rest(rested_min=25.0, low_min=11.0, high_min=18.0)) == (
        "25 min of 11 min to 18 min"
    )
    assert rested_words(rest(rested_min=2.0, needed_min=5.0)) == "2 min of 5 min"
    assert rested_words(rest(rested_min=None)) == "0 s"
    assert rested_words(CYCLE) == "never laid to rest"


@given(
    width=st.integers(80, 160),
    piece=st.text("ab cd", min_size=1, max_size=150),
    by_sum=st.text("mm degC", max_size=150),
)
def test_no_line_of_the_rests_is_wider_than_asked_for(width: int, piece: str, by_sum: str) -> None:
    lines = list(rest_lines([rest(piece=piece, do=piece, by_sum=by_sum)], width))
    assert max(map(len, lines)) <= width
