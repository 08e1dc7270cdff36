"""Two laptops' books, merged by copying files, however and in whatever order that is done."""

from __future__ import annotations

import random
from itertools import permutations
from pathlib import Path
from shutil import copytree

import msgspec
import pytest

from forgelog.book.device import Device
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import promise_order, take_order
from forgelog.desk.review import review_of
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from tests.desk.working import work


class Laptops:
    """Two laptops that began with one book, and went on apart with clocks that disagree."""

    def __init__(self, book: Path, folder: Path, clock: FakeClock) -> None:
        first = Shop(book, Device(id="anvil7k"))
        shared = take_order(first, "test-pin", title="for both", clock=clock)
        work_on(first, shared.id, clock, 10)
        self.folder = folder
        self.one, self.two = folder / "one", folder / "two"
        copytree(book, self.one)
        copytree(book, self.two)
        behind = FakeClock(wall=clock.stamp().wall - 500.0, boot="other")
        one, two = Shop(self.one, Device(id="anvil7k")), Shop(self.two, Device(id="helper2"))
        own = take_order(one, "test-pin", title="of the first", clock=clock)
        other = take_order(two, "test-pin", title="of the second", clock=behind)
        for _ in range(3):
            clock.go_on(900.0)
            behind.go_on(900.0)
            work_on(one.again(), own.id, clock, 14)
            work_on(two.again(), other.id, behind, 14)
        work_on(two.again(), shared.id, behind, 8)
        work_on(one.again(), shared.id, clock, 6)
        promise_order(one.again(), own, "2026-06-01", clock=clock)
        self.clock = clock
        clock.go_on(3600.0)

    def files(self) -> list[tuple[Path, bytes]]:
        """Every file of both journals, with its place in a book; some are in both."""
        return [
            (path.relative_to(book), path.read_bytes())
            for book in (self.one, self.two)
            for path in sorted((book / "journal").rglob("*.jsonl"))
        ]

    def review(self, files: list[tuple[Path, bytes]], name: str) -> bytes:
        """The review of a book into which the files were copied one after the other."""
        book = self.folder / name
        copytree(self.one, book)
        for path in (book / "journal").rglob("*.jsonl"):
            path.unlink()
        for place, data in files:
            (book / place).parent.mkdir(parents=True, exist_ok=True)
            (book / place).write_bytes(data)
        shop = Shop(book, Device(id="desk9x"))
        return msgspec.json.encode(review_of(shop, clock=self.clock))


def work_on(shop: Shop, order: str, clock: FakeClock, presses: int) -> None:
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, presses)
    session.close()
    clock.go_on(60.0)


@pytest.fixture
def laptops(book: Path, tmp_path: Path, clock: FakeClock) -> Laptops:
    return Laptops(book, tmp_path, clock)


def test_books_merged_in_any_order_of_files_give_one_review(laptops: Laptops) -> None:
    files = laptops.files()
    first = laptops.review(files, "merged")
    told = msgspec.json.decode(first)
    assert len(told["sessions"]) >= 9
    for seed in range(6):
        mixed = files.copy()
        random.Random(seed).shuffle(mixed)
        assert laptops.review(mixed, f"merged-{seed}") == first


def test_laptops_that_copy_to_each_other_come_to_the_same(laptops: Laptops) -> None:
    apart = {name: laptops.review(of, name) for name, of in parts(laptops).items()}
    assert apart["only-one"] != apart["only-two"]
    for order in permutations(("only-one", "only-two")):
        merged = [file for name in order for file in parts(laptops)[name]]
        assert laptops.review(merged, "-".join(order)) == laptops.review(
            laptops.files(), f"all-{order[0]}"
        )


def test_a_merge_that_stopped_half_way_is_made_whole_by_the_rest(laptops: Laptops) -> None:
    files = laptops.files()
    whole = laptops.review(files, "whole")
    half = files[: len(files) // 2]
    laptops.review(half, "half")
    book = laptops.folder / "half"
    review_of(Shop(book, Device(id="desk9x")), clock=laptops.clock)
    for place, data in files:
        (book / place).write_bytes(data)
    again = review_of(Shop(book, Device(id="desk9x")), clock=laptops.clock)
    assert msgspec.json.encode(again) == whole


def parts(laptops: Laptops) -> dict[str, list[tuple[Path, bytes]]]:
    files = laptops.files()
    at = len(list((laptops.one / "journal").rglob("*.jsonl")))
    return {"only-one": files[:at], "only-two": files[at:]}
