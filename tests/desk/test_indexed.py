"""Whatever is wrong with the index, the answer is the same, and nothing else is touched."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from random import Random

import msgspec
import pytest

from forgelog.book import index_store
from forgelog.book.shipped import shipped_folder
from forgelog.desk import indexed
from forgelog.desk.clock import FakeClock
from forgelog.desk.indexed import NotYetError, ask_index, index_path
from forgelog.desk.review import review_of
from forgelog.desk.shop import Shop, open_shop

LATE = 1_799_000_000.0


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo's book, with a cache of its own."""
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr(index_store, "BUSY_S", 0.05)
    shutil.copytree(shipped_folder("demo_data") / "book", tmp_path / "book")
    return tmp_path / "book"


def told(book: Path) -> bytes:
    return msgspec.json.encode(review_of(open_shop(book), clock=FakeClock(LATE)))


def journal(book: Path) -> dict[str, bytes]:
    return {str(p): p.read_bytes() for p in sorted(book.rglob("*")) if p.is_file()}


def _gone(path: Path) -> None:
    path.unlink()


def _random_bytes(path: Path) -> None:
    path.write_bytes(Random(3).randbytes(100_000))


def _half_written(path: Path) -> None:
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _another_database(path: Path) -> None:
    path.unlink()
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE kept (kind, name)")
    other.close()


def _another_version(path: Path) -> None:
    db = sqlite3.connect(path)
    with db:
        db.execute("UPDATE made_by SET fingerprint = 'of another forgelog'")
        db.execute("DELETE FROM kept WHERE kind = 'rows'")
    db.close()


def _rows_missing(path: Path) -> None:
    db = sqlite3.connect(path)
    with db:
        db.execute("DELETE FROM kept WHERE kind IN ('rows', 'tail', 'recipe')")
    db.close()


def _lists_missing(path: Path) -> None:
    db = sqlite3.connect(path)
    with db:
        db.execute("DELETE FROM kept WHERE kind = 'doc'")
    db.close()


def _a_folder_in_its_place(path: Path) -> None:
    path.unlink()
    path.mkdir()


HARM = (
    *(_gone, _random_bytes, _half_written, _empty, _another_database),
    *(_another_version, _rows_missing, _lists_missing, _a_folder_in_its_place),
)


@pytest.mark.parametrize("harm", HARM)
def test_an_index_that_came_to_harm_is_made_again(book: Path, harm: Callable[[Path], None]) -> None:
    first, before = told(book), journal(book)
    path = index_path(book)
    assert path.is_file()
    harm(path)
    assert told(book) == first
    assert told(book) == first
    assert journal(book) == before


@pytest.mark.parametrize("seed", range(12))
def test_changed_bytes_never_change_the_answer(book: Path, seed: int) -> None:
    first = told(book)
    path, rng = index_path(book), Random(seed)
    data = bytearray(path.read_bytes())
    for _ in range(rng.choice((1, 10, 200))):
        data[rng.randrange(len(data))] = rng.randrange(256)
    path.write_bytes(bytes(data))
    assert told(book) == first


def test_an_index_that_another_program_holds_is_done_without(book: Path) -> None:
    first = told(book)
    other = sqlite3.connect(index_path(book), isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    assert told(book) == first
    other.execute("ROLLBACK")
    other.close()
    assert told(book) == first


def test_an_index_that_cannot_be_written_to_is_read_and_caught_up_in_memory(book: Path) -> None:
    files = sorted((book / "journal").rglob("*.jsonl"))
    last = files[-1].read_bytes()
    files[-1].unlink()
    without = told(book)
    other = sqlite3.connect(index_path(book), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    files[-1].write_bytes(last)
    whole = told(book)
    assert whole != without
    other.execute("ROLLBACK")
    other.close()
    assert told(book) == whole


def test_without_a_cache_folder_the_answer_is_the_same(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = told(book)
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "file" / "cache"))
    assert told(book) == first


def test_the_index_never_lies_in_the_book(book: Path) -> None:
    names = set(journal(book))
    told(book)
    assert set(journal(book)) == names


def test_a_rebuild_can_be_broken_off_and_goes_on_where_it_was(book: Path) -> None:
    done: list[tuple[int, int]] = []
    shop = open_shop(book)

    def note(session: int, of: int) -> None:
        done.append((session, of))

    with pytest.raises(NotYetError):
        ask_index(shop, lambda index: None, report=note, patience_s=-1.0)
    (first,) = done
    for _ in range(3):
        with pytest.raises(NotYetError):
            ask_index(shop, lambda index: None, report=note, patience_s=-1.0)
    assert [session for session, _ in done] == sorted({session for session, _ in done})
    ask_index(shop, lambda index: None, report=note)
    assert done[-1] == (first[1], first[1])
    assert len({session for session, _ in done}) == len(done)


def test_only_what_is_new_is_folded(book: Path) -> None:
    files = sorted((book / "journal").rglob("*.jsonl"))
    last = files[-1].read_bytes()
    files[-1].unlink()
    told(book)
    files[-1].write_bytes(last)
    done: list[int] = []
    ask_index(open_shop(book), lambda index: None, report=lambda n, _: done.append(n))
    assert len(done) == 1


def test_two_books_have_an_index_each(book: Path, tmp_path: Path) -> None:
    shutil.copytree(book, tmp_path / "other")
    assert index_path(book) != index_path(tmp_path / "other")


def test_a_program_that_has_changed_makes_its_index_anew(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = told(book)
    monkeypatch.setattr(indexed, "fingerprint", lambda: "another")
    shop: Shop = open_shop(book)
    done: list[int] = []
    ask_index(shop, lambda index: None, report=lambda n, _: done.append(n))
    assert len(done) > 40
    assert told(book) == first


def test_what_is_told_twice_is_the_same_to_the_letter(book: Path) -> None:
    assert told(book) == told(book)


def test_a_rest_that_passes_by_itself_meanwhile_is_told(book: Path) -> None:
    early = review_of(open_shop(book), clock=FakeClock(1_795_000_000.0))
    late = review_of(open_shop(book), clock=FakeClock(LATE))
    assert late == review_of(open_shop(book).again(), clock=FakeClock(LATE))
    index_path(book).unlink()
    assert early == review_of(open_shop(book), clock=FakeClock(1_795_000_000.0))
    index_path(book).unlink()
    assert late == review_of(open_shop(book), clock=FakeClock(LATE))
