"""What happens when the power goes: the program is killed, or the disk forgets what was not synced.

`FORGELOG_CUTS=2000` makes more cuts.
"""

from __future__ import annotations

import os
import random
import select
import signal
import stat
import sys
import time
from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.book.press_line import read_line
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import FloorSession, resume, start, unfinished
from forgelog.desk.shop import Shop, open_shop
from forgelog.work.fold import fold
from tests.desk.working import work

CUTS = int(os.environ.get("FORGELOG_CUTS", "200"))
A_BOOK = 20
"""So many cuts are made in one book, then another is taken: its journal grows too long to fold."""


def child(shop: Shop, order: str, pipe: int, seed: int) -> None:
    """Press keys, and say after each press what is on the disk; never comes back."""
    clock = FakeClock(1769760900.0 + 4000.0 * seed, boot=f"boot {seed}")
    again = unfinished(shop) is not None
    session = resume(shop, clock=clock) if again else start(shop, [order], clock=clock)
    os.write(pipe, f"{session.id} {session.state.press}\n".encode())
    said = session.state.press
    while True:
        work(session, clock, 1)
        if session.state.press == said:
            session.press("tab")
        elif session.not_on_disk == 0:
            said = session.state.press
            os.write(pipe, f"{session.id} {said}\n".encode())


def cut_off(shop: Shop, order: str, seed: int) -> list[tuple[str, int]]:
    """Let a child work, kill it at some moment, and give what it said was on the disk."""
    chance = random.Random(seed)
    reads, writes = os.pipe()
    pid = os.fork()
    if pid == 0:
        try:
            os.close(reads)
            child(shop, order, writes, seed)
        finally:
            os._exit(1)
    os.close(writes)
    heard = b""
    acknowledged = chance.choice((0, 1, 1, 2, 3, 5, 8, 13, 21))
    deadline = time.monotonic() + 30.0
    while heard.count(b"\n") < acknowledged and time.monotonic() < deadline:
        if select.select([reads], [], [], 1.0)[0]:
            part = os.read(reads, 4096)
            if not part:
                break
            heard += part
    # A few steps of the processor more, so that the cut falls anywhere within the next press.
    for _ in range(chance.randrange(40_000)):
        pass
    os.kill(pid, signal.SIGKILL)
    _, status = os.waitpid(pid, 0)
    while part := os.read(reads, 65536):
        heard += part
    os.close(reads)
    assert os.WIFSIGNALED(status), f"the child ended by itself, seed {seed}: {heard!r}"
    return [
        (words[0], int(words[1]))
        for line in heard.decode().splitlines(keepends=True)
        if line.endswith("\n") and (words := line.split())
    ]


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork and kill -9")
def test_every_acknowledged_press_outlives_a_kill(tmp_path: Path, shop: Shop) -> None:
    said: set[tuple[str, int]] = set()
    order = ""
    acknowledged = 0
    for cut in range(CUTS):
        if cut % A_BOOK == 0:
            book = tmp_path / f"book-{cut}"
            make_book(book, [shop.book / "recipes" / "test-pin.toml"])
            shop = open_shop(book)
            order = take_order(shop, "test-pin", count=30, clock=FakeClock()).id
            said = set()
        said.update(cut_off(shop.again(), order, cut))
        sessions = {file.session: file for file in read_sessions(journal_files(shop.book))}
        for session, seq in said:
            assert [p.seq for p in sessions[session].presses][: seq + 1] == list(range(seq + 1))
        state = fold(sessions.values())
        assert state.troubles == ()
        acknowledged = max(acknowledged, len(said))
    assert acknowledged > min(CUTS, A_BOOK)


class Remembered:
    """What a disk would still have after the power has gone: only what was synced."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.files: dict[int, bytes] = {}
        """By inode."""
        self.names: dict[Path, dict[str, int]] = {}
        """Of each synced folder, its names and their inodes."""
        self._real = os.fsync
        monkeypatch.setattr(os, "fsync", self.fsync)

    def fsync(self, fd: int) -> None:
        self._real(fd)
        about = os.fstat(fd)
        path = Path(os.readlink(f"/proc/self/fd/{fd}"))
        if stat.S_ISDIR(about.st_mode):
            self.names[path] = {p.name: p.stat().st_ino for p in path.iterdir()}
        else:
            self.files[about.st_ino] = path.read_bytes()

    def content(self, path: Path, root: Path) -> bytes:
        """The file as the disk has it; b"" where its name or its folders are not on it."""
        here = path
        while here != root:
            if here.name not in self.names.get(here.parent, {}):
                return b""
            here = here.parent
        return self.files.get(self.names[path.parent][path.name], b"")


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="needs /proc")
def test_a_disk_that_forgets_what_was_not_synced_has_every_acknowledged_press(
    shop: Shop, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    for path in (shop.book / "journal").iterdir():
        path.rmdir()
    disk = Remembered(monkeypatch)
    order = take_order(shop, "test-pin", clock=clock)
    (desk,) = journal_files(shop.book)
    root = shop.book / "journal"
    assert disk.content(desk, root) == desk.read_bytes()
    session = start(shop.again(), [order.id], clock=clock)
    path = shop.book / "journal" / session.id[:4] / f"{session.id}.jsonl"
    presses = [session.state.press]
    for _ in range(40):
        work(session, clock, 1)
        if session.state.press == presses[-1]:
            session.press("tab")
            continue
        presses.append(session.state.press)
        wait(session)
        lines = disk.content(path, root).splitlines()
        assert [read_line(line).seq for line in lines] == presses
    assert len(presses) > 15
    session.close()


def wait(session: FloorSession) -> None:
    deadline = time.monotonic() + 20.0
    while session.not_on_disk:
        assert time.monotonic() < deadline
        time.sleep(0.001)


@pytest.mark.parametrize("seed", range(8))
def test_a_session_torn_at_any_byte_goes_on(shop: Shop, clock: FakeClock, seed: int) -> None:
    chance = random.Random(seed)
    order = take_order(shop, "test-pin", clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 25)
    session.close()
    path = journal_files(shop.book)[-1]
    data = path.read_bytes()
    first = data.index(b"\n") + 1
    path.write_bytes(data[: chance.randrange(first, len(data))])
    clock.start_again(600.0)
    torn = shop.again()
    assert torn.state.troubles == ()
    again = resume(torn, clock=clock)
    work(again, clock, 10)
    again.close()
    assert shop.again().state.troubles == ()
    assert path.read_bytes() == data[: path.stat().st_size]
