"""Trends in words and charts: within the width, without colour, and honest about few records."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.__main__ import main
from forgelog.desk.errors import CannotDo
from forgelog.desk.trend_charts import draw_curve, draw_hours, draw_idle
from forgelog.desk.trend_pages import NOTHING_YET, first_words, write_trends
from forgelog.desk.trends import CurveTold, HourTold, Range, Trends, UseTold, trends_of
from forgelog.work.facts import DayEnded
from tests.desk.past_work import FIRST, SECOND, PastWork, two_days
from tests.learn.shop import LEFT, RIGHT

FALLS = CurveTold(
    recipe="gate",
    component="strap",
    component_name="strap",
    step="eye",
    do="roll the eye",
    method="hand",
    planned_heats=3,
    taken_heats=(6, 4, 4, 3),
    fitted_heats=(5.9, 4.4, 3.7, 3.2),
    low_heats=(5.0, 4.0, 3.3, 2.9),
    high_heats=(6.5, 4.8, 4.1, 3.8),
    doubling=Range(middle=0.74, low=0.66, high=0.83, records=4),
    sure=True,
)


def trends(*curves: CurveTold, **more: object) -> Trends:
    empty = {"practice": False, "hours": (), "sessions": (), "causes": (), "methods": ()}
    return Trends(curves=curves, **{**empty, **more})  # type: ignore[arg-type]


def test_the_surest_trend_is_said_first() -> None:
    assert first_words(trends(FALLS)) == (
        "strap, roll the eye (hand) takes fewer heats the more you make: "
        "times 0.74 (0.66 to 0.83) with each doubling, from 4 pieces."
    )
    assert first_words(trends()) == NOTHING_YET


@pytest.mark.parametrize("width", [80, 100, 120])
def test_charts_keep_their_width_and_hold_no_colour(width: int) -> None:
    hours = [
        HourTold(
            hour=hour,
            heat_s=Range(middle=30.0, low=20.0, high=40.0, records=4),
            usual_share=Range(middle=share, low=share - 0.2, high=share + 0.9, records=4),
        )
        for hour, share in ((8, 0.9), (14, 1.3))
    ]
    idle = [
        UseTold(session=str(n), began="", in_fire=None, idle_share=n / 10, heats=3)
        for n in range(5)
    ]
    for lines in (draw_curve(FALLS, width), draw_hours(hours, width), draw_idle(idle, width)):
        assert max(map(len, lines)) <= width
        assert any(len(line) > width - 4 for line in lines)
        assert "\x1b" not in "".join(lines)
        assert sum(line.count("*") for line in lines) >= 2


def test_every_piece_has_its_mark_at_its_heats() -> None:
    lines = draw_curve(FALLS, 80)[:-1]
    marked = [line[0] for line in lines if "*" in line[1:]]
    assert marked == ["6", "4", "3"]


def test_a_single_session_has_no_chart_of_idle_hands() -> None:
    one = UseTold(session="s", began="", in_fire=None, idle_share=0.2, heats=3)
    assert draw_idle([one], 80) == []


@pytest.fixture
def past(book: Path) -> PastWork:
    past = two_days(book)
    past.press(10.0, DayEnded())
    return past


def test_an_empty_book_has_no_trends(book: Path) -> None:
    told = trends_of(PastWork(book).write())
    assert write_trends(told, 80) == ()
    assert first_words(told) == NOTHING_YET


@pytest.mark.parametrize("width", [80, 97, 120])
def test_no_line_of_the_pages_is_wider_than_asked_for(past: PastWork, width: int) -> None:
    pages = write_trends(trends_of(past.write(), clock=past.evening), width)
    assert {page.title for page in pages} >= {"FIRE AND HANDS", "WHAT SPOILT WORK"}
    assert max(len(line) for page in pages for line in (page.title, *page.lines)) <= width


def test_a_recipe_that_was_never_worked_from_is_refused(past: PastWork) -> None:
    with pytest.raises(CannotDo, match='nothing was worked from a recipe "test-pice"'):
        trends_of(past.write(), "test-pice")


def test_what_spoilt_work_is_told_with_its_step(past: PastWork) -> None:
    told = trends_of(past.write(), clock=past.evening)
    assert [(cause.why, cause.times, cause.remade) for cause in told.causes] == [
        ("hole ran off", 1, 1)
    ]


def test_practice_and_real_work_are_never_mixed(book: Path) -> None:
    past = PastWork(book)
    past.open_order(FIRST, orders=("o1",), practice=20.0)
    past.forge(LEFT, "draw", 3)
    past.press(10.0, DayEnded())
    past.day(SECOND)
    past.forge(RIGHT, "draw", 5)
    told = trends_of(past.write(), clock=past.evening)
    assert not told.practice
    assert [curve.taken_heats for curve in told.curves] == [(5,)]


def test_the_shell_prints_trends_and_their_json(
    past: PastWork, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(past.write().book)]
    assert main([*book, "trends"]) == 0
    assert "WHAT SPOILT WORK\nhole ran off" in capsys.readouterr().out
    assert main([*book, "trends", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told) == {"practice", "curves", "hours", "sessions", "causes", "methods"}
    assert main([*book, "trends", "--recipe", "x"]) == 2
    assert "nothing was worked" in capsys.readouterr().err


def test_the_plotting_library_is_loaded_only_when_a_chart_is_drawn() -> None:
    code = (
        "import sys, forgelog.screens.trends, forgelog.desk.trends, forgelog.desk.trend_pages\n"
        "print('plotext' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.strip() == "False"


@given(st.lists(st.integers(1, 40), min_size=1, max_size=200), st.integers(80, 140))
def test_a_chart_of_any_heats_can_be_drawn(heats: list[int], width: int) -> None:
    curve = CurveTold(
        recipe="r",
        component="c",
        component_name="c",
        step="s",
        do="s",
        method="hand",
        planned_heats=None,
        taken_heats=tuple(heats),
        fitted_heats=(),
        low_heats=(),
        high_heats=(),
        doubling=None,
        sure=False,
    )
    assert max(map(len, draw_curve(curve, width))) <= width
