"""The words of the trade in both usages."""

from __future__ import annotations

import pytest

from forgelog.trade.words import ALSO, DIALECTS, WORDS, in_dialect, say


def test_a_word_is_said_in_the_dialect() -> None:
    assert say("draw_down", "uk") == "draw down"
    assert say("draw_down", "us") == "draw out"
    assert say("hardie_hole", "us") == "hardy hole"
    with pytest.raises(ValueError, match="not in"):
        say("upset", "fr")


def test_a_text_is_turned_into_the_dialect_and_back() -> None:
    british = "Gauge the colour in the leg vice, then draw down; use the hardie hole."
    american = "Gage the color in the post vise, then draw out; use the hardy hole."
    assert in_dialect(british, "us") == american
    assert in_dialect(american, "uk") == british
    assert in_dialect(british, "uk") == british


def test_only_whole_words_are_swapped() -> None:
    assert in_dialect("take advice on the discoloured engauged end", "us") == (
        "take advice on the discoloured engauged end"
    )


def test_quantities_and_braces_are_left_alone() -> None:
    text = "Mark {post + 14 mm}, 12 mm square, to 950 degC."
    assert in_dialect(text, "us") == text


def test_to_hot_cut_a_bar_is_said_so_everywhere() -> None:
    assert in_dialect("hot cut the end", "uk") == "hot cut the end"
    assert in_dialect("take the hot set", "us") == "take the hot cut"


def test_every_other_word_means_one_of_ours() -> None:
    assert set(ALSO.values()) <= set(WORDS)
    assert all(len(pair) == len(DIALECTS) for pair in WORDS.values())
