"""forgelog sheet, from the shell."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from tests.desk.conftest import PIN


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    book = tmp_path / "book"
    make_book(book)
    (book / "recipes" / "test-pin.toml").write_text(PIN)
    assert main(["--book", str(book), "order", "take", "test-pin", "--label", "../gate"]) == 0
    return book


def sheet(book: Path, *words: str) -> int:
    return main(["--book", str(book), "sheet", *words])


def test_a_sheet_is_written_into_the_book_and_its_place_is_told(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert sheet(book, "../gate") == 0
    (path,) = (book / "sheets").iterdir()
    assert capsys.readouterr().out.splitlines()[-1] == f"written: {path}"
    assert path.name.startswith("job-gate-")
    assert path.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_sheet_goes_where_it_is_told_and_over_nothing(
    book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = tmp_path / "out" / "pack.html"
    assert sheet(book, "../gate", "--kind", "pack", "-o", str(where)) == 0
    assert "PACK LIST" in where.read_text()
    assert sheet(book, "../gate", "-o", str(where)) == 2
    assert "is there already" in capsys.readouterr().err
    assert "PACK LIST" in where.read_text()


def test_lines_go_to_the_standard_output(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert sheet(book, "../gate", "--text") == 0
    out = capsys.readouterr().out
    assert out.startswith("JOB SHEET  ../gate: Pin for tests")
    assert "[ ][ ]" in out
    assert not (book / "sheets").exists()


def test_paper_goes_with_the_units_of_the_shop(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert sheet(book, "../gate", "-o", "-") == 0
    assert "size: A4 portrait" in capsys.readouterr().out
    shop = book / "shop.toml"
    shop.write_text(shop.read_text().replace('units = "mm"', 'units = "inch"'))
    assert sheet(book, "../gate", "-o", "-") == 0
    out = capsys.readouterr().out
    assert "size: letter portrait" in out
    assert "2 in long where" in out
    assert sheet(book, "../gate", "-o", "-", "--paper", "a4") == 0
    assert "size: A4 portrait" in capsys.readouterr().out


def test_an_order_or_a_session_has_to_be_named(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for words in ((), ("../gate", "--session", "last")):
        assert sheet(book, *words) == 2
        assert "name an order, or a session with --session" in capsys.readouterr().err


def test_an_order_that_is_not_there_is_refused(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert sheet(book, "nothing") == 2
    assert 'there is no order "nothing"' in capsys.readouterr().err


def test_nothing_but_a_page_loads_the_templates(book: Path) -> None:
    code = (
        "import sys; from forgelog.__main__ import main;"
        f"main(['--book', {str(book)!r}, *sys.argv[1:]]);"
        "print('jinja2' in sys.modules, file=sys.stderr)"
    )

    def loads(*words: str) -> bool:
        done = subprocess.run(
            [sys.executable, "-c", code, *words], capture_output=True, text=True, check=True
        )
        return done.stderr.splitlines()[-1] == "True"

    assert not loads("order", "list")
    assert not loads("sheet", "../gate", "--text")
    assert loads("sheet", "../gate", "-o", "-")
