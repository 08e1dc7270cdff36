"""Pairs in the review: a table that fits, and what differs in words."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.review import review_of, review_view
from forgelog.desk.review_facts import PairLineTold, PairTold
from forgelog.desk.review_pairs import pair_lines
from forgelog.work.facts import Gauged
from tests.desk.past_work import FIRST, PastWork
from tests.learn.shop import LEFT, RIGHT


def worked(book: Path) -> PastWork:
    past = PastWork(book)
    past.open_order(FIRST, orders=("o1",))
    past.strap_drawn(LEFT, 3)
    past.strap_drawn(RIGHT, 5)
    for piece, mm in ((LEFT, 212.5), (RIGHT, 214.0)):
        past.press(5.0, Gauged(workpiece=piece, step="draw", what="length", fits=True, mm=mm))
    return past


def test_a_pair_is_told_with_its_master_and_what_differs(book: Path) -> None:
    past = worked(book)
    pair = review_of(past.write(), clock=past.evening).pairs[0]
    assert (pair.title, pair.pieces, pair.master) == (
        "orchard gate: strap",
        ("left", "right"),
        "left",
    )
    assert [(one.do, one.differs) for one in pair.lines if one.differs] == [
        ("draw the tail", "right: 2 heats more"),
        ("draw the tail", "right: 1 min longer"),
        ("draw the tail: length", "right: 1.5 mm more"),
    ]


def test_the_page_marks_what_differs_with_a_sign(book: Path) -> None:
    past = worked(book)
    pages = review_view(past.write(), clock=past.evening).pages
    page = next(page for page in pages if page.title == "PAIRS AND SETS")
    rows = [" ".join(line.split()) for line in page.lines]
    assert "draw the tail heats 3 *5" in rows
    assert "rest to black rest kept kept" in rows
    assert "The others are gauged against left, the first that was gauged." in rows
    assert rows[-1] == "* draw the tail: length, right: 1.5 mm more"


def test_a_pair_of_an_earlier_session_is_told_with_its_own_session(book: Path) -> None:
    past = worked(book)
    past.day("20251010T090000Z-anvil7k-bbbb")
    shop = past.write()
    assert review_of(shop, clock=past.evening).pairs == ()
    assert len(review_of(shop, FIRST, clock=past.evening).pairs) == 1
    assert len(review_of(shop, None, "test-piece", clock=past.evening).pairs) == 1


@given(
    count=st.integers(2, 12),
    name=st.text("ab ", max_size=30),
    width=st.integers(80, 140),
)
def test_a_set_of_any_number_fits_the_width(count: int, name: str, width: int) -> None:
    line = PairLineTold(
        step="draw",
        do=name * 3,
        measure="heats",
        values=(1.0,) * count,
        shown=("skipped",) * count,
        unlike=1,
        differs="right: 1 heat more",
    )
    pair = PairTold(
        order="o",
        title="gate: strap",
        pieces=(name,) * count,
        workpieces=("w",) * count,
        master=name,
        lines=(line,),
    )
    lines = list(pair_lines([pair], width))
    assert max(map(len, lines)) <= width
    assert sum(row.count("skipped") for row in lines) == count
