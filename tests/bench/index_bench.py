"""What the index costs in a large book: `python -m tests.bench.index_bench [BOOK]`.

Without a book, one of ten years is made in a folder of its own (minutes). Prints the size of the
book, the time of a rebuild, of catching up with one new session, of learning, of opening the review
and of every other page that reads the record; times of the wall and of the processor, because a
shared machine tells only the latter.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter, process_time

from forgelog.desk.indexed import Index, ask_index, index_path
from forgelog.desk.learnt_memory import learnt_so_far
from forgelog.desk.review import look_back, review_view
from forgelog.desk.shop import open_shop
from forgelog.learn.heats import learn_piled_heats
from tests.bench.ten_years import make_book
from tests.bench.years_read import read_all


def main() -> None:
    """Measure."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FORGELOG_CACHE"] = str(Path(folder) / "cache")
        if len(sys.argv) > 1:
            book = Path(sys.argv[1])
        else:
            book = Path(folder) / "book"
            make_book(book)
        _measure(book)


def _measure(book: Path) -> None:
    files = sorted((book / "journal").rglob("*.jsonl"))
    size = sum(path.stat().st_size for path in files)
    facts = sum(path.read_bytes().count(b'"fact":"') for path in files)
    print(f"book: {len(files)} files, {size / 1e6:.0f} MB, {facts} events")
    print("load:", " ".join(f"{load:.1f}" for load in os.getloadavg()))
    last = files[-1]
    kept = last.read_bytes()
    last.unlink()
    try:
        _timed("rebuild", lambda: ask_index(open_shop(book), lambda index: None))
    finally:
        last.write_bytes(kept)
    _timed("catching up with one session", lambda: ask_index(open_shop(book), lambda index: None))
    print(f"index: {index_path(book).stat().st_size / 1e6:.0f} MB")
    print(f"memory, most: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    opening = "review opened, first after a session"
    _timed(opening, lambda: look_back(open_shop(book), opening=True))
    _timed("all its pages", lambda: review_view(open_shop(book)))
    for _ in range(3):
        _timed("review, again", lambda: review_view(open_shop(book)))
    _timed("learning heats anew", lambda: ask_index(open_shop(book), _learn))
    _timed("what was learnt, first", lambda: learnt_so_far(open_shop(book)))
    for _ in range(3):
        _timed("what was learnt, again", lambda: learnt_so_far(open_shop(book)))
    command = [sys.executable, "-m", "forgelog", "--book", str(book), "review", "--plain"]
    _timed("the whole command", lambda: subprocess.run(command, stdout=subprocess.DEVNULL))
    read_all(book)


def _learn(index: Index) -> None:
    learn_piled_heats({key[1:]: pile for key, pile in index.heats.items()})


def _timed(what: str, deed: Callable[[], object]) -> None:
    wall_s, cpu_s = perf_counter(), process_time()
    deed()
    wall_ms, cpu_ms = 1000 * (perf_counter() - wall_s), 1000 * (process_time() - cpu_s)
    print(f"{what}: {wall_ms:.0f} ms, {cpu_ms:.0f} ms of the processor", flush=True)


if __name__ == "__main__":
    main()
