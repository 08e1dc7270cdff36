"""forgelog check."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.recipe.page import FIRST_RECIPE


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "hook.toml").write_text(FIRST_RECIPE)
    return tmp_path


def test_a_sound_recipe_ends_with_0(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "hook.toml"]) == 0
    assert capsys.readouterr().out == "1 recipe, no errors, no warnings\n"


def test_a_recipe_with_an_error_ends_with_1(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "bad.toml").write_text(FIRST_RECIPE.replace("hand = 2", "hand = 50"))
    assert main(["check", "bad.toml", "hook.toml"]) == 1
    out = capsys.readouterr().out.splitlines()
    assert out[0].startswith('bad.toml:10: hook, step 1 "draw the point": heats.hand is 50; write')
    assert out[-1] == "2 recipes, 1 error, no warnings"


def test_what_does_not_lie_here_is_looked_for_in_the_book(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "book" / "recipes").mkdir(parents=True)
    (shop / "book" / "recipes" / "pin.toml").write_text(FIRST_RECIPE)
    assert main(["--book", "book", "check", "recipes/"]) == 0
    assert capsys.readouterr().out == "1 recipe, no errors, no warnings\n"
    assert main(["--book", "book", "check", "nails/"]) == 2


def test_a_folder_is_walked_and_the_books_settings_are_passed_over(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "recipes" / "deep").mkdir(parents=True)
    (shop / "recipes" / "deep" / "pin.toml").write_text(FIRST_RECIPE)
    (shop / "shop.toml").write_text('dialect = "uk"\n')
    (shop / "journal").mkdir()
    (shop / "journal" / "odd.toml").write_text("x")
    (shop / ".hidden.toml").write_text("x")
    (shop / "notes.txt").write_text("x")
    assert main(["check", "."]) == 0
    assert capsys.readouterr().out == "2 recipes, no errors, no warnings\n"


def test_what_cannot_be_read_ends_with_2_and_the_rest_is_looked_over(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "empty").mkdir()
    assert main(["check", "gone.toml", "empty", os.devnull, "hook.toml"]) == 2
    said = capsys.readouterr()
    assert said.out == "1 recipe, no errors, no warnings\n"
    assert said.err.splitlines() == [
        "forgelog: gone.toml cannot be read: there is no such file",
        "forgelog: empty has no recipe in it, no file that ends in .toml",
        f"forgelog: {os.devnull} is no plain file",
    ]


def test_warnings_fail_only_when_told_to(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = FIRST_RECIPE.replace(', cut = "180 mm"', "")
    (shop / "hook.toml").write_text(text)
    assert main(["check", "hook.toml"]) == 0
    assert main(["check", "--strict", "hook.toml"]) == 1
    assert "1 recipe, no errors, 1 warning\n" in capsys.readouterr().out


@pytest.mark.skipif(os.geteuid() == 0, reason="the super-user may read every file")
def test_a_file_that_may_not_be_read_is_told_in_words(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "hook.toml").chmod(0)
    assert main(["check", "hook.toml"]) == 2
    assert capsys.readouterr().err == "forgelog: hook.toml cannot be read: it may not be read\n"


def test_a_name_that_could_harm_the_screen_is_shown_harmless(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop / "a\x1b[31m\u202e.toml").write_text("x")
    assert main(["check", "."]) == 1
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert "\u202e" not in out
    assert "a<U+001B>[31m<U+202E>.toml:1: " in out
    assert main(["check", "gone\x00.toml"]) == 2
