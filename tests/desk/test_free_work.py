"""Work without a recipe: begun, done, and written down as a draft."""

from __future__ import annotations

from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.draft import GAP, draft_of, write_draft
from forgelog.desk.errors import CannotDo
from forgelog.desk.free_work import FreePart, read_part, take_free
from forgelog.desk.layout import layout
from forgelog.desk.needs import needs_seeing_to
from forgelog.desk.order_text import order_lines
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import change_sizes, take_order
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import Shop
from forgelog.recipe.read import read_recipe
from forgelog.trade.sections import Section
from forgelog.work.state import Order

SQUARE = Section(kind="square", a_mm=12.0)


def begun(shop: Shop, clock: FakeClock, *, each: int = 1) -> Order:
    part = FreePart(name="latch", section=SQUARE, cut_mm=180.0, each=each)
    order = take_free(shop, "Gate latch", [part], clock=clock)
    clock.go_on(60.0)
    return order


def choose(session: FloorSession, clock: FakeClock, words: str) -> None:
    """Down the open list to a choice."""
    for _ in range(40):
        shown = session.view().list
        assert shown is not None
        clock.go_on(2.0)
        if shown.choices[shown.at].startswith(words):
            session.press("enter")
            return
        session.press("tab")
    raise AssertionError(words)


def press(session: FloorSession, clock: FakeClock, *keys: str) -> None:
    for key in keys:
        clock.go_on(40.0)
        session.press(key)


def made(shop: Shop, clock: FakeClock) -> Order:
    """A latch, drawn down in two heats, filed, and finished."""
    order = begun(shop, clock)
    session = start(shop.again(), [order.id], clock=clock)
    press(session, clock, "space", "space", "space", "space", "enter")
    choose(session, clock, "draw down")
    if next(iter(session.state.pieces.values())).place == "fire":
        press(session, clock, "space", "tab")
        choose(session, clock, "lay it aside")
    press(session, clock, "enter")
    choose(session, clock, "file")
    clock.go_on(700.0)
    press(session, clock, "enter", "enter")
    choose(session, clock, "nothing more")
    session.close()
    return order


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("latch=12 mm square", FreePart(name="latch", section=SQUARE)),
        (
            "4 latch = 12 mm square, 180 mm",
            FreePart(name="latch", section=SQUARE, cut_mm=180.0, each=4),
        ),
    ],
)
def test_a_piece_is_read_as_it_is_written(text: str, part: FreePart) -> None:
    assert read_part(text) == part


@pytest.mark.parametrize(
    "text",
    [
        "latch",
        "=12 mm square",
        "latch=",
        "latch=12",
        "900 latch=12 mm square",
        "latch=12 mm square, long",
    ],
)
def test_a_piece_that_cannot_be_says_how_it_is_written(text: str) -> None:
    with pytest.raises(CannotDo):
        read_part(text)


def test_two_pieces_of_one_name_and_strange_steels_are_refused(shop: Shop) -> None:
    part = FreePart(name="latch", section=SQUARE)
    with pytest.raises(CannotDo, match="two pieces have one name"):
        take_free(shop, "Gate latch", [part, part])
    with pytest.raises(CannotDo, match="unobtainium"):
        take_free(shop, "Gate latch", [part], steel="unobtainium")
    with pytest.raises(CannotDo, match="say what is made"):
        take_free(shop, " ", [part])
    with pytest.raises(CannotDo, match="at least one piece"):
        take_free(shop, "Gate latch", [])


def test_it_is_laid_out_and_has_no_sizes_to_change(shop: Shop, clock: FakeClock) -> None:
    order = begun(shop, clock)
    shown = layout(shop.again(), [order.id], clock.stamp())
    assert [o.id for o in shown.orders] == [order.id]
    assert shown.moved == ()
    with pytest.raises(CannotDo, match="without a recipe"):
        change_sizes(shop.again(), order, {"drop": 60.0})


@pytest.mark.parametrize(
    ("steel", "says"),
    [
        ("mild", "stop 850 degC"),
        ("1095", "stop 815 degC"),
        ("H13", "start 1065 degC"),
        ("unknown", "the heat that this steel wants is not known"),
    ],
)
def test_the_heat_of_work_without_a_recipe_is_that_of_its_steel(
    shop: Shop, clock: FakeClock, steel: str, says: str
) -> None:
    part = FreePart(name="punch", section=Section(kind="round", a_mm=16.0), cut_mm=150.0)
    order = take_free(shop, "punch", (part,), steel=steel, clock=clock)
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    assert any(says in line for line in session.view().lines)
    session.close()


def test_the_readout_speaks_of_no_recipe_where_there_is_none(shop: Shop, clock: FakeClock) -> None:
    order = begun(shop, clock)
    again = shop.again()
    lines = order_lines(order_shown(again, again.state.orders[order.id]))
    assert any("as it was said" in line for line in lines)
    assert not any("the recipe's" in line for line in lines)


def test_what_was_done_becomes_a_draft_that_check_takes(shop: Shop, clock: FakeClock) -> None:
    order = made(shop, clock)
    draft = draft_of(shop.again(), order)
    recipe, problems = read_recipe(draft.text.encode(), "draft.toml")
    assert recipe is not None, problems
    (latch,) = recipe.component
    assert (recipe.id, latch.id) == ("gate-latch", "latch")
    assert latch.stock is not None
    assert (latch.stock.section, latch.stock.cut) == ("12 mm square", "180 mm")
    first, last = latch.step
    assert first.heats is not None
    assert (first.do, first.heats.hand) == ("draw down", 2)
    assert (last.do, last.minutes) == ("file", "13 min")
    assert draft.text.count(f"# {GAP}") == draft.gaps > 4


def test_a_draft_never_takes_the_place_of_a_recipe(shop: Shop, clock: FakeClock) -> None:
    order = made(shop, clock)
    draft = draft_of(shop.again(), order)
    path = write_draft(shop, draft)
    assert path == shop.book / "recipes" / "gate-latch.toml"
    with pytest.raises(CannotDo, match="is there already; name another file"):
        write_draft(shop, draft)
    assert take_order(shop.again(), "gate-latch").recipe == "gate-latch"


def test_nothing_done_gives_no_draft_and_a_recipes_order_none_at_all(
    shop: Shop, clock: FakeClock
) -> None:
    with pytest.raises(CannotDo, match="no step is done"):
        draft_of(shop.again(), begun(shop, clock))
    with pytest.raises(CannotDo, match='follows the recipe "test-pin"'):
        draft_of(shop.again(), take_order(shop.again(), "test-pin"))


def test_home_says_that_a_draft_can_be_written(shop: Shop, clock: FakeClock) -> None:
    order = made(shop, clock)
    words = [need.words for need in needs_seeing_to(shop.again())]
    assert any(f"`forgelog draft {order.label}` writes it" in one for one in words)


def test_the_commands_begin_and_draft(
    shop: Shop, clock: FakeClock, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = ["--book", str(shop.book)]
    assert main([*book, "order", "begin", "Poker", "--piece", "poker=12 mm round"]) == 0
    assert "none, said as it is done" in capsys.readouterr().out
    assert main([*book, "order", "begin", "Poker", "--piece", "poker"]) == 2
    capsys.readouterr()
    order = made(shop.again(), clock)
    assert main([*book, "draft", order.label, "--look"]) == 0
    assert capsys.readouterr().out == draft_of(shop.again(), order).text
    assert main([*book, "draft", order.label, "-o", str(tmp_path / "latch.toml")]) == 0
    assert main(["check", str(tmp_path / "latch.toml")]) == 0
