"""`forgelog plan` and `forgelog next` as they are typed, on a book with two orders."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.book.new_book import make_book
from forgelog.book.shipped import shipped_recipes
from forgelog.desk.clock import FakeClock
from forgelog.desk.demo import lay_out_demo
from forgelog.desk.orders import hold_order, take_order
from forgelog.desk.shop import Shop, open_shop
from tests.desk.conftest import PIN

TOOLS = """
[[tool]]
name = "small fuller"
state = "have"

[[tool]]
name = "bending jig"
jig = true
state = "to be made"
"""


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    make_book(tmp_path / "book", recipes=shipped_recipes())
    (tmp_path / "book" / "recipes" / "test-pin.toml").write_text(PIN)
    return tmp_path / "book"


@pytest.fixture
def shop(book: Path) -> Shop:
    """A book with two orders; nothing is begun."""
    clock = FakeClock()
    shop = open_shop(str(book))
    take_order(shop, "test-pin", title="two pins", promised="2031-03-07", clock=clock)
    take_order(shop.again(), "leaf-coat-hooks", title="hall hooks", clock=clock)
    return shop.again()


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def test_the_plan_is_printed_page_by_page(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(capsys, "--book", str(shop.book), "plan", "--plain")
    assert code == 0
    for title in ("THE RUN", "ORDERS", "TOOLS BY WHEN", "WITH HELP"):
        assert title in out
    assert "two pins" in out
    assert "hall hooks" in out
    assert max(map(len, out.splitlines())) <= 80


def test_the_plan_as_json_has_the_keys_that_are_promised(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = said(capsys, "--book", str(shop.book), "plan", "--json")
    told = json.loads(out)
    assert code == 0
    assert {o["name"] for o in told["orders"]} == {"two pins", "hall hooks"}
    assert told["draft"] is False
    helper = next(way for way in told["others"] if way["method"] == "helper")
    assert helper["work_min"] <= told["work_min"]
    assert helper["hands_min"] < told["hands_min"]
    assert {d["order"] for d in helper["orders"]} == {o["order"] for o in told["orders"]}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--day", "tomorrow"), "tomorrow is no date; write it as YYYY-MM-DD"),
        (("--day", "2001-01-01"), "2001-01-01 has been"),
        (("--until", "late"), "late is no time of day; write it as HH:MM"),
        (("--until", "25:00"), "25:00 is no time of day"),
        (("--until", "00:00"), "is less than half an hour after"),
    ],
)
def test_a_day_or_a_time_that_is_none_is_told_in_a_sentence(
    shop: Shop, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], told: str
) -> None:
    code, out, err = said(capsys, "--book", str(shop.book), "plan", "--json", *words)
    assert code != 0
    assert out == ""
    assert told in err


@pytest.mark.parametrize("command", ["plan", "next"])
def test_an_empty_book_has_nothing_to_plan_and_says_so(
    book: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    code, _, err = said(capsys, "--book", str(book), command, "--json")
    assert code != 0
    assert "there is no order to work on" in err


@pytest.mark.parametrize("command", ["plan", "next"])
def test_where_every_order_is_held_each_is_named_with_its_reason(
    shop: Shop, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    for order in shop.state.orders.values():
        hold_order(shop.again(), order, "no steel yet", clock=FakeClock())
    code, _, err = said(capsys, "--book", str(shop.book), command)
    assert code != 0
    assert err.count("is held (no steel yet)") == 2


def test_what_lacks_its_tool_is_not_planned_to_the_end_and_the_tool_is_named(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop.book / "tools.toml").write_text(TOOLS)
    code, out, _ = said(capsys, "--book", str(shop.book), "plan", "--json")
    told = json.loads(out)
    assert code == 0
    (back,) = told["held_back"]
    assert (back["name"], back["why"]) == ("two pins", "bending jig (to be made)")
    assert len(back["pieces"]) == 2
    assert not [p for p in told["finished"] if "pin left" in p["piece"]]
    assert next(o for o in told["orders"] if o["name"] == "two pins")["open"]
    drawn = {s["step"] for s in told["timeline"]["spans"] if "pin" in s["workpiece"]}
    assert "draw-the-point" in drawn
    assert "bend-the-pin" not in drawn
    code, out, _ = said(capsys, "--book", str(shop.book), "plan", "--plain")
    assert "two pins: bending jig (to be made)" in out


def test_what_is_blocked_by_its_tool_is_never_the_next_thing(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    (shop.book / "tools.toml").write_text(TOOLS.replace('state = "have"', 'state = "to be made"'))
    code, out, _ = said(capsys, "--book", str(shop.book), "next", "--json")
    told = json.loads(out)
    assert code == 0
    assert told["next"]
    assert not [one for one in told["next"] if one["order"] == "two pins" and "pin" in one["piece"]]


def test_what_comes_next_is_numbered_with_its_reason(
    shop: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = said(capsys, "--book", str(shop.book), "next")
    lines = out.splitlines()
    assert code == 0
    assert lines[0].startswith(" 1  ")
    assert all(line.endswith(")") for line in lines)


def test_the_practice_copy_of_the_demo_is_planned_by_its_own_clock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FORGELOG_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("FORGELOG_DEVICE", str(tmp_path / "device"))
    book = lay_out_demo(tmp_path / "practice").folder
    code, out, _ = said(capsys, "--book", str(book), "next", "--json")
    assert code == 0
    assert json.loads(out)["next"]
