"""Heat colours at their edges and in daylight; hot size outside its range."""

from __future__ import annotations

import pytest

from forgelog.trade.colours import heat_look, heat_words, temper_words
from forgelog.trade.errors import SumError
from forgelog.trade.hot import elongation
from forgelog.trade.sections import parse_section
from forgelog.trade.stock import becomes_mm


def test_daylight_hides_the_lowest_heats_and_dulls_the_rest() -> None:
    assert heat_words(500, "dim") == "black red"
    assert heat_words(500, "day") == "no colour"
    assert heat_words(1050, "dim") == "orange"
    assert heat_words(1050, "day") == "bright red"
    assert heat_words(600, "day") == "black red"


def test_below_the_table_it_is_black_and_above_it_white() -> None:
    assert heat_look(300).word == "black"
    assert heat_look(1600).word == "white"
    assert heat_words(1600) == "white"


def test_temper_colours_between_two_names_say_both() -> None:
    assert temper_words(292) == "dark purple to blue"
    assert temper_words(320) == "dark blue to grey blue"
    assert temper_words(100) == "none"


def test_hot_size_ends_where_it_is_known() -> None:
    with pytest.raises(SumError, match="from -50 to 1350"):
        elongation(1400)


def test_a_bar_that_scales_away_has_no_length() -> None:
    bar = parse_section("12 mm square")
    with pytest.raises(SumError, match="the loss is 1"):
        becomes_mm(100, bar, bar, loss=1.0)
