from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from forgelog.book import sessions
from forgelog.book.press_line import write_line
from forgelog.book.sessions import (
    SetAside,
    first_line,
    journal_files,
    read_session,
    read_sessions,
)
from forgelog.work.facts import Noted, Press
from tests.book.presses import SESSION, forged, header, press
from tests.book.presses import sessions as some_sessions

same_folder = settings(suppress_health_check=[HealthCheck.function_scoped_fixture])


def put(folder: Path, data: bytes, name: str = f"{SESSION}.jsonl") -> Path:
    path = folder / "journal" / name[:4] / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def lines(presses: list[Press]) -> list[bytes]:
    return [write_line(p) for p in presses]


def test_a_session_is_read_back(tmp_path: Path) -> None:
    presses = forged(20)
    read = read_session(put(tmp_path, b"".join(lines(presses))))
    assert list(read.presses) == presses
    assert read.header == presses[0].facts[0]
    assert read.session == SESSION
    assert read.set_aside == ()


def test_a_file_torn_at_any_byte_keeps_every_line_before_the_tear(tmp_path: Path) -> None:
    rows = lines(forged(5))
    whole = b"".join(rows)
    for cut in range(len(whole) + 1):
        read = read_session(put(tmp_path, whole[:cut]))
        kept, end = 0, 0
        for row in rows:
            end += len(row)
            kept += end - 1 <= cut  # a line that only lacks its line feed is whole
        assert len(read.presses) == kept, cut
        start_of_line = sum(map(len, rows[:kept]))
        assert bool(read.set_aside) == (cut > start_of_line), cut


def test_a_line_after_a_torn_one_is_read(tmp_path: Path) -> None:
    rows = lines(forged(6))
    rows[2] = rows[2][:25]
    read = read_session(put(tmp_path, b"".join(rows)))
    assert [p.seq for p in read.presses] == [0, 1, 3, 4, 5]
    whys = [a.why for a in read.set_aside]
    assert any("check number" in why or "cut short" in why for why in whys)
    assert "1 press is missing between numbers 1 and 3" in whys


@same_folder
@given(presses=some_sessions, data=st.data())
def test_random_damage_never_hides_an_untouched_line(
    tmp_path: Path, presses: list[Press], data: st.DataObject
) -> None:
    rows = lines(presses)
    whole = bytearray(b"".join(rows))
    touched = set()
    for _ in range(data.draw(st.integers(1, 6))):
        place = data.draw(st.integers(0, len(whole) - 1))
        new = data.draw(st.one_of(st.just(0), st.just(10), st.integers(0, 255)))
        if whole[place] != new:
            touched.add(place)
            whole[place] = new
    read = read_session(put(tmp_path, bytes(whole)))
    kept = {p.seq: p for p in read.presses}
    start = 0
    for row, one in zip(rows, presses, strict=True):
        body = range(start, start + len(row) - 1)  # its line feed may go; the line is whole
        if not any(place in body for place in touched):
            assert kept[one.seq] == one
        start += len(row)


@same_folder
@given(data=st.binary(max_size=400))
def test_any_bytes_are_read_without_a_fault(tmp_path: Path, data: bytes) -> None:
    read = read_session(put(tmp_path, data))
    assert read.presses == ()
    assert bool(read.set_aside) == bool(data.strip(b"\n"))
    assert all(a.words for a in read.set_aside)


def test_a_block_of_zeros_hides_nothing(tmp_path: Path) -> None:
    rows = lines(forged(4))
    data = rows[0] + b"\0" * 4096 + rows[1] + rows[2] + b"\0" * 100 + b"\n" + rows[3] + b"\0" * 512
    read = read_session(put(tmp_path, data))
    assert list(read.presses) == forged(4)
    assert [a.line for a in read.set_aside] == [2, 4, 6]


def test_lines_that_lost_their_line_feed_are_read_one_by_one(tmp_path: Path) -> None:
    presses = forged(6)
    read = read_session(put(tmp_path, b"".join(row[:-1] for row in lines(presses))))
    assert list(read.presses) == presses
    assert len(read.set_aside) == 1


def test_a_line_that_stands_twice_counts_once(tmp_path: Path) -> None:
    rows = lines(forged(4))
    read = read_session(put(tmp_path, b"".join([*rows, rows[2], *rows])))
    assert list(read.presses) == forged(4)
    assert read.set_aside == ()


