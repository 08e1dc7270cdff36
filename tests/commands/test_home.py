"""`forgelog` as it is typed: by which clock a book is worked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from forgelog.desk.clock import PracticeClock
from forgelog.desk.demo import lay_out_demo
from forgelog.screens.home import HomeScreen


@pytest.fixture
def opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[HomeScreen]:
    """The pages that were opened, none of them shown."""
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    pages: list[HomeScreen] = []

    def run(first: Callable[[object], HomeScreen]) -> int:
        pages.append(first(None))
        return 0

    monkeypatch.setattr("forgelog.screens.app.run", run)
    return pages


def test_a_practice_copy_is_worked_by_a_practice_clock_whatever_opens_it(
    tmp_path: Path, opened: list[HomeScreen]
) -> None:
    demo = lay_out_demo(tmp_path / "demo").folder
    assert main(["--book", str(demo)]) == 0
    clock = opened[0].clock
    assert isinstance(clock, PracticeClock)
    assert clock.speed == 1.0


def test_a_book_of_real_work_is_never_worked_by_a_practice_clock(
    tmp_path: Path, opened: list[HomeScreen], capsys: pytest.CaptureFixture[str]
) -> None:
    make_book(tmp_path / "book")
    assert main(["--book", str(tmp_path / "book")]) == 0
    assert not isinstance(opened[0].clock, PracticeClock)
    assert main(["--book", str(tmp_path / "book"), "home", "--speed", "20"]) == 2
    assert "never written into a real book" in capsys.readouterr().err
