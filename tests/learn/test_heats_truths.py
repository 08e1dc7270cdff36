"""The rule on simulated shops whose truth is none of its own: a small slice of the bench."""

from __future__ import annotations

import pytest

from tests.bench.learn_truths import (
    TRUTHS,
    Row,
    Truth,
    error_with,
    foretell,
    make_shops,
    other_method,
)

LEARNS, LEARNS_MUCH, UPWARD, SCATTER, NO_RUN, PRIOR = TRUTHS
SMITHS = 60
OWN = (1, 2, 3, 5, 8)


def _rows(truth: Truth) -> dict[int, Row]:
    shops = make_shops(truth, SMITHS)
    return {past: foretell(shops, past) for past in OWN}


@pytest.fixture(scope="module", params=[LEARNS, LEARNS_MUCH, UPWARD], ids=lambda t: t.name)
def learning(request: pytest.FixtureRequest) -> dict[int, Row]:
    return _rows(request.param)


def test_where_runs_are_learnt_a_tenth_comes_off_the_error_of_the_median(
    learning: dict[int, Row],
) -> None:
    assert {past for past, row in learning.items() if row.gain < 0.10} == set()


def test_the_shown_range_holds_four_in_five_to_nineteen_in_twenty(
    learning: dict[int, Row],
) -> None:
    assert all(0.80 <= row.in_range <= 0.95 for row in learning.values())


def test_at_most_one_ordinary_piece_in_ten_is_flagged_and_most_odd_ones_are(
    learning: dict[int, Row],
) -> None:
    judged = [learning[past] for past in (2, 3, 5, 8)]
    assert all((row.flagged or 0.0) <= 0.10 for row in judged)
    assert sum(row.found or 0.0 for row in judged) / len(judged) > 0.40


@pytest.mark.parametrize("truth", [NO_RUN, PRIOR], ids=lambda t: t.name)
def test_where_no_run_is_learnt_nothing_is_gained_and_next_to_nothing_lost(truth: Truth) -> None:
    """The tenth cannot be had here: the median knows all that there is to know."""
    rows = _rows(truth)
    assert all(row.rule < 1.06 * (row.median or 0.0) for row in rows.values())
    assert all(row.rule < 1.06 * row.plain for row in rows.values())
    assert all(row.in_range >= 0.80 for row in rows.values())


def test_a_smith_who_scatters_much_is_not_asked_about_every_other_piece() -> None:
    rows = _rows(SCATTER)
    assert all((rows[past].flagged or 0.0) <= 0.10 for past in (3, 5, 8))


def test_of_all_that_is_known_the_number_in_the_run_helps_most() -> None:
    shops = make_shops(LEARNS, SMITHS)
    errors = {
        known: sum(error_with(shops, past, known) for past in OWN)
        for known in ("piece of the run", "pieces in the fire", "section", "nothing")
    }
    assert min(errors, key=lambda known: errors[known]) == "piece of the run"
    assert errors["piece of the run"] < 0.90 * errors["nothing"]
    assert errors["pieces in the fire"] > 0.97 * errors["nothing"]


def test_the_other_method_takes_over_the_smith_and_not_the_step() -> None:
    """Carried over whole, the hand's factor is worse where the methods are only half alike."""
    rule, whole, plan = other_method(60, 0.5)
    assert rule < whole
    assert rule < plan
