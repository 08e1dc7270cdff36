"""forgelog show and forgelog schema."""

from __future__ import annotations

import json
import re
from pathlib import Path
from shutil import copytree

import pytest

from forgelog.__main__ import main
from forgelog.book.folders import mark_as_practice
from forgelog.recipe.page import FIRST_RECIPE

RECIPES = Path(__file__).parents[2] / "recipes"
DEMO = Path(__file__).parents[2] / "demo_data" / "book"


def test_a_shipped_recipe_is_shown_by_its_id(capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        main(["show", "gate-hinge-set", "--size", "post=120mm", "--size", "gate = 1 3/4 in"]) == 0
    )
    out = capsys.readouterr().out
    assert out.startswith("GATE HINGE SET")
    assert "post       120 mm" in out


def test_a_recipe_is_shown_by_its_path_and_by_its_id_in_the_book(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "other-name.toml").write_text(FIRST_RECIPE)
    for words in (
        ["show", str(tmp_path / "recipes" / "other-name.toml")],
        ["--book", str(tmp_path), "show", "wall-hook"],
        ["show", "--book", str(tmp_path), "other-name"],
    ):
        assert main(words) == 0
        assert capsys.readouterr().out.startswith("WALL HOOK\nwall-hook, revision 1, process ")


def test_inches_and_american_words_are_shown_where_they_are_asked_for(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["show", "cross-peen-hammer", "--units", "inch", "--dialect", "us"]) == 0
    out = capsys.readouterr().out
    assert "Gage:" in out
    assert "degF" in out


def test_a_recipe_that_is_not_there_is_told_with_the_nearest(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["show", "gate-hinge-sett"]) == 2
    err = capsys.readouterr().err
    assert 'there is no recipe "gate-hinge-sett"' in err
    assert 'did you mean "gate-hinge-set"?' in err


@pytest.mark.parametrize(
    ("size", "code", "words"),
    [
        ("post", 2, "wants a name and a length, like post=120mm"),
        ("post=120", 2, '"120" has no unit'),
        ("pots=120mm", 1, 'did you mean "post"?'),
        ("post=900mm", 1, "size post: the size is 900 mm, more than the most, 200 mm"),
    ],
)
def test_a_size_that_cannot_be_is_refused(
    size: str, code: int, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["show", "gate-hinge-set", "--size", size]) == code
    said = capsys.readouterr()
    assert words in said.out + said.err


def test_a_recipe_with_errors_is_not_shown_but_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(FIRST_RECIPE.replace("hand = 2", "hand = 50"))
    assert main(["show", str(path)]) == 1
    assert "heats.hand is 50" in capsys.readouterr().out


def test_the_schema_and_the_page_are_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "A forgelog recipe, format 1"
    assert main(["schema", "--page"]) == 0
    assert capsys.readouterr().out.startswith("# How to write a recipe\n")


def test_with_a_book_the_heats_that_it_has_taught_stand_beside_the_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("DEVICE", "CACHE"):
        monkeypatch.setenv(f"FORGELOG_{name}", str(tmp_path / name))
    book = tmp_path / "book"
    copytree(DEMO, book)
    copytree(RECIPES, book / "recipes")
    mark_as_practice(book)
    assert main(["--book", str(book), "show", "gate-hinge-set"]) == 0
    taught = capsys.readouterr().out
    assert main(["show", str(RECIPES / "gate-hinge-set.toml")]) == 0
    plain = capsys.readouterr().out
    words = " ".join(taught.split())
    assert re.search(r"so far \d+ \(\d+ to \d+ most often\), .*?from \d+ of yours", words)
    assert "of yours" not in plain
