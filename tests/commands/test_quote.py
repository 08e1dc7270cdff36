"""forgelog quote: from the shell."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from tests.desk.conftest import PIN
from tests.desk.money_shop import RATES


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "recipes" / "test-pin.toml").write_text(PIN)
    (tmp_path / "book" / "shop.toml").write_text(RATES)
    book = str(tmp_path / "book")
    assert main(["--book", book, "order", "take", "test-pin", "--label", "gate"]) == 0
    return book


def said(capsys: pytest.CaptureFixture[str], book: str, *words: str, code: int = 0) -> str:
    capsys.readouterr()
    assert main(["--book", book, *words]) == code
    found = capsys.readouterr()
    return found.err if code else found.out


def test_the_quote_is_printed_with_its_price(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, book, "quote", "gate")
    assert "by hand 226.67; by power hammer 226.83 EUR" in " ".join(out.split())
    assert "COSTS AND PRICE · EUR" in out
    assert "Each line is rounded half up to 0.01 EUR" in out
    assert max(map(len, out.split("\n"))) <= 80


def test_the_json_holds_what_the_page_says(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = json.loads(said(capsys, book, "quote", "gate", "--json", "--hours", "design=2"))
    assert (told["label"], told["currency"], told["method"]) == ("gate", "EUR", "hand")
    hand = told["columns"][0]
    assert sum(Decimal(x["amount"]) for x in hand["lines"] if x["amount"]) == Decimal(hand["net"])
    assert [one["hours"] for one in hand["hours"] if one["kind"] == "design"] == ["2.00"]
    assert (told["offers"], told["actual"]) == ([], None)


def test_an_offer_is_made_and_answered(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "no price was offered" in said(capsys, book, "quote", "gate", "--accepted", code=2)
    out = said(capsys, book, "quote", "gate", "--offer", "--method", "power")
    assert "OFFERS" in out
    assert ", open, holds until" in " ".join(out.split())
    out = said(capsys, book, "quote", "gate", "--declined")
    assert ", declined" in out
    shown = json.loads(said(capsys, book, "order", "show", "gate", "--json"))
    assert shown["offered"] == "272.20 EUR, declined"
    assert "offered   272.20 EUR, declined" in said(capsys, book, "order", "show", "gate")
    told = json.loads(said(capsys, book, "quote", "gate", "--json"))
    assert (told["method"], told["offers"][0]["answer"]) == ("power", "declined")


def test_a_cost_of_the_order_is_kept(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, book, "quote", "gate", "--cost", "site survey=40", "--cost", "carriage=35")
    told = json.loads(said(capsys, book, "quote", "gate", "--json"))
    assert [line["amount"] for line in told["own"]] == ["40.00", "35.00"]
    said(capsys, book, "quote", "gate", "--cost", "carriage=none")
    told = json.loads(said(capsys, book, "quote", "gate", "--json"))
    assert [line["words"] for line in told["own"]] == ["site survey"]


def test_hours_are_told_by_the_order_and_at_its_closing(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said(capsys, book, "order", "hours", "gate", "design=2.5") == "told: design 2.50 h\n"
    assert said(capsys, book, "order", "hours", "gate", "design=none") == "told: nothing\n"
    said(capsys, book, "order", "hours", "gate", "design=2.5")
    words = ("--called-off", "gone elsewhere", "--hours", "pack=30 min")
    said(capsys, book, "order", "close", "gate", *words)
    said(capsys, book, "order", "take", "test-pin", "--label", "next")
    told = json.loads(said(capsys, book, "quote", "next", "--json"))
    hours = {one["kind"]: one["hours"] for one in told["columns"][0]["hours"]}
    assert (hours["design"], hours["pack"]) == ("2.50", "0.50")


@pytest.mark.parametrize(
    ("words", "problem"),
    [
        (("gate", "--method", "steam"), "there is no method"),
        (("gate", "--hours", "desing=2"), 'did you mean "design"?'),
        (("gate", "--cost", "carriage"), "write it like"),
        (("gate", "--cost", "carriage=cheap"), "has no number"),
        (("nobody",), "there is no order"),
    ],
)
def test_what_cannot_be_is_refused_in_a_line(
    book: str, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], problem: str
) -> None:
    assert problem in said(capsys, book, "quote", *words, code=2)


def test_nothing_was_worked_yet(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "No work was done on it yet." in said(capsys, book, "quote", "gate", "--actual")
