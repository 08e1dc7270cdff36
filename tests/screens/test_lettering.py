"""The large letters: all there, all apart, digits of one width."""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.screens.lettering import (
    INK,
    LOW,
    LOW_ROWS,
    TALL,
    TALL_ROWS,
    drawn,
    plain_letters,
    width_of,
)

FACES = [("low", LOW, LOW_ROWS), ("tall", TALL, TALL_ROWS)]
NEEDED = string.ascii_uppercase + string.digits + ":.,-/' +?()"


@pytest.mark.parametrize(("name", "face", "rows"), FACES)
def test_every_letter_is_drawn_and_differs_from_all_others(
    name: str, face: dict[str, tuple[str, ...]], rows: int
) -> None:
    assert set(face) >= set(NEEDED)
    seen: dict[tuple[str, ...], str] = {}
    for letter in NEEDED.replace(" ", ""):
        glyph = face[letter]
        assert len(glyph) == rows
        assert len({len(row) for row in glyph}) == 1
        assert set("".join(glyph)) <= {INK, " "}
        assert glyph not in seen, f"{letter} looks like {seen[glyph]}"
        seen[glyph] = letter


@pytest.mark.parametrize(("name", "face", "rows"), FACES)
def test_all_digits_are_equally_wide(
    name: str, face: dict[str, tuple[str, ...]], rows: int
) -> None:
    assert len({len(face[digit][0]) for digit in string.digits}) == 1


def test_ten_tall_letters_fit_eighty_columns() -> None:
    assert width_of("M" * 10, "tall") <= 80


@given(
    st.text(max_size=12),
    st.sampled_from(["low", "tall"]),
    st.tuples(st.integers(1, 4), st.integers(1, 3)),
)
def test_any_words_can_be_drawn(text: str, face: str, scale: tuple[int, int]) -> None:
    rows = drawn(text, face, scale)
    assert len(rows) == (LOW_ROWS if face == "low" else TALL_ROWS) * scale[1]
    assert {len(row) for row in rows} == {width_of(text, face, scale[0])}


def test_accents_come_off_and_unknown_signs_are_said_to_be_unknown() -> None:
    assert plain_letters("épée–ß鍛") == "EPEE-SS?"
