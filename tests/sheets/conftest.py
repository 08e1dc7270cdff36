"""A shop's book with the shipped recipes, for every sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.shop import Shop, open_shop
from tests.desk.conftest import PIN


@pytest.fixture(autouse=True)
def _own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.delenv("FORGELOG_BOOK", raising=False)


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def shop(tmp_path: Path, clock: FakeClock) -> Shop:
    folder = tmp_path / "book"
    make_book(folder, shipped_recipes())
    (folder / "recipes" / "test-pin.toml").write_text(PIN)
    shop = open_shop(folder)
    take_order(shop, "test-pin", label="gate 14", title="Two pins", count=2, clock=clock)
    return shop.again()
