"""The index is equal to a full fold, whatever was pressed and however the files came."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from unittest.mock import patch

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from forgelog.book import index_rows
from forgelog.book.index_catching_up import catch_up
from forgelog.book.index_records import KeyName, Line
from forgelog.book.index_store import IndexStore, open_store
from forgelog.book.index_versions import LINE
from forgelog.desk.indexed import Index
from forgelog.learn.heats import pile_heats
from forgelog.learn.minutes import pile_times
from forgelog.learn.records import bench_times, hand_times, heat_records
from forgelog.learn.rows import Rows, StepRow
from forgelog.work.moments import Stamp
from tests.book.whole_fold import RandomBook, whole_fold

BOOKS = 20 if "FORGELOG_INDEX_BOOKS" not in os.environ else int(os.environ["FORGELOG_INDEX_BOOKS"])
seeds = st.integers(min_value=0, max_value=2**32)


@contextmanager
def _folder() -> Iterator[Path]:
    with TemporaryDirectory() as folder:
        yield Path(folder)


def _write(book: Path, name: str, lines: list[bytes]) -> None:
    path = book / "journal" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"".join(lines))


def _same(store: IndexStore, book: Path, at: Stamp | None = None) -> None:
    rows, floors, lines = whole_fold(book, at)
    index = Index(store, at)
    mine = index.rows(index.orders)
    assert sorted(map(repr, mine.orders)) == sorted(map(repr, rows.orders))
    assert mine.steps == rows.steps
    assert mine.rests == rows.rests
    assert mine.spoilt == rows.spoilt
    assert mine.gauges == rows.gauges
    assert index.floors == floors
    for session, timeline in lines.items():
        kept = store.get(LINE, session, Line)
        assert kept is not None
        assert kept.timeline == timeline
    for key, found in index.sums.items():
        of_key = [row for row in rows.steps if (row.practice, *row.key) == key]
        assert found.all.made + found.all.spoilt == len(of_key)
        assert found.newest == of_key[-1]
        assert list(index.tail(key)) == of_key[-len(index.tail(key)) :]
        assert (
            list(found.last)
            == [(row.ended_s, row.heats, row.work_s) for row in of_key if not row.scrapped][
                len(found.last) * -1 :
            ]
        )
    assert set(index.sums) == {(row.practice, *row.key) for row in rows.steps}
    _same_lessons(index, rows)
    spoilt = (row for kept in index.mishaps.values() for row in kept.spoilt)
    assert sorted(map(repr, spoilt)) == sorted(map(repr, rows.spoilt))


def _same_lessons(index: Index, rows: Rows) -> None:
    """What is learnt from is piled up as it would be from all rows."""
    heats: dict[KeyName, list[StepRow]] = {}
    bench: dict[KeyName, list[StepRow]] = {}
    for row in rows.steps:
        heats.setdefault((row.practice, *row.key), []).append(row)
        bench.setdefault((row.practice, *row.key[:3], ""), []).append(row)
    taught = {key: heat_records(of_key) for key, of_key in heats.items()}
    timed = {key: hand_times(of_key) for key, of_key in heats.items()}
    benched = {key: bench_times(of_key) for key, of_key in bench.items()}
    assert index.heats == {key: pile_heats(found) for key, found in taught.items() if found}
    assert index.hand == {key: pile_times(found) for key, found in timed.items() if found}
    assert index.bench == {key: pile_times(found) for key, found in benched.items() if found}


@given(seeds)
@settings(max_examples=BOOKS, deadline=None, phases=(Phase.generate,))
def test_the_index_of_a_book_is_equal_to_its_full_fold(seed: int) -> None:
    made = RandomBook(seed).make(sessions=9, presses=24)
    with _folder() as book:
        for name, lines in made.lines().items():
            _write(book, name, lines)
        store = open_store(None, "test")
        assert catch_up(store, book)
        _same(store, book)
        later_s = made.now_s + Random(seed).choice((10.0, 3_000.0, 300_000.0))
        since_s = later_s - made.now_s
        last = made.presses[-1].at
        _same(
            store,
            book,
            Stamp(
                wall=later_s,
                steady=last.steady + since_s,
                awake=last.awake + since_s,
                boot=last.boot,
            ),
        )
        store.close()


@given(seeds)
@settings(max_examples=BOOKS, deadline=None, phases=(Phase.generate,))
def test_files_that_come_late_grow_or_go_leave_the_index_equal(seed: int) -> None:
    made = RandomBook(seed).make(sessions=12, presses=14)
    rng = Random(seed)
    with _folder() as book:
        store = open_store(None, "test")
        files = list(made.lines().items())
        rng.shuffle(files)
        whole: list[tuple[str, list[bytes]]] = []
        while files:
            for name, lines in files[: rng.randint(1, 4)]:
                half = lines[: max(1, len(lines) // 2)]
                torn = [*half[:-1], half[-1][: len(half[-1]) // 2]] if rng.random() < 0.2 else half
                cut = rng.random() < 0.5
                _write(book, name, torn if cut else lines)
                if cut:
                    whole.append((name, lines))
                files = files[1:]
            for name, lines in whole:
                if rng.random() < 0.5:
                    _write(book, name, lines)
            while not catch_up(store, book, stop=lambda: rng.random() < 0.3):
                pass
            _same(store, book)
        gone = rng.choice(list(made.lines()))
        (book / "journal" / gone).unlink()
        assert catch_up(store, book)
        _same(store, book)
        store.close()


@given(seeds)
@settings(max_examples=BOOKS // 2, deadline=None, phases=(Phase.generate,))
def test_where_few_of_the_newest_rows_teach_older_ones_are_found(seed: int) -> None:
    made = RandomBook(seed).make(sessions=9, presses=24)
    with _folder() as book, patch.object(index_rows, "NEWEST_ROWS", 2):
        store = open_store(None, "test")
        for name, lines in made.lines().items():
            _write(book, name, lines)
            assert catch_up(store, book)
        _same(store, book)
        store.close()
