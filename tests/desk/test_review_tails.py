"""What a review tells out of sums and tails is what all rows tell, on books pressed at random."""

from __future__ import annotations

from pathlib import Path
from unittest.mock import patch

import pytest

from forgelog.book import index_rows
from forgelog.desk import review
from forgelog.desk.clock import FakeClock
from forgelog.desk.review import look_back, review_of
from forgelog.desk.review_facts import LeftOut, Review
from forgelog.desk.review_pages import write_pages
from forgelog.desk.shop import Shop, open_shop
from tests.book.whole_fold import RandomBook

WIDTH = 112
"""So wide that minutes stand in the tables too."""


def _shop(book: Path, made: RandomBook) -> Shop:
    for name, lines in made.lines().items():
        path = book / "journal" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"".join(lines))
    return open_shop(book)


def _pages(told: Review, left: LeftOut | None = None) -> list[str]:
    pages = write_pages(told, WIDTH, left)
    return [told.first, *(line for page in pages for line in (page.title, *page.lines))]


@pytest.mark.parametrize("seed", range(12))
def test_a_review_reads_the_same_from_sums_as_from_all_rows(book: Path, seed: int) -> None:
    made = RandomBook(seed).make(sessions=14, presses=24)
    with patch.object(index_rows, "NEWEST_ROWS", 12):
        shop, clock = _shop(book, made), FakeClock(made.now_s + 3_000.0)
        whole = review_of(shop, clock=clock)
        brief = look_back(shop, clock=clock)
        assert _pages(brief.review, brief.left) == _pages(whole)
        assert brief.review.to_put_right == whole.to_put_right
        first = look_back(shop, clock=clock, opening=True)
        assert first.review.first == whole.first
        assert first.review.findings == whole.findings
        for recipe in whole.recipes:
            told = look_back(shop, None, recipe, clock=clock)
            assert _pages(told.review, told.left) == _pages(
                review_of(shop, None, recipe, clock=clock)
            )
        session = whole.sessions[len(whole.sessions) // 2].session
        assert look_back(shop, session, clock=clock).review == review_of(shop, session, clock=clock)


def test_the_opening_of_a_review_is_its_first_pages(book: Path) -> None:
    made = RandomBook(3).make(sessions=9, presses=24)
    shop, clock = _shop(book, made), FakeClock(made.now_s + 3_000.0)
    opening = look_back(shop, clock=clock, opening=True)
    first = write_pages(opening.review, WIDTH, opening.left, opening=True)
    whole = look_back(shop, clock=clock)
    assert first == write_pages(whole.review, WIDTH, whole.left)[: len(first)] != ()


def test_of_many_sessions_and_orders_the_older_ones_are_counted(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(review, "LAST_SESSIONS", 2)
    monkeypatch.setattr(review, "MOST_ORDERS", 0)
    made = RandomBook(5).make(sessions=14, presses=24)
    shop, clock = _shop(book, made), FakeClock(made.now_s + 3_000.0)
    whole = review_of(shop, clock=clock)
    brief = look_back(shop, clock=clock)
    assert brief.review.sessions == whole.sessions[-2:]
    assert brief.left.sessions == len(whole.sessions) - 2
    assert len(brief.review.rests.faults) + brief.left.faults == len(whole.rests.faults)
