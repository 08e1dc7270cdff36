"""forgelog order bar: the bar that lies there, from the shell."""

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


def order(book: str, *words: str) -> int:
    return main(["--book", book, "order", *words])


def test_another_bar_is_taken_and_shown_with_its_cut(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert order(book, "bar", "gate", "pin=12.7 mm square") == 0
    said = "pin 12.7 mm square, 161 mm each, chosen (the recipe's: 12 mm square, 180 mm)"
    assert said in capsys.readouterr().out
    assert order(book, "show", "gate") == 0
    assert said in capsys.readouterr().out


def test_the_json_readout_has_the_bars(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert order(book, "bar", "gate", "pin=12.7 mm square") == 0
    capsys.readouterr()
    assert order(book, "show", "gate", "--json") == 0
    pin, wedge = json.loads(capsys.readouterr().out)["bars"]
    assert pin["cut_mm"] == pytest.approx(180.0 * 144.0 / 12.7**2)
    assert (pin["component"], pin["section"], pin["given"]) == ("pin", "12.7 mm square", True)
    assert (pin["own"], pin["own_cut"]) == ("12 mm square", "180 mm")
    assert (wedge["given"], wedge["section"]) == (False, "10 mm round")


def test_recipe_goes_back_to_the_recipes_own(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert order(book, "bar", "gate", "pin=12.7 mm square", "wedge=3/8 in round") == 0
    assert order(book, "bar", "gate", "pin=recipe") == 0
    out = capsys.readouterr().out.rpartition("changed: ")[2]
    assert "pin 12 mm square, 180 mm each, the recipe's" in out
    assert "wedge 9.5 mm round" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("pinn=12 mm round", 'did you mean "pin"?'),
        ("pin=12 mm", "does not say which bar it is"),
        ("pin", "write it like"),
        ("pin=3 mm sheet", "has no width"),
    ],
)
def test_what_cannot_be_is_refused_with_words(
    book: str, capsys: pytest.CaptureFixture[str], words: str, said: str
) -> None:
    assert order(book, "bar", "gate", words) == 2
    assert said in capsys.readouterr().err
