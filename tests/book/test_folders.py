from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from forgelog.book.device import Device, read_device, tail, write_device
from forgelog.book.disk import write_new, write_over
from forgelog.book.folders import (
    book_folder,
    cache_folder,
    device_folder,
    is_book,
    is_practice_copy,
    mark_as_practice,
)
from forgelog.book.lock import FloorLock
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_folder, shipped_recipes

ROOT = Path(__file__).parents[2]


def test_the_command_line_outranks_the_surroundings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FORGELOG_BOOK", str(tmp_path / "named"))
    assert book_folder(tmp_path / "told") == tmp_path / "told"
    assert book_folder() == tmp_path / "named"
    assert book_folder("") == tmp_path / "named"
    monkeypatch.delenv("FORGELOG_BOOK")
    assert "forgelog" in book_folder().parts


def test_the_devices_folders_can_be_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, folder in (("FORGELOG_DEVICE", device_folder), ("FORGELOG_CACHE", cache_folder)):
        monkeypatch.setenv(name, str(tmp_path))
        assert folder() == tmp_path
        monkeypatch.delenv(name)
        assert folder() != tmp_path


def test_the_device_keeps_its_id(tmp_path: Path) -> None:
    first = read_device(tmp_path / "device")
    assert first == read_device(tmp_path / "device")
    assert first.id.isalnum()
    assert len({read_device(tmp_path / str(n)).id for n in range(40)}) > 30


def test_the_devices_settings_are_kept(tmp_path: Path) -> None:
    device = Device(id="anvil7k", keys={"space": ("f5", "page_down")}, bell=False, light="day")
    write_device(tmp_path, device)
    assert read_device(tmp_path) == device


@pytest.mark.parametrize("data", [b"", b"{", b"[]", b'{"id": "../../x"}', b"\xff\x00"])
def test_settings_that_cannot_be_read_are_put_by_and_made_anew(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "device.json").write_bytes(data)
    device = read_device(tmp_path)
    assert device == read_device(tmp_path)
    assert (tmp_path / "device.unreadable").read_bytes() == data


def test_a_device_without_a_disk_still_has_an_id(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    assert read_device(tmp_path / "file" / "device").id


def test_tails_are_random_and_hold_no_letter_that_is_taken_for_another() -> None:
    tails = {tail(6) for _ in range(200)}
    assert len(tails) == 200
    assert not set("".join(tails)) & set("01ilou")


def test_a_new_file_never_takes_the_place_of_another(tmp_path: Path) -> None:
    path = tmp_path / "a" / "file"
    write_new(path, b"first")
    with pytest.raises(FileExistsError):
        write_new(path, b"second")
    assert path.read_bytes() == b"first"
    assert [p.name for p in path.parent.iterdir()] == ["file"]


def test_writing_over_leaves_one_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "file"
    write_over(path, b"first")
    write_over(path, b"second")
    assert path.read_bytes() == b"second"
    assert [p.name for p in tmp_path.iterdir()] == ["file"]


def test_only_one_floor_holds_the_lock(tmp_path: Path) -> None:
    first = FloorLock(tmp_path / "book", tmp_path / "cache")
    second = FloorLock(tmp_path / "book", tmp_path / "cache")
    other = FloorLock(tmp_path / "other book", tmp_path / "cache")
    assert first.take()
    assert first.take()
    assert not second.take()
    assert other.take()
    first.drop()
    assert second.take()
    second.drop()
    other.drop()


HOLDS = """
import sys, time
from pathlib import Path
from forgelog.book.lock import FloorLock
lock = FloorLock(Path(sys.argv[1]), Path(sys.argv[2]))
print(lock.take(), flush=True)
time.sleep(60)
"""


def test_a_floor_that_was_killed_holds_the_lock_no_longer(tmp_path: Path) -> None:
    command = [sys.executable, "-c", HOLDS, str(tmp_path / "book"), str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == "True\n"
        lock = FloorLock(tmp_path / "book", tmp_path)
        assert not lock.take()
        child.kill()
        child.wait()
    assert lock.take()
    lock.drop()


def test_a_device_that_can_hold_no_lock_lets_the_smith_work(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    assert FloorLock(tmp_path, tmp_path / "file").take()


def test_a_new_book_has_its_files(tmp_path: Path) -> None:
    book = tmp_path / "our book"
    assert not is_book(book)
    made = make_book(book, shipped_recipes())
    assert is_book(book)
    assert not is_practice_copy(book)
    assert {p.name for p in made} >= {"shop.toml", "tools.toml", "stock.toml"}
    assert all(p.is_file() for p in made)
    assert sorted(p.name for p in (book / "recipes").iterdir()) == [
        p.name for p in shipped_recipes()
    ]
    for recipe in shipped_recipes():
        assert (book / "recipes" / recipe.name).read_bytes() == recipe.read_bytes()


def test_a_new_book_is_never_made_over_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "one.txt").write_text("dear aunt")
    with pytest.raises(FileExistsError, match="not empty"):
        make_book(tmp_path / "letters")
    with pytest.raises(FileExistsError, match="not empty"):
        make_book(tmp_path / "letters" / "one.txt")
    assert [p.name for p in (tmp_path / "letters").iterdir()] == ["one.txt"]


def test_a_practice_copy_is_known_by_its_mark(tmp_path: Path) -> None:
    mark_as_practice(tmp_path)
    mark_as_practice(tmp_path)
    assert is_practice_copy(tmp_path)


def test_the_shipped_recipes_are_found() -> None:
    assert shipped_folder("recipes") == ROOT / "recipes"
    assert [p.suffix for p in shipped_recipes()] == [".toml"] * len(shipped_recipes())
    with pytest.raises(FileNotFoundError, match="came without its"):
        shipped_folder("golden_hammers")
