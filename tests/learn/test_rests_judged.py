"""Rests with a known truth: a small slice of the bench's ten thousand."""

from __future__ import annotations

import pytest

from tests.bench.rests_judged import BETWEEN, KEPT, SKIPPED, Rest, simulate, tally


@pytest.fixture(scope="module")
def rests() -> list[Rest]:
    return simulate(500)


def test_no_kept_rest_is_called_skipped_and_no_skipped_one_ok(rests: list[Rest]) -> None:
    counted = tally(rests)
    assert counted[KEPT, "skipped"] == 0
    assert counted[SKIPPED, "ok"] == 0


def test_every_word_is_said_and_every_truth_is_there(rests: list[Rest]) -> None:
    """Else the test before could not fail."""
    counted = tally(rests)
    assert counted[KEPT, "ok"] > 60
    assert counted[SKIPPED, "skipped"] > 50
    assert counted[BETWEEN, "short"] > 60
    assert sum(n for (_, word), n in counted.items() if word == "unsure") > 50


def test_a_rest_called_skipped_came_less_than_half_the_way_down(rests: list[Rest]) -> None:
    assert max(rest.true_share for rest in rests if rest.word == "skipped") < 0.5
