"""The page of a session: what was worked in it and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import find_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.sheets.making import Wanted, set_sheet
from tests.desk.working import work
from tests.sheets.reading import PageRead

LAST = Wanted(kind="session")


def test_the_last_session_is_told_with_its_heats_and_rests(shop: Shop, clock: FakeClock) -> None:
    order = find_order(shop.state, "gate 14")
    for presses in (20, 60):
        session = start(shop, [order.id], clock=clock)
        work(session, clock, presses)
        session.close()
        clock.go_on(9 * 3600.0)
        shop = shop.again()
    made = set_sheet(shop, LAST, clock=clock)
    assert made.name == f"session-{session.id.lower()}.html"
    read = PageRead(made.text)
    assert "SESSION" in read.text
    assert "Orders Two pins" in read.text
    assert "Heats: Pin for tests" in read.text
    first = set_sheet(shop, Wanted(kind="session", session="1"), clock=clock)
    assert "pin draw the point hand 2" in PageRead(first.text).text
    assert "pin draw the point" not in read.text, "that was worked the day before"


def test_a_book_without_sessions_says_so(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="there is no session at the fire yet"):
        set_sheet(shop, LAST, clock=clock)


def test_a_session_that_is_not_there_is_refused(shop: Shop, clock: FakeClock) -> None:
    with pytest.raises(CannotDo, match="there is no session"):
        set_sheet(shop, Wanted(kind="session", session="9"), clock=clock)


@pytest.mark.parametrize("ending", [".md", ".html"])
def test_a_session_is_written_as_a_file_of_its_own(
    shop: Shop, clock: FakeClock, tmp_path: Path, ending: str, capsys: pytest.CaptureFixture[str]
) -> None:
    order = find_order(shop.state, "gate 14")
    session = start(shop, [order.id], clock=clock)
    work(session, clock, 60)
    session.close()
    out = tmp_path / f"page{ending}"
    words = ["--book", str(shop.book), "review", "1", "--write", str(out)]
    assert main(words) == 0
    text = out.read_text(encoding="utf-8")
    assert "draw the point" in text
    assert "<script" not in text
    assert "http" not in text
    capsys.readouterr()
    assert main(words) == 2
    assert "is there already" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == text


def test_a_file_that_is_neither_is_refused(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--book", str(shop.book), "review", "--write", "page.txt"]) == 2
    assert "must end in .md" in capsys.readouterr().err
