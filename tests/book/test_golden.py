"""The journal of every released version is read for ever."""

from __future__ import annotations

import json
from pathlib import Path
from typing import get_args

import pytest

from forgelog.book.press_line import write_line
from forgelog.book.sessions import read_session, read_sessions
from forgelog.work.facts import AnyFact
from forgelog.work.fold import fold
from tests.book.make_golden import every_fact, summary

GOLDEN = Path(__file__).parent / "golden"
FILES = sorted(GOLDEN.glob("*.jsonl"))
DAYS = sorted(GOLDEN.glob("*-day.json"))


def test_there_are_golden_journals() -> None:
    assert len(FILES) >= 4
    assert DAYS


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_every_line_of_an_old_journal_is_read(path: Path) -> None:
    read = read_session(path)
    assert read.set_aside == ()
    assert [p.seq for p in read.presses] == list(range(len(path.read_bytes().splitlines())))


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_nothing_of_an_old_line_is_lost(path: Path) -> None:
    lines = path.read_bytes().splitlines()
    for line, press in zip(lines, read_session(path).presses, strict=True):
        old, now = json.loads(line), json.loads(write_line(press))
        assert old.pop("crc")
        assert now.pop("crc")
        assert old == now


@pytest.mark.parametrize("path", DAYS, ids=lambda p: p.name)
def test_an_old_day_gives_what_it_gave(path: Path) -> None:
    sessions = read_sessions(sorted(path.parent.glob(f"{path.stem}-*.jsonl")))
    state = fold(sessions)
    assert state.troubles == ()
    assert json.loads(path.read_text()) == summary(state)
    assert any(piece["rests"] and piece["heats"] for piece in summary(state).values())  # type: ignore[index]


def test_a_golden_journal_holds_every_kind_of_fact() -> None:
    kinds = {kind.__struct_config__.tag for kind in get_args(AnyFact)}
    read = [read_session(path) for path in FILES if path.stem.endswith("-facts")]
    assert {
        fact.__struct_config__.tag
        for file in read
        for press in file.presses
        for fact in press.facts
    } == kinds
    assert len(every_fact().splitlines()) == len(kinds)
