"""forgelog sums in the shell: lists, helps, answers, refuses."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.sums import SUMS


@pytest.fixture(autouse=True)
def no_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FORGELOG_BOOK", str(tmp_path / "book"))
    return tmp_path / "book"


def _run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(["sums", *words])
    out, err = capsys.readouterr()
    return code, out, err


def test_without_a_name_every_sum_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys)
    assert (code, err) == (0, "")
    for name, (_, says) in SUMS.items():
        assert f"  {name} " in out
        assert says in out


@pytest.mark.parametrize("name", SUMS)
def test_help_shows_what_is_asked_and_an_example(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = _run(capsys, name, "--help")
    assert (code, err) == (0, "")
    assert "For example:" in out
    assert f"forgelog sums {name} " in out


def test_json_is_one_object_with_source(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = _run(capsys, "thread", "M12", "--json")
    table = json.loads(out)
    assert code == 0
    assert table["tap_drill_mm"] == 10.2
    assert table["clearance_hole_mm"] == {"close": 13.0, "medium": 13.5, "coarse": 14.5}
    assert table["limits"]["6g"]["major_max_mm"] == 11.966
    assert table["source"]
    assert _run(capsys, "--json", "thread", "M12")[1] == out


def test_plain_text_is_in_the_units_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    line = ("bar", "12", "mm", "square", "--length", "1", "m")
    assert "1.13 kg" in _run(capsys, *line)[1]
    assert "2 lb 8 oz" in _run(capsys, *line, "--units", "inch")[1]


def test_plain_text_is_as_the_book_has_it(
    no_book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    no_book.mkdir()
    (no_book / "shop.toml").write_text('format = 1\nunits = "inch"\ndialect = "us"\n')
    line = ("cool", "12 mm square", "--from", "850 degC", "--to", "480 degC")
    out = _run(capsys, *line)[1]
    assert "degF" in out
    out = _run(capsys, "colour", "1000 degC")[1]
    assert "colour" not in out


def test_a_word_that_cannot_be_read_ends_with_two(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "bar", "12", "mm")
    assert (code, out) == (2, "")
    assert err.startswith("forgelog: ")
    assert 'did you mean "12 mm square"?' in err
    code, out, err = _run(capsys, "thread", "M12", "--units", "cubits")
    assert (code, out) == (2, "")
    assert "mm or inch" in err


def test_a_component_of_a_recipe_gives_its_stock(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("stock", "--recipe", "gate-hinge-set", "--component", "pintle", "--json")
    usual = json.loads(_run(capsys, *words)[1])
    thick = json.loads(_run(capsys, *words, "--size", "post=150mm")[1])
    assert thick["volume_mm3"] > usual["volume_mm3"]
    assert thick["length_mm"] > usual["length_mm"]


def test_a_terminal_that_is_none_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = _run(capsys, "--screen")
    assert code == 2
    assert "needs a terminal" in err
