"""forgelog cut: the cut list from the shell."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from tests.desk.conftest import PIN


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "recipes" / "test-pin.toml").write_text(PIN)
    book = str(tmp_path / "book")
    assert main(["--book", book, "order", "take", "test-pin", "--label", "gate"]) == 0
    return book


def cut(book: str, *words: str) -> int:
    return main(["--book", book, "cut", *words])


def test_the_list_is_printed_and_its_json_has_the_named_keys(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert cut(book) == 0
    out = capsys.readouterr().out
    assert out.startswith("5 pieces from 2 bars; buy 2 bars.\n")
    assert "   2 of 180 mm: pin (gate)\n      mark each at 180, 362 mm\n" in out
    assert max(map(len, out.splitlines())) <= 78
    assert cut(book, "gate", "--json") == 0
    told = json.loads(capsys.readouterr().out)
    bar = told["sections"][1]["bars"][0]
    assert (bar["kind"], bar["long_mm"], bar["runs"][0]["marks_mm"]) == ("new", 6000, [180, 362])
    from forgelog.commands import cut as module

    named = (module.__doc__ or "").replace(",", " ").split()
    records = (told, told["sections"][0], bar, bar["runs"][0], told["orders"][0])
    for key in {key for record in records for key in record}:
        assert any(key == word.partition("[")[0] or f".{key}[]" in word for word in named), key


def test_it_is_written_down_as_sawn_and_taken_back(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert cut(book, "--done", "gate") == 0
    out = capsys.readouterr().out
    assert out.startswith("written down as sawn: 5 pieces from 2 bars")
    assert "  write K2 on 5636 mm of 12 mm square\n" in out
    assert cut(book) == 0
    assert capsys.readouterr().out.startswith("Nothing is left to cut")
    assert cut(book, "--done") == 2
    assert "there is nothing to cut" in capsys.readouterr().err
    assert cut(book, "--take-back") == 0
    assert capsys.readouterr().out == "taken back: 2 bars (10 mm round, 12 mm square)\n"
    assert cut(book, "--take-back") == 2
    assert "no bar is written down as sawn" in capsys.readouterr().err


def test_a_single_bar_is_written_down_as_sawn_and_taken_back(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert cut(book, "--done", "--bar", "2") == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "written down as sawn: 2 pieces from 1 bar; buy 1 bar."
    assert out[1] == "  write K2 on 5636 mm of 12 mm square"
    assert "numbered anew" in out[2]
    assert cut(book) == 0
    assert capsys.readouterr().out.startswith("3 pieces from 1 bar; buy 1 bar.\n")
    assert cut(book, "--take-back") == 0
    assert capsys.readouterr().out == "taken back: 1 bar (12 mm square)\n"
    assert cut(book, "--done", "--bar", "1", "--bar", "2", "--json") == 0
    assert json.loads(capsys.readouterr().out)["pieces"] == 5


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["nobody"], 'there is no order "nobody"'),
        (["--take-back", "gate"], "name no order"),
        (["--done", "--take-back"], "not allowed with"),
        (["--done", "--bar", "3"], "there is no bar 3 in the list: it has bars 1 to 2"),
        (["--bar", "1"], "give it with --done"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(
    book: str, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert cut(book, *words) == 2
    assert said in capsys.readouterr().err
