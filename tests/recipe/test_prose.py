"""Words with sums in braces, and nothing in them that can harm a screen."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.recipe.plain import hidden_signs, nearest, quoted
from forgelog.recipe.problems import Fault
from forgelog.recipe.prose import harmless, render, resolve_prose

SIZES = {"post": 100.0}


@pytest.mark.parametrize(
    ("text", "resolved"),
    [
        ("Mark {post + 14 mm} from the end.", "Mark {114 mm} from the end."),
        ("{post}{post}", "{100 mm}{100 mm}"),
        ("about {1/2 in} thick", "about {12.7 mm} thick"),
        ("at {1652 degF}", "at {900 degC}"),
        ("a plain {{brace}}", "a plain {{brace}}"),
        ("short by {20 mm - post}", "short by {-80 mm}"),
        ("no sum at all", "no sum at all"),
        ("", ""),
    ],
)
def test_sums_in_braces_are_worked_out(text: str, resolved: str) -> None:
    assert resolve_prose(text, SIZES) == resolved


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Mark {post from", 'has a "{" without its "}"'),
        ("Mark post} from", 'has a "}" without its "{"'),
        ("Mark {{post} from", 'has a "}" without its "{"'),
        ("Mark {po{st} from", 'has a "{" without its "}"'),
        ("Mark {pots} from", 'has "pots", which is no size'),
        ("Mark {} from", "is empty"),
    ],
)
def test_braces_that_cannot_be_read_are_faults(text: str, found: str) -> None:
    fault = resolve_prose(text, SIZES)
    assert isinstance(fault, Fault)
    assert found in fault.found


def test_resolved_prose_is_shown_in_the_units_of_the_shop() -> None:
    text = "Mark {114.3 mm} from the end at {900 degC}; {{plain}}, short by {-25.4 mm}."
    assert render(text) == "Mark 114.3 mm from the end at 900 degC; {plain}, short by -25.4 mm."
    assert (
        render(text, "inch") == "Mark 4 1/2 in from the end at 1650 degF; {plain}, short by -1 in."
    )


@given(st.text(), st.sampled_from(["mm", "inch"]))
def test_any_text_is_shown_and_harmless(text: str, units: str) -> None:
    assert is_harmless(render(text, units))


@given(st.text(), st.none() | st.integers(1, 90), st.booleans())
def test_nothing_hidden_gets_through(text: str, width: int | None, lines: bool) -> None:
    shown = harmless(text, width, lines=lines)
    assert is_harmless(shown.replace("\n", " ") if lines else shown)
    assert harmless(shown, lines=lines) == shown
    if width is not None:
        assert all(len(word) <= width for row in shown.split("\n") for word in row.split(" "))


def is_harmless(text: str) -> bool:
    kinds = {unicodedata.category(sign) for sign in text}
    return not kinds & {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[31mred", "<U+001B>[31mred"),
        ("a\u202eb", "a<U+202E>b"),
        ("zero\u200bwidth", "zero<U+200B>width"),
        ("\ud800", "<U+D800>"),
        ("tab\tand\nline", "tab and line"),
        ("Türhaken, прут, 鉤", "Türhaken, прут, 鉤"),
        ("[/] [@click=quit]", "[/] [@click=quit]"),
        ("e" + "\u0301" * 6, "e" + "\u0301" * 4 + "<U+0301><U+0301>"),
    ],
)
def test_what_cannot_be_seen_is_named_and_the_rest_is_left(text: str, shown: str) -> None:
    assert harmless(text) == shown


def test_an_endless_word_is_broken_and_a_message_is_not_endless() -> None:
    broken = harmless("x" * 10_000, 40)
    assert max(map(len, broken.split())) == 40
    assert broken.replace(" ", "") == "x" * 10_000
    assert len(quoted("x" * 10_000)) == 42


def test_hidden_signs_are_found_and_joiners_are_left_to_the_scripts_that_need_them() -> None:
    assert hidden_signs("a\u202eb\x1bc\u202e") == ("\u202e", "\x1b")
    assert hidden_signs("می\u200cخواهم \n\t") == ()


def test_the_nearest_word_is_found_whatever_its_dashes_and_capitals() -> None:
    assert nearest("Black_Is Hott", ["black-is-hot", "eyes"]) == "black-is-hot"
    assert nearest("zzz", ["black-is-hot", "eyes"]) == ""
