"""Pairs and sets side by side: which piece differs, and by how much."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.pairs import (
    GAUGE,
    HEATS,
    LEAST_HEATS,
    REST,
    WORK,
    Pair,
    PairLine,
    compare_pieces,
)
from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import Rows, StepRow
from forgelog.work.facts import Gauged, RestEnded, Scrapped
from tests.learn.shop import LEFT, RIGHT, Shop


@pytest.fixture
def shop() -> Shop:
    shop = Shop()
    shop.open_order()
    return shop


def strap(shop: Shop) -> Pair:
    pairs = compare_pieces(make_rows(shop.state))
    return next(pair for pair in pairs if pair.component == "strap")


def line(pair: Pair, step: str, measure: str) -> PairLine:
    return next(one for one in pair.lines if (one.step, one.measure) == (step, measure))


def rested(shop: Shop, piece: str, verdict: str) -> None:
    shop.rest(piece, "black")
    shop.press(300.0, RestEnded(workpiece=piece, step="black", rested_s=300.0, verdict=verdict))


def test_left_and_right_stand_side_by_side_with_heats_and_minutes(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    shop.forge(RIGHT, "draw", 5)
    pair = strap(shop)
    assert [(piece.workpiece, piece.mark) for piece in pair.pieces] == [
        (LEFT, "left"),
        (RIGHT, "right"),
    ]
    heats = line(pair, "draw", HEATS)
    assert (heats.values, heats.unlike, heats.by) == ((3.0, 5.0), 1, 2.0)
    work = line(pair, "draw", WORK)
    assert (work.values, work.unlike, work.by) == ((90.0, 150.0), 1, 60.0)


def test_a_piece_that_was_not_worked_on_yet_differs_in_nothing(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    rested(shop, LEFT, "ok")
    shop.forge(RIGHT, "draw", 3)
    black = line(strap(shop), "black", REST)
    assert (black.verdicts, black.unlike) == (("kept", ""), None)
    assert line(strap(shop), "draw", HEATS).unlike is None


def test_no_pair_is_made_of_one_piece(shop: Shop) -> None:
    shop.forge(LEFT, "draw", 3)
    assert compare_pieces(make_rows(shop.state)) == ()


def test_a_rest_differs_by_its_verdict_and_not_by_its_length(shop: Shop) -> None:
    for piece, verdict in ((LEFT, "ok"), (RIGHT, "short")):
        shop.forge(piece, "draw", 3)
        rested(shop, piece, verdict)
    black = line(strap(shop), "black", REST)
    assert (black.verdicts, black.unlike) == (("kept", "short"), 1)


def test_the_master_is_the_piece_that_was_gauged_first(shop: Shop) -> None:
    for piece in (LEFT, RIGHT):
        shop.forge(piece, "draw", 3)
    shop.press(5.0, Gauged(workpiece=RIGHT, step="draw", what="length", fits=True, mm=212.5))
    shop.press(5.0, Gauged(workpiece=LEFT, step="draw", what="length", fits=True, mm=213.1))
    pair = strap(shop)
    assert [(piece.workpiece, piece.master) for piece in pair.pieces] == [
        (RIGHT, True),
        (LEFT, False),
    ]
    length = line(pair, "draw", GAUGE)
    assert (length.values, length.unlike) == ((212.5, 213.1), 1)
    assert length.by == pytest.approx(0.6)


def test_a_scrapped_piece_is_neither_compared_nor_master(shop: Shop) -> None:
    for piece in (LEFT, RIGHT):
        shop.forge(piece, "draw", 3)
    shop.press(5.0, Gauged(workpiece=RIGHT, step="draw", what="length", fits=True, mm=212.5))
    shop.press(5.0, Scrapped(workpiece=RIGHT, why="burnt"))
    assert compare_pieces(make_rows(shop.state)) == ()


def rows_of(shop: Shop, heats: list[int | None]) -> Rows:
    """A set of as many straps as there are counts, each drawn in so many heats."""
    shop.forge(LEFT, "draw", 3)
    one: StepRow = make_rows(shop.state).steps[0]
    return Rows(
        steps=tuple(
            msgspec.structs.replace(one, workpiece=f"o1/strap/{i}", serial=i, heats=count)
            for i, count in enumerate(heats)
        )
    )


def heats_of(heats: list[int | None]) -> PairLine:
    shop = Shop()
    shop.open_order()
    return line(compare_pieces(rows_of(shop, heats))[0], "draw", HEATS)


def test_in_a_set_the_odd_piece_is_held_against_the_middle_of_the_others() -> None:
    found = heats_of([2, 2, 5, 2, 3])
    assert (found.unlike, found.by) == (2, 3.0)


@given(st.lists(st.none() | st.integers(1, 9), min_size=2, max_size=7))
def test_a_set_of_equal_counts_is_alike_and_one_heat_more_anywhere_is_seen(
    heats: list[int | None],
) -> None:
    found = heats_of(heats)
    known = [count for count in heats if count is not None]
    if len(set(known)) <= 1:
        assert found.unlike is None
    if found.unlike is not None:
        assert heats[found.unlike] is not None
        assert abs(found.by) >= LEAST_HEATS
        others = [c for i, c in enumerate(heats) if c is not None and i != found.unlike]
        assert min(others) - 1e-9 <= (heats[found.unlike] or 0) - found.by <= max(others) + 1e-9
