"""Pages as they are laid out: all words there, nothing over the edge, nothing that harms."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.floor.view import FireLine, HotLine, KeyLine, ListView, RestLine, View
from forgelog.screens.far import far
from forgelog.screens.near import near
from forgelog.screens.page import Line, cells, cut, text_of, wrapped
from tests.screens.canned import ALL, FULL, IN_HAND, LIST, QUESTION
from tests.screens.pictures import FOLDER, PICTURES, drawn

SIZES = [(80, 24), (100, 30), (119, 24), (171, 30), (172, 30), (200, 60), (80, 60), (200, 24)]
LAYOUTS = [near, far]


def words_of(lines: tuple[Line, ...]) -> str:
    return " ".join(text_of(lines).split())


def fills(lines: tuple[Line, ...], width: int, height: int) -> bool:
    return len(lines) == height and all(
        sum(cells(text) for text, _ in line) == width for line in lines
    )


@pytest.mark.parametrize("name", PICTURES)
def test_a_page_looks_as_it_did(name: str) -> None:
    assert drawn(name) == (FOLDER / f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("lay_out", LAYOUTS)
@pytest.mark.parametrize(("width", "height"), [*SIZES, (60, 15), (79, 24), (10, 3), (1, 1)])
@pytest.mark.parametrize("name", ALL)
def test_a_page_fills_its_window_and_no_more(
    name: str, width: int, height: int, lay_out: object
) -> None:
    assert callable(lay_out)
    assert fills(lay_out(ALL[name], width, height), width, height)


@pytest.mark.parametrize("lay_out", LAYOUTS)
@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("view", [IN_HAND, FULL, LIST, QUESTION])
def test_no_meaning_of_a_key_is_ever_cut(
    view: View, width: int, height: int, lay_out: object
) -> None:
    assert callable(lay_out)
    text = text_of(lay_out(view, width, height))
    for key in view.keys:
        assert f"{key.key}  {key.words}" in text


@pytest.mark.parametrize("width", [80, 99, 120, 171])
def test_below_172_columns_the_keys_stand_in_two_rows(width: int) -> None:
    rows = text_of(near(IN_HAND, width, 30)).split("\n")[-2:]
    assert rows[0].startswith(" SPACE")
    assert "ENTER" in rows[0]
    assert rows[1].startswith(" TAB")
    assert "BACKSPACE" in rows[1]


@pytest.mark.parametrize("view", [IN_HAND, FULL])
def test_from_172_columns_on_the_keys_stand_in_one_row(view: View) -> None:
    row = text_of(near(view, 172, 30)).split("\n")[-1]
    places = [row.index(f"{key} ") for key in ("SPACE", "ENTER", "TAB", "BACKSPACE")]
    assert places == sorted(places)


def test_keys_stay_where_they_are_when_their_words_change() -> None:
    def places(view: View) -> list[tuple[int, int]]:
        rows = text_of(near(view, 100, 30)).split("\n")
        return [
            (y, row.index(f"{key} "))
            for key in ("ENTER", "BACKSPACE")
            for y, row in enumerate(rows)
            if f"{key} " in row
        ]

    assert places(IN_HAND) == places(QUESTION)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_near_view_shows_all_of_the_moment(width: int, height: int) -> None:
    words = words_of(near(IN_HAND, width, height))
    for part in (
        IN_HAND.order,
        IN_HAND.piece,
        IN_HAND.progress,
        *IN_HAND.lines,
        IN_HAND.heats,
        IN_HAND.heat_left,
        IN_HAND.status,
        "FIRE 2 of 3",
        "2 A strap 1:40 LOOK",
        "3 B pintle 0:20",
        "RESTING",
        "HOT",
        IN_HAND.next[0],
    ):
        assert part in words, part


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_far_view_shows_the_line_and_the_heat_left(width: int, height: int) -> None:
    words = words_of(far(IN_HAND, width, height))
    assert IN_HAND.lines[0] in words
    assert IN_HAND.heat_left in words
    assert "LOOK A strap, 1:40 in the fire" in words


@pytest.mark.parametrize("lay_out", LAYOUTS)
def test_look_is_a_word_and_stands_in_reverse(lay_out: object) -> None:
    assert callable(lay_out)
    spans = [span for line in lay_out(IN_HAND, 100, 30) for span in line]
    looks = {look.name for text, look in spans if text.strip() == "LOOK"}
    assert looks == {"LOOK"}


@pytest.mark.parametrize("lay_out", LAYOUTS)
def test_question_and_list_are_seen_in_both_views(lay_out: object) -> None:
    assert callable(lay_out)
    for width, height in ((80, 24), (100, 30)):
        assert "Take it up all the same?" in words_of(lay_out(QUESTION, width, height))
        assert "lapses in 7 s" in words_of(lay_out(QUESTION, width, height))
        text = text_of(lay_out(LIST, width, height))
        assert "> scrap it and make another" in text
        assert "4 of 6" in text


def test_a_long_list_is_scrolled_to_the_choice_under_the_key() -> None:
    choices = tuple(f"choice {i}" for i in range(40))
    for at in (0, 1, 20, 38, 39):
        view = msgspec.structs.replace(IN_HAND, list=ListView(title="MANY", choices=choices, at=at))
        for lay_out in LAYOUTS:
            text = text_of(lay_out(view, 80, 24))
            assert f"> choice {at} " in text + " " or f"> choice {at}\n" in text
            assert f"{at + 1} of 40" in text


@pytest.mark.parametrize("lay_out", LAYOUTS)
@pytest.mark.parametrize("clock", ["100:02:03", "429155:17", "123456789:00:00"])
def test_a_clock_too_long_for_large_letters_leaves_the_words_alone(
    clock: str, lay_out: object
) -> None:
    assert callable(lay_out)
    view = msgspec.structs.replace(IN_HAND, clock=clock)
    for width, height in SIZES:
        words = set(words_of(lay_out(view, width, height)).split())
        wanted = IN_HAND.lines if lay_out is near else IN_HAND.lines[:1]
        assert {word for line in wanted for word in line.split()} <= words


def test_alarms_that_do_not_fit_are_counted() -> None:
    view = msgspec.structs.replace(IN_HAND, alarms=tuple(f"LOOK: piece {i}" for i in range(30)))
    row = text_of(near(view, 80, 24)).split("\n")[1]
    shown = row.count("LOOK: piece")
    assert f"+{30 - shown} more" in row


def test_practice_and_pause_and_a_slow_disk_are_said_in_words() -> None:
    for lay_out in LAYOUTS:
        text = text_of(lay_out(FULL, 80, 24, ("NOT YET ON DISK",)))
        assert "PAUSED" in text
        assert "PRACTICE x20" in text
        assert "NOT YET ON DISK" in text


def test_a_window_too_small_says_what_it_needs() -> None:
    for lay_out in LAYOUTS:
        words = words_of(lay_out(IN_HAND, 60, 15))
        assert "make the window larger: 80 x 24 needed, 60 x 15 found" in words
        assert "ENTER the eye is rolled: let it rest" in words


TEXT = st.text(max_size=60)


@st.composite
def views(draw: st.DrawFn) -> View:
    few = st.integers(min_value=0, max_value=9)
    return View(
        order=draw(TEXT),
        piece=draw(TEXT),
        progress=draw(TEXT),
        verb=draw(TEXT),
        verb_short=draw(st.text(max_size=10)),
        lines=tuple(draw(st.lists(TEXT, max_size=6))),
        heats=draw(TEXT),
        heats_from=draw(TEXT),
        clock=draw(st.sampled_from(["", "0:05", "12:45", "1:02:33", "429155:17"])),
        clock_words=draw(TEXT),
        heat_left=draw(TEXT),
        heat_left_share=draw(st.none() | st.floats(min_value=-1, max_value=2)),
        done_words=draw(TEXT),
        message=draw(TEXT),
        question=draw(st.just("") | TEXT),
        question_left_s=draw(st.none() | st.floats(min_value=-5, max_value=10)),
        list=draw(
            st.none()
            | st.builds(
                lambda t, c: ListView(title=t, choices=tuple(c), at=len(c) - 1),
                TEXT,
                st.lists(TEXT, min_size=1, max_size=12),
            )
        ),
        fire=tuple(
            FireLine(number=draw(few), name=draw(TEXT), clock="1:40", look=draw(st.booleans()))
            for _ in range(draw(st.integers(0, 4)))
        ),
        resting=tuple(
            RestLine(number=draw(few), name=draw(TEXT), words=draw(TEXT))
            for _ in range(draw(st.integers(0, 4)))
        ),
        hot=tuple(
            HotLine(number=draw(few), name=draw(TEXT), words=draw(TEXT))
            for _ in range(draw(st.integers(0, 4)))
        ),
        next=tuple(draw(st.lists(TEXT, max_size=3))),
        status=draw(TEXT),
        keys=tuple(
            KeyLine(key=key, words=draw(st.text(max_size=34)), live=draw(st.booleans()))
            for key in ("SPACE", "ENTER", "TAB", "BACKSPACE")
        ),
        alarms=tuple(draw(st.lists(TEXT, max_size=4))),
        paused=draw(st.booleans()),
        practice=draw(st.sampled_from(["", "PRACTICE x20"])),
    )


@given(views(), st.sampled_from([(80, 24), (100, 30), (130, 30), (60, 10)]), st.booleans())
def test_whatever_the_words_a_page_fills_its_window_and_sends_nothing_harmful(
    view: View, size: tuple[int, int], is_far: bool
) -> None:
    width, height = size
    lines = (far if is_far else near)(view, width, height)
    assert fills(lines, width, height)
    letters = "".join(text for line in lines for text, _ in line)
    assert not any(sign < " " or "\x7f" <= sign < "\xa0" for sign in letters)
    assert not set(letters) & set(
        "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f"
    )


@given(st.text(max_size=80), st.integers(min_value=1, max_value=30))
def test_wrapped_rows_fit_and_lose_no_letter(text: str, width: int) -> None:
    rows = wrapped(text, width)
    # A letter that takes two cells cannot fit a row of one.
    assert all(cells(row) <= max(width, 2) for row in rows)
    assert "".join("".join(rows).split()) == "".join("".join(wrapped(text, 10_000)).split())


@given(st.text(max_size=80), st.integers(min_value=0, max_value=40))
def test_cut_words_fit(text: str, width: int) -> None:
    assert cells(cut(text, width)) <= width
