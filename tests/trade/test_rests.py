"""The careful words about a rest, where the table of the model does not reach."""

from __future__ import annotations

import math

import pytest

from forgelog.trade.errors import SumError
from forgelog.trade.rests import cycle_counts, rest_verdict, spread
from forgelog.trade.sections import parse_section

BAR = parse_section("20 mm square")


def test_the_times_of_a_verdict_stand_around_the_time_needed() -> None:
    verdict = rest_verdict(BAR, 900, rested_s=10, required_degc=480)
    assert verdict.low_s == pytest.approx(verdict.needed_s / 1.25)
    assert verdict.high_s == pytest.approx(verdict.needed_s * 1.25)
    assert spread(45) == spread(480, "draught") == 1.6
    assert spread(480, "bed") == 2.0


def test_a_rest_that_asks_for_colder_than_the_room_is_never_ok() -> None:
    verdict = rest_verdict(BAR, 900, rested_s=1e6, required_degc=15)
    assert verdict.word == "short"
    assert verdict.needed_s == math.inf


def test_in_the_banked_fire_nothing_is_sure_but_the_start() -> None:
    night = rest_verdict(BAR, 850, rested_s=12 * 3600, required_degc=45, medium="fire")
    moment = rest_verdict(BAR, 850, rested_s=60, required_degc=45, medium="fire")
    assert (night.word, moment.word) == ("unsure", "skipped")
    assert night.high_s == math.inf


def test_a_rest_waits_for_one_thing() -> None:
    with pytest.raises(SumError, match="one of the two"):
        rest_verdict(BAR, 900, rested_s=1)
    with pytest.raises(SumError, match="one of the two"):
        rest_verdict(BAR, 900, rested_s=1, required_degc=480, required_s=60)
    with pytest.raises(SumError, match='no rest in "sea"'):
        rest_verdict(BAR, 900, rested_s=1, required_degc=480, medium="sea")


@pytest.mark.parametrize(
    ("reached", "ac3", "minutes", "medium", "air_hardening", "word"),
    [
        (900.0, 790.0, 8.0, "still air", False, "ok"),
        (900.0, 790.0, 5.0, "still air", False, "unsure"),
        (900.0, 790.0, 3.0, "still air", False, "short"),
        (750.0, 790.0, 30.0, "still air", False, "short"),
        (900.0, 790.0, 60.0, "bed", False, "short"),
        (900.0, 790.0, 8.0, "draught", False, "short"),
        (900.0, None, 8.0, "still air", False, "unsure"),
        (900.0, 790.0, 8.0, "still air", True, "unsure"),
        (500.0, 790.0, 8.0, "still air", False, "skipped"),
    ],
)
def test_a_normalising_cycle_counts_only_if_it_was_hot_enough_and_cooled_in_air(
    reached: float,
    ac3: float | None,
    minutes: float,
    medium: str,
    air_hardening: bool,
    word: str,
) -> None:
    verdict = cycle_counts(
        BAR,
        reached_degc=reached,
        ac3_degc=ac3,
        rested_s=minutes * 60,
        medium=medium,
        air_hardening=air_hardening,
    )
    assert verdict.word == word
    assert verdict.why


def test_a_rest_of_no_minutes_is_kept_at_once() -> None:
    assert rest_verdict(BAR, 900, rested_s=0, required_s=0).word == "ok"
