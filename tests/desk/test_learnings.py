"""What the journal teaches, and suggestions answered: through real files and the shell."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path

import msgspec
import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from forgelog.commands import learn as command
from forgelog.desk.errors import CannotDo
from forgelog.desk.learn_pages import NOT_ENOUGH, write_learn_pages
from forgelog.desk.learnings import learnings_of
from forgelog.desk.learnt import heats_in_words
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.shop import Shop
from forgelog.desk.suggestions import ask_again, decline, suggestion_named, take_up
from forgelog.recipe.page import FIRST_RECIPE
from tests.desk.taught import DRAW, KEY, taught


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "recipes" / "wall-hook.toml").write_text(FIRST_RECIPE)
    return taught(tmp_path / "book")


def _text(shop: Shop) -> str:
    pages = write_learn_pages(learnings_of(shop.again()), 80)
    return " ".join(" ".join((p.title, *p.lines)) for p in pages)


def test_heats_minutes_and_the_odd_piece_stand_by_each_step(shop: Shop) -> None:
    (recipe,) = learnings_of(shop).recipes
    strap = recipe.components[0]
    draw, eye, drill = strap.steps
    assert draw.heats is not None
    assert (draw.planned_heats, draw.heats.heats, draw.heats.records) == (3, 5, 7)
    assert draw.in_hand is not None
    assert draw.in_hand.low_min < draw.in_hand.steady_min < draw.in_hand.high_min
    assert draw.in_fire is not None
    (odd,) = draw.odd
    assert (odd.workpiece, odd.taken_heats, odd.usual_heats) == ("o7/strap/1", 14, 5.2)
    assert odd.why == "burnt"
    assert odd.day == "2025-10-09"
    assert (eye.heats, drill.at_bench) == (None, None)


def test_the_pages_say_where_there_is_not_enough_and_name_the_odd_piece(shop: Shop) -> None:
    text = " ".join(_text(shop).split())
    assert "heats: 5 (3 to 8 most often), the first of a run 6, from 7 of yours" in text
    assert "odd: gate o7: strap left 1, 2025-10-09: 14 heats, usually about 5.2 (burnt)" in text
    assert f"roll the eye, by hand: the recipe plans 2 heats: {NOT_ENOUGH}" in text
    assert all(
        len(line) <= 80 for p in write_learn_pages(learnings_of(shop), 80) for line in p.lines
    )


def test_a_suggestion_taken_up_is_the_books_own_figure_everywhere(shop: Shop) -> None:
    (one,) = [s for s in learnings_of(shop).suggestions if s.what == "heats"]
    before = _recipe_files(shop)
    take_up(shop, one)
    shop = shop.again()
    learnt = learnt_so_far(shop)[KEY]
    assert (learnt.heats, learnt.own) == (5, True)
    assert learnt.from_words(1) == "your own figure (3 to 8 most often)"
    words = heats_in_words({KEY: learnt}, "test-piece")[KEY[1:]]
    assert words == "5 (3 to 8 most often), your own figure, from 7 of yours"
    told = learnings_of(shop)
    assert [s.what for s in told.suggestions if s.id == DRAW] == []
    assert told.recipes[0].components[0].steps[0].own_heats == 5
    assert _recipe_files(shop) == before


def test_an_answer_is_taken_back_by_its_opposite(shop: Shop) -> None:
    one = suggestion_named(learnings_of(shop), DRAW)
    decline(shop, one)
    shop = shop.again()
    assert DRAW not in {s.id for s in learnings_of(shop).suggestions}
    assert [(a.suggestion, a.accepted) for a in learnings_of(shop).answered] == [(DRAW, False)]
    ask_again(shop, DRAW)
    shop = shop.again()
    assert DRAW in {s.id for s in learnings_of(shop).suggestions}
    assert not learnt_so_far(shop)[KEY].own
    with pytest.raises(CannotDo, match="no answer"):
        ask_again(shop, DRAW)


def test_a_recipe_that_was_never_worked_or_is_not_there_says_so(shop: Shop) -> None:
    with pytest.raises(CannotDo, match="not enough to learn from"):
        learnings_of(shop, "wall-hook")
    with pytest.raises(CannotDo, match="the book has no recipe"):
        learnings_of(shop, "tset-piece")
    with pytest.raises(CannotDo, match="name one by its number, 1 to"):
        suggestion_named(learnings_of(shop), "99")


def test_the_shell_tells_accepts_and_takes_back(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(shop.book)]
    assert main([*book, "learn", "test-piece"]) == 0
    assert "Plan 5 heats, not 3, for strap: draw the tail by hand." in capsys.readouterr().out
    assert main([*book, "learn", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["suggestions"][0]["toml"] == "heats = { hand = 5, power = 1 }"
    assert main([*book, "learn", "--accept", "1"]) == 0
    assert "5 heats are planned from now on" in capsys.readouterr().out
    assert main([*book, "learn", "--again", DRAW]) == 0
    assert "taken back" in capsys.readouterr().out
    assert main([*book, "learn", "--decline", "no-such"]) == 2
    assert "there is no open suggestion" in capsys.readouterr().err


def test_an_empty_book_has_nothing_to_teach(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    make_book(tmp_path / "new")
    assert main(["--book", str(tmp_path / "new"), "learn"]) == 0
    assert capsys.readouterr().out == "Nothing has been worked yet: not enough to learn from.\n"


def _recipe_files(shop: Shop) -> dict[str, str]:
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in (shop.book / "recipes").iterdir()
    }


def test_practice_suggests_nothing_to_a_book_of_real_work(tmp_path: Path) -> None:
    make_book(tmp_path / "played")
    told = learnings_of(taught(tmp_path / "played", practice=20.0))
    assert told.practice
    assert told.records == 7
    assert told.suggestions == ()


def test_every_name_in_the_json_is_documented(shop: Shop) -> None:
    assert command.__doc__ is not None
    names = set(_names(msgspec.to_builtins(learnings_of(shop))))
    assert {name for name in names if name not in command.__doc__} == set()
    assert {"own_heats", "usual_heats", "toml"} <= names


def _names(told: object) -> Iterator[str]:
    if isinstance(told, dict):
        yield from told
        for inside in told.values():
            yield from _names(inside)
    elif isinstance(told, list | tuple):
        for inside in told:
            yield from _names(inside)
