"""Work without a recipe begins with four keys."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.book.new_book import make_book
from forgelog.desk.shop import Shop
from forgelog.screens.begin_free import BeginFreeScreen
from tests.screens.pilots import DEVICE, TestApp, shown, until_shown
from tests.screens.test_orders import choose


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    make_book(tmp_path / "book")
    (tmp_path / "book" / "stock.toml").write_text(
        '[[bar]]\nsection = "12 mm square"\nlong = "3 m"\n'
        '[[bar]]\nsection = "25 x 8 mm flat"\nlong = "2 m"\n'
    )
    return Shop(tmp_path / "book", DEVICE)


@pytest.mark.parametrize("size", [(100, 30), (80, 24)])
async def test_it_begins_with_what_is_proposed(shop: Shop, size: tuple[int, int]) -> None:
    taken: list[str] = []
    app = TestApp(lambda _: BeginFreeScreen(shop, on_taken=taken.append))
    async with app.run_test(size=size) as pilot:
        await until_shown(pilot, "WORK WITHOUT A RECIPE")
        assert "12 mm square" in shown(pilot)
        await choose(pilot, "its bar")
        await until_shown(pilot, "25 x 8 mm flat")
        await choose(pilot, "that is one piece")
        await until_shown(pilot, "SAID ALREADY")
        await choose(pilot, "begin")
        for _ in range(200):
            if taken:
                break
            await pilot.pause()
    (order,) = shop.again().state.orders.values()
    assert taken == [order.id]
    assert order.free
    assert [c.stock.section.kind for c in order.pins[0].components if c.stock] == ["flat", "flat"]
    assert len(shop.again().state.pieces) == 2


@pytest.mark.parametrize(
    "typed", ["x16 mm", "nonsense", "12 mm", "3 mm square round", "-1 mm round"]
)
async def test_a_bar_that_is_none_is_said_in_words(shop: Shop, typed: str) -> None:
    app = TestApp(lambda _: BeginFreeScreen(shop))
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "WORK WITHOUT A RECIPE")
        await choose(pilot, "another bar, written")
        await until_shown(pilot, "THE BAR, LIKE")
        await pilot.press(*typed, "enter")
        await until_shown(pilot, f'"{typed.split()[0]}'[:4])
        assert "12 mm square" in shown(pilot)
        assert app.is_running
