"""A shop's book in a temporary folder, and a clock that a test turns by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.clock import FakeClock
from forgelog.desk.shop import Shop, open_shop

PIN = """
format = 1
id = "test-pin"
name = "Pin for tests"
says = "Two pins and a wedge that nobody needs."
cautions = ["black-is-hot"]
[sizes.drop]
says = "how far it hangs down"
default = "60 mm"
least = "20 mm"
most = "120 mm"
[[component]]
id = "pin"
name = "pin"
each = 2
hands = ["left", "right"]
stock = { section = "12 mm square", cut = "180 mm" }
[[component.step]]
do = "draw the point"
heats = { hand = 2 }
tools = ["small fuller"]
[[component.step]]
do = "rest"
until = "black"
why = "so that the point is not burnt"
[[component.step]]
do = "bend the pin"
says = "Bend it {drop} from the end."
heats = { hand = 1 }
jigs = [{ name = "bending jig", setting = "stop at {drop}" }]
cautions = ["eyes"]
[[component.step]]
do = "file the end"
kind = "bench"
[[component]]
id = "wedge"
name = "wedge"
lot = true
each = 3
stock = { section = "10 mm round", cut = "30 mm" }
[[component.step]]
do = "flatten"
heats = { hand = 1 }
"""


@pytest.fixture(autouse=True)
def _own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.delenv("FORGELOG_BOOK", raising=False)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    make_book(folder, shipped_recipes())
    (folder / "recipes" / "test-pin.toml").write_text(PIN)
    return folder


@pytest.fixture
def shop(book: Path) -> Shop:
    return open_shop(book)


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()
