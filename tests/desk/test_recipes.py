"""Finding and reading recipe files."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from forgelog.desk.recipes import CannotRead, find_recipe, read_recipe_file, recipe_files
from forgelog.recipe.page import FIRST_RECIPE


@pytest.fixture
def book(tmp_path: Path) -> Path:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "my-hook.toml").write_text(FIRST_RECIPE)
    return tmp_path


def test_a_recipe_is_found_in_the_book_by_its_file_and_by_its_id(book: Path) -> None:
    path = book / "recipes" / "my-hook.toml"
    assert find_recipe("my-hook", book) == path
    assert find_recipe("wall-hook", book) == path


def test_the_books_own_recipe_outranks_the_shipped_one(book: Path) -> None:
    assert find_recipe("gate-hinge-set", book).parent != book / "recipes"
    own = book / "recipes" / "gate-hinge-set.toml"
    own.write_text(FIRST_RECIPE)
    assert find_recipe("gate-hinge-set", book) == own


def test_the_usual_book_is_looked_in_when_none_is_named(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FORGELOG_BOOK", str(book))
    assert find_recipe("wall-hook") == book / "recipes" / "my-hook.toml"


def test_a_name_that_is_no_recipe_is_told_with_all_that_there_are(book: Path) -> None:
    with pytest.raises(CannotRead) as told:
        find_recipe("wall-hok", book)
    assert "wall-hook" in str(told.value)
    assert 'did you mean "wall-hook"?' in str(told.value)


def test_a_path_is_taken_as_it_is(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(book)
    assert find_recipe("recipes/my-hook.toml", book) == Path("recipes/my-hook.toml")
    assert find_recipe("gone.toml", book) == Path("gone.toml")


def test_a_file_is_read_with_its_problems(book: Path) -> None:
    path = book / "recipes" / "bad.toml"
    path.write_text(FIRST_RECIPE.replace("hand = 2", "hand = 50"))
    read = read_recipe_file(path)
    assert read.recipe is None
    assert [problem.line for problem in read.problems] == [10]
    assert read.problems[0].file == str(path)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("gone.toml", "there is no such file"),
        ("recipes", "is a folder"),
        ("pipe", "is no plain file"),
        ("nul\0.toml", "cannot be read"),
        ("x" * 3000, "cannot be read"),
    ],
)
def test_what_is_no_recipe_file_is_told_in_words(book: Path, name: str, words: str) -> None:
    os.mkfifo(book / "pipe")
    with pytest.raises(CannotRead, match=words):
        read_recipe_file(book / name)


def test_an_endless_file_is_read_no_further_than_a_recipe_may_be(book: Path) -> None:
    path = book / "recipes" / "huge.toml"
    path.write_bytes(b"#" * 5_000_000)
    (problem,) = read_recipe_file(path).problems
    assert "at most 256 KiB" in problem.text


def test_folders_that_hold_no_recipes_are_passed_over(book: Path) -> None:
    for folder in ("journal", "customers", ".git"):
        (book / folder).mkdir()
        (book / folder / "x.toml").write_text("x")
    (book / "recipes" / "loop").symlink_to(book)
    assert [os.path.basename(file) for file in recipe_files(book)] == ["my-hook.toml"]
    (book / "empty").mkdir()
    with pytest.raises(CannotRead, match="has no recipe in it"):
        list(recipe_files(book / "empty"))