def test_two_lines_with_one_number_are_told_and_the_first_counts(tmp_path: Path) -> None:
    rows = [*lines(forged(3)), write_line(press(2, Noted(words="something else")))]
    read = read_session(put(tmp_path, b"".join(rows)))
    assert list(read.presses) == forged(3)
    (aside,) = read.set_aside
    assert "has number 2 again" in aside.words


def test_a_line_that_is_far_too_long_is_set_aside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sessions, "LONGEST_LINE", 1000)
    rows = lines(forged(3))
    read = read_session(put(tmp_path, rows[0] + b"x" * 5000 + b"\n" + rows[1] + rows[2]))
    assert list(read.presses) == forged(3)
    assert {a.line for a in read.set_aside} == {2}


def test_the_lines_of_a_session_without_its_first_line_still_count(tmp_path: Path) -> None:
    rows = lines(forged(4))
    path = put(tmp_path, b"#" + b"".join(rows)[1:])
    read = read_session(path)
    assert [p.seq for p in read.presses] == [0, 1, 2, 3]
    assert list(read.presses[1:]) == forged(4)[1:]
    assert read.header is not None
    assert (read.header.session, read.header.device) == (SESSION, "anvil7k")
    assert any("has lost its first line" in a.words for a in read.set_aside)
    assert first_line(path) is None


def test_parts_and_copies_of_one_session_are_read_together(tmp_path: Path) -> None:
    rows = lines(forged(6))
    paths = [
        put(tmp_path, b"".join(rows[:3]) + rows[3][:10]),
        put(tmp_path, rows[0] + rows[3] + rows[4], f"{SESSION}+2.jsonl"),
        put(tmp_path, b"".join(rows), f"{SESSION} (copy of the old laptop).jsonl"),
        put(
            tmp_path,
            lines(forged(2, "20260131T070000Z-tongs2b-aaaa"))[0],
            "20260131T070000Z-tongs2b-aaaa.jsonl",
        ),
    ]
    first, second = read_sessions(paths)
    assert list(first.presses) == forged(6)
    assert [a.file for a in first.set_aside] == [f"journal/2026/{SESSION}.jsonl"]
    assert second.session == "20260131T070000Z-tongs2b-aaaa"


def test_an_empty_file_says_nothing(tmp_path: Path) -> None:
    read = read_session(put(tmp_path, b""))
    assert read.header is None
    assert read.presses == ()
    assert read.set_aside == ()


def test_a_file_that_is_gone_is_told(tmp_path: Path) -> None:
    (aside,) = read_session(tmp_path / "journal" / "2026" / "gone.jsonl").set_aside
    assert "could not be read" in aside.words


def test_a_newer_format_is_told_and_read_all_the_same(tmp_path: Path) -> None:
    rows = lines([header(format=2), press(1)])
    read = read_session(put(tmp_path, b"".join(rows)))
    assert len(read.presses) == 2
    assert "newer forgelog (format 2)" in read.set_aside[0].words


def test_files_are_listed_oldest_first(tmp_path: Path) -> None:
    names = [
        "20261231T235959Z-a-b.jsonl",
        "20270101T000000Z-a-b.jsonl",
        "20250101T000000Z-a-b.jsonl",
    ]
    for name in names:
        put(tmp_path, b"", name)
    put(tmp_path, b"", "notes.txt")
    assert [p.name for p in journal_files(tmp_path)] == sorted(names)
    assert journal_files(tmp_path / "nowhere") == []


def test_words_of_a_damaged_line_are_harmless(tmp_path: Path) -> None:
    (aside,) = read_session(put(tmp_path, b"\x1b[2J\xe2\x80\xae evil \xff\n")).set_aside
    assert isinstance(aside, SetAside)
    assert "\x1b" not in aside.text
    assert aside.text.isprintable()


def test_a_long_session_is_read_in_no_time(tmp_path: Path) -> None:
    path = put(tmp_path, b"".join(lines(forged(1500))))
    took_s = []
    for _ in range(8):
        start = time.perf_counter()
        assert len(read_session(path).presses) == 1500
        took_s.append(time.perf_counter() - start)
    assert min(took_s) < 0.06
