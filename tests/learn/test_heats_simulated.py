"""The rule on simulated smiths whose truth is drawn from its own prior: it must do what it says."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.bench.learn_heats import Row, simulate, simulate_new_step


@pytest.fixture(scope="module")
def rows() -> dict[int, Row]:
    return {row.past: row for row in simulate(smiths=150)}


def test_one_own_piece_takes_a_third_off_the_error_of_the_plan(rows: dict[int, Row]) -> None:
    assert rows[0].model == rows[0].plan
    assert rows[1].model < 0.67 * rows[1].plan


def test_more_pieces_never_make_it_much_worse(rows: dict[int, Row]) -> None:
    errors = [rows[past].model for past in (1, 2, 3, 5, 8)]
    assert all(later < earlier * 1.1 for earlier, later in pairwise(errors))
    assert errors[-1] < 0.85 * errors[0]


def test_the_centre_is_no_worse_than_a_plain_median_of_the_last_five(rows: dict[int, Row]) -> None:
    for past in (1, 2, 3, 5, 8):
        median = rows[past].median
        assert median is not None
        assert rows[past].model < 1.05 * median


def test_the_shown_range_holds_more_than_the_four_in_five_that_it_is_made_for(
    rows: dict[int, Row],
) -> None:
    assert all(0.88 < row.in_range < 0.98 for row in rows.values())


def test_fewer_than_one_usual_piece_in_ten_is_asked_about(rows: dict[int, Row]) -> None:
    for past in (2, 3, 5, 8):
        flagged = rows[past].flagged
        assert flagged is not None
        assert 0.01 < flagged < 0.10


def test_a_smith_who_scatters_twice_as_much_is_asked_little_more_often() -> None:
    """His own spread is learnt, so his pieces are measured by it once there are a few."""
    rows = {row.past: row for row in simulate(0.50, smiths=150)}
    assert all(0.01 < (rows[past].flagged or 0.0) < 0.12 for past in (3, 5, 8))
    assert rows[3].in_range > 0.75


def test_a_step_never_made_gains_from_the_other_steps() -> None:
    none, some = simulate_new_step(0, smiths=600), simulate_new_step(8, smiths=600)
    assert some < 0.9 * none
