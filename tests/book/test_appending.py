from __future__ import annotations

import errno
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from forgelog.book.appending import SessionWriter
from forgelog.book.folders import mark_as_practice
from forgelog.book.press_line import write_line
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.work.facts import Gauged, Press
from tests.book.presses import SESSION, forged, header, press

AT_ONCE = (0.005,)


def until(condition: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + 20.0
    while not condition():
        assert time.monotonic() < end, f"waited too long: {what}"
        threading.Event().wait(0.002)


def begun(book: Path) -> SessionWriter:
    return SessionWriter(book, forged(1)[0], again_s=AT_ONCE)


def kept(book: Path) -> list[Press]:
    (session,) = read_sessions(journal_files(book))
    return list(session.presses)


class Disk:
    """Stands between the writer and the disk: lets so many calls pass, then fails with an error."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.fails: dict[str, int] = {}
        """Error number of each call that fails now."""
        self.bites: int | None = None
        """A write takes so many bytes, then the next one fails."""
        self.calls: list[str] = []
        for name in ("open", "write", "fsync", "ftruncate"):
            monkeypatch.setattr(os, name, self._between(name, getattr(os, name)))

    def _between(self, name: str, real: Callable[..., int]) -> Callable[..., int]:
        def call(*args: object, **more: object) -> int:
            self.calls.append(name)
            if name == "write" and self.bites is not None:
                if self.bites == 0:
                    raise OSError(errno.ENOSPC, "No space left on device")
                fd, data = args
                taken = min(self.bites, len(data))  # type: ignore[arg-type]
                self.bites -= taken
                return real(fd, data[:taken])  # type: ignore[index]
            if name in self.fails:
                raise OSError(self.fails[name], os.strerror(self.fails[name]))
            return real(*args, **more)

        return call


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    return Disk(monkeypatch)


def test_every_press_is_in_the_file_when_append_returns(tmp_path: Path) -> None:
    presses = forged(12)
    writer = SessionWriter(tmp_path, presses[0])
    for one in presses[1:]:
        assert writer.append(one, patience_s=20.0)
        assert writer.not_on_disk == 0
        assert writer.path.read_bytes().splitlines(keepends=True)[-1] == write_line(one)
    assert writer.close()
    assert writer.path == tmp_path / "journal" / "2026" / f"{SESSION}.jsonl"
    assert kept(tmp_path) == presses


def test_a_press_is_one_write_followed_by_a_sync(tmp_path: Path, disk: Disk) -> None:
    writer = begun(tmp_path)
    until(lambda: writer.not_on_disk == 0, "the first line")
    disk.calls.clear()
    assert writer.append(press(1), patience_s=20.0)
    assert disk.calls == ["write", "fsync"]
    writer.close()


def test_a_file_that_is_there_already_is_never_written_to(tmp_path: Path) -> None:
    there = tmp_path / "journal" / "2026" / f"{SESSION}.jsonl"
    there.parent.mkdir(parents=True)
    there.write_bytes(b"something else\n")
    writer = begun(tmp_path)
    assert writer.close()
    assert there.read_bytes() == b"something else\n"
    assert writer.path.name == f"{SESSION}+2.jsonl"


def test_a_press_that_could_not_be_read_again_is_refused(tmp_path: Path) -> None:
    writer = begun(tmp_path)
    with pytest.raises(ValueError, match="read back"):
        writer.append(
            press(1, Gauged(workpiece="a", step="b", what="c", fits=True, mm=float("nan")))
        )
    assert writer.append(press(1), patience_s=20.0)
    writer.close()
    assert [p.seq for p in kept(tmp_path)] == [0, 1]


def test_a_session_begins_with_a_header(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="press 0"):
        SessionWriter(tmp_path, press(1))


@pytest.mark.parametrize("name", ["open", "write", "fsync"])
@pytest.mark.parametrize(
    ("error", "says"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the book's folder is read-only"),
        (errno.EIO, "the disk does not answer (Input/output error)"),
    ],
)
def test_presses_wait_for_a_disk_that_gives_way(
    tmp_path: Path, disk: Disk, name: str, error: int, says: str
) -> None:
    disk.fails[name] = error
    presses = forged(6)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    for one in presses[1:4]:
        writer.append(one)
    assert writer.not_on_disk == 4
    until(lambda: writer.why == says, "the reason")
    disk.fails.clear()
    until(lambda: writer.not_on_disk == 0, "the disk to take them")
    assert writer.why == ""
    for one in presses[4:]:
        assert writer.append(one, patience_s=20.0)
    writer.close()
    (session,) = read_sessions(journal_files(tmp_path))
    assert list(session.presses) == presses
    assert session.set_aside == ()


@pytest.mark.parametrize("name", ["write", "fsync"])
def test_presses_wait_when_the_disk_gives_way_under_way(
    tmp_path: Path, disk: Disk, name: str
) -> None:
    presses = forged(9)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    for one in presses[1:4]:
        assert writer.append(one, patience_s=20.0)
    disk.fails[name] = errno.ENOSPC
    for one in presses[4:7]:
        assert not writer.append(one)
    until(lambda: writer.why == "the disk is full", "the reason")
    assert writer.not_on_disk == 3
    disk.fails.clear()
    for one in presses[7:]:
        writer.append(one)
    assert writer.close()
    assert kept(tmp_path) == presses


@pytest.mark.parametrize("bites", [1, 40, 200, 600])
@pytest.mark.parametrize("truncates", [True, False])
def test_a_write_that_tears_loses_nothing(
    tmp_path: Path, disk: Disk, bites: int, truncates: bool
) -> None:
    presses = forged(8)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    until(lambda: writer.not_on_disk == 0, "the first line")
    disk.bites = bites
    if not truncates:
        disk.fails["ftruncate"] = errno.EIO
    for one in presses[1:6]:
        writer.append(one)
    until(lambda: writer.why != "", "the tear")
    disk.bites = None
    for one in presses[6:]:
        writer.append(one)
    assert writer.close()
    assert kept(tmp_path) == presses
    files = journal_files(tmp_path)
    assert len(files) == (1 if truncates else 2)
    (session,) = read_sessions(files)
    assert len(session.set_aside) == (0 if truncates else 1)


def test_nothing_is_written_after_a_torn_line(tmp_path: Path, disk: Disk) -> None:
    presses = forged(4)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    until(lambda: writer.not_on_disk == 0, "the first line")
    disk.bites = 30
    disk.fails["ftruncate"] = errno.EIO
    writer.append(presses[1])
    until(lambda: writer.why != "", "the tear")
    disk.bites = None
    for one in presses[2:]:
        writer.append(one)
    assert writer.close()
    first, second = journal_files(tmp_path)
    assert first.read_bytes() == write_line(presses[0]) + write_line(presses[1])[:30]
    assert second.read_bytes() == b"".join(write_line(p) for p in presses)


def test_a_file_that_vanishes_is_written_anew(tmp_path: Path) -> None:
    presses = forged(6)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    for one in presses[1:3]:
        writer.append(one, patience_s=20.0)
    writer.path.unlink()
    for one in presses[3:]:
        assert writer.append(one, patience_s=20.0)
    writer.close()
    assert kept(tmp_path) == presses


def test_a_file_that_something_else_changed_is_left_and_written_anew(tmp_path: Path) -> None:
    presses = forged(6)
    writer = SessionWriter(tmp_path, presses[0], again_s=AT_ONCE)
    for one in presses[1:3]:
        writer.append(one, patience_s=20.0)
    writer.path.write_bytes(writer.path.read_bytes()[:50])
    for one in presses[3:]:
        assert writer.append(one, patience_s=20.0)
    writer.close()
    assert kept(tmp_path) == presses
    assert len(journal_files(tmp_path)) == 2


def test_a_folder_that_comes_back_gets_everything(tmp_path: Path) -> None:
    book = tmp_path / "stick"
    book.mkdir()
    presses = forged(5)
    writer = SessionWriter(book, presses[0], again_s=AT_ONCE)
    writer.append(presses[1], patience_s=20.0)
    (book / "journal").rename(tmp_path / "pulled")
    (book / "journal").write_text("in the way")
    for one in presses[2:]:
        assert not writer.append(one)
    assert writer.not_on_disk == 5
    (book / "journal").unlink()
    until(lambda: writer.not_on_disk == 0, "the folder")
    writer.close()
    assert kept(book) == presses


def test_a_slow_disk_does_not_hold_up_the_smith(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    writer = begun(tmp_path)
    until(lambda: writer.not_on_disk == 0, "the first line")
    go_on = threading.Event()
    real = os.fsync

    def slow(fd: int) -> None:
        go_on.wait(20.0)
        real(fd)

    monkeypatch.setattr(os, "fsync", slow)
    assert not writer.append(press(1), patience_s=0.01)
    assert not writer.append(press(2), patience_s=0.01)
    assert writer.not_on_disk == 2
    assert writer.why == ""
    go_on.set()
    until(lambda: writer.not_on_disk == 0, "the slow disk")
    writer.close()


def test_a_disk_that_never_takes_anything_leaves_no_litter(tmp_path: Path, disk: Disk) -> None:
    disk.fails["fsync"] = errno.EIO
    writer = begun(tmp_path)
    until(lambda: disk.calls.count("open") > 5, "some attempts")
    assert not writer.close()
    assert [p for p in tmp_path.rglob("*") if p.is_file()] == []


def test_nothing_more_is_taken_after_closing(tmp_path: Path) -> None:
    writer = begun(tmp_path)
    writer.close()
    with pytest.raises(ValueError, match="closed"):
        writer.append(press(1))


CHILD = """
import resource, sys
from pathlib import Path
from forgelog.book.appending import SessionWriter
from tests.book.presses import forged
resource.setrlimit(resource.RLIMIT_FSIZE, (1500, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))
presses = forged(30)
writer = SessionWriter(Path(sys.argv[1]), presses[0], again_s=(0.005,))
for one in presses[1:]:
    writer.append(one)
assert 0 < writer.not_on_disk < 30, writer.not_on_disk
assert writer.why == "the disk is full", writer.why
most = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
assert writer.close()
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on the size of a file there")
def test_a_real_limit_on_the_file_loses_nothing(tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-c", CHILD, str(tmp_path)],
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
    )
    assert run.returncode == 0, run.stderr
    (session,) = read_sessions(journal_files(tmp_path))
    assert list(session.presses) == forged(30)
    assert session.set_aside == ()


def test_a_header_says_what_it_continues(tmp_path: Path) -> None:
    writer = SessionWriter(tmp_path, header(continues="20260129T081500Z-anvil7k-aaaa"))
    assert writer.close()
    (first,) = kept(tmp_path)
    assert first == header(continues="20260129T081500Z-anvil7k-aaaa")


def test_practice_is_never_written_into_a_real_book(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="never written into a real book"):
        SessionWriter(tmp_path, header(practice=20.0))
    assert list(tmp_path.iterdir()) == []
    mark_as_practice(tmp_path)
    assert SessionWriter(tmp_path, header(practice=20.0)).close()
    assert [p.seq for p in kept(tmp_path)] == [0]
