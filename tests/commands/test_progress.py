"""A long reading of the journal says how far it is; a short one says nothing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.shipped import shipped_folder
from forgelog.commands import progress
from forgelog.commands.progress import Progress
from forgelog.desk.shop import open_shop


def test_a_short_reading_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    told = Progress()
    for session in range(1, 4):
        told(session, 3)
    assert capsys.readouterr() == ("", "")


def test_a_long_reading_says_how_far_it_is_on_stderr(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress, "QUIET_S", 0.0)
    told = Progress()
    for session in range(1, 4):
        told(session, 3)
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines()[0] == "reading the journal: session 1 of 3"
    assert err.splitlines()[-1] == "reading the journal: session 3 of 3"


ORDER = "the first open order"
READING = (
    ["review", "--plain"],
    ["quote", ORDER, "--plain"],
    ["share", "gate-hinge-set"],
    ["compare", "gate-hinge-set", "gate-hinge-set"],
    ["export", "rests"],
    ["learn", "--plain"],
    ["trends", "--plain"],
    ["next"],
)


@pytest.mark.parametrize("command", READING, ids=lambda command: command[0])
def test_a_command_that_reads_a_long_journal_says_how_far_it_is(
    command: list[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setattr(progress, "QUIET_S", 0.0)
    book = tmp_path / "book"
    shutil.copytree(shipped_folder("demo_data") / "book", book)
    shutil.copytree(shipped_folder("recipes"), book / "recipes")
    first = next(o.label for o in open_shop(book).state.orders.values() if o.closed is None)
    argv = [first if word == ORDER else word for word in command]
    assert main(["--book", str(book), *argv]) == 0
    assert "reading the journal: session " in capsys.readouterr().err
    assert main(["--book", str(book), *argv]) == 0
    assert "reading the journal" not in capsys.readouterr().err
