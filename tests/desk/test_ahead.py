"""What is read ahead is found ready; and it can be broken off."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from forgelog.book.shipped import shipped_folder
from forgelog.desk import lessons, review
from forgelog.desk.ahead import read_ahead
from forgelog.desk.clock import FakeClock
from forgelog.desk.indexed import ask_index, index_path
from forgelog.desk.review import look_back
from forgelog.desk.shop import Shop, open_shop

LATE = FakeClock(1_799_000_000.0)


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    shutil.copytree(shipped_folder("demo_data") / "book", tmp_path / "book")
    return open_shop(tmp_path / "book")


def test_after_reading_ahead_nothing_is_told_or_learnt_anew(
    demo: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert read_ahead(demo, lambda: False, clock=LATE)

    def never(*_: object, **__: object) -> None:
        raise AssertionError("worked out again")

    told = look_back(demo, clock=LATE)
    monkeypatch.setattr(review, "_review", never)
    monkeypatch.setattr(lessons, "learn_piled_heats", never)
    assert look_back(demo.again(), clock=LATE) == told
    assert look_back(demo.again(), clock=LATE, opening=True) == told


def test_reading_ahead_can_be_broken_off_after_any_session_and_goes_on_there(demo: Shop) -> None:
    asked: list[int] = []

    def soon() -> bool:
        asked.append(1)
        return len(asked) > 5

    assert not read_ahead(demo, soon, clock=LATE)
    assert index_path(demo.book).exists()
    done: list[tuple[int, int]] = []
    ask_index(demo, lambda index: None, report=lambda number, of: done.append((number, of)))
    assert done[0][0] > len(asked) - 1
    assert done[-1][0] == done[-1][1]
    assert read_ahead(demo, lambda: False, clock=LATE)
