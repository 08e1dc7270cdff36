"""Another smith's evidence: the first guess, and soon outweighed."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.desk.clock import FakeClock
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.orders import take_order
from forgelog.desk.others_evidence import together
from forgelog.desk.session import start
from forgelog.desk.sharing import share
from forgelog.desk.shop import Shop
from forgelog.desk.taking import look_at, put_in_book
from forgelog.floor.settings import LearntHeats
from forgelog.recipe.written_evidence import WrittenHeatsTaken, WrittenTaken
from tests.desk.working import work

EVIDENCE = """
[[evidence.steps]]
component = "pin"
step = "draw-the-point"
by = "hand"
pieces = 12
heats = { least = 4, middle = 6, most = 8 }
"""
KEY = ("pin-of-a-friend", "pin", "draw-the-point", "hand")


def theirs(middle: int) -> WrittenTaken:
    heats = WrittenHeatsTaken(least=middle - 1, middle=middle, most=middle + 2)
    return WrittenTaken(component="pin", step="draw", by="hand", pieces=40, heats=heats)


def own(heats: int, records: int) -> LearntHeats:
    return LearntHeats(heats=heats, low=heats - 1, high=heats + 1, records=records)


def test_with_no_piece_of_ones_own_it_is_the_guess() -> None:
    found = together(None, theirs(6))
    assert (found.heats, found.low, found.high) == (6, 5, 8)
    assert found.from_words() == "5 to 8 most often, from 40 of another's"


@pytest.mark.parametrize(("records", "heats"), [(1, 6), (3, 5), (9, 4), (40, 4)])
def test_it_counts_as_one_piece_however_many_it_is_from(records: int, heats: int) -> None:
    found = together(own(4, records), theirs(9))
    assert found.heats == heats
    assert found.records == records
    assert found.from_words().endswith(f"from {records} of yours and 40 of another's")


def test_a_figure_that_the_smith_took_up_is_let_be() -> None:
    figure = LearntHeats(heats=4, low=4, high=4, records=0, own=True)
    assert together(figure, theirs(9)) is figure


@pytest.fixture
def taken(shop: Shop, tmp_path: Path) -> Shop:
    """A book with a friend's recipe and his evidence."""
    file = tmp_path / "friend.toml"
    file.write_text(share(shop, "test-pin").text + EVIDENCE)
    put_in_book(shop, look_at(shop, file), new_id="pin-of-a-friend")
    return shop.again()


def test_the_floor_knows_what_another_took_until_one_has_ones_own(
    taken: Shop, clock: FakeClock
) -> None:
    assert KEY not in learnt_so_far(taken)
    order = take_order(taken, "pin-of-a-friend", clock=clock)
    first = learnt_so_far(taken.again())[KEY]
    assert (first.heats, first.records, first.others) == (6, 0, 12)
    clock.go_on(60.0)
    session = start(taken.again(), [order.id], clock=clock, learnt=learnt_so_far(taken.again()))
    assert "from 12 of another's" in session.view().heats_from
    work(session, clock, 60)
    session.close()
    then = learnt_so_far(taken.again())[KEY]
    assert then.records >= 1
    assert then.others == 12
    assert then.heats < 6


def test_evidence_of_a_process_that_was_changed_since_is_passed_over(
    taken: Shop, clock: FakeClock
) -> None:
    file = taken.book / "recipes" / "pin-of-a-friend.toml"
    file.write_text(file.read_text().replace("hand = 2", "hand = 3"))
    take_order(taken.again(), "pin-of-a-friend", clock=clock)
    assert KEY not in learnt_so_far(taken.again())
