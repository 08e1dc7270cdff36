"""Two recipes side by side."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.comparing import (
    DIFFERS,
    ONLY_FIRST,
    ONLY_SECOND,
    SAME,
    Compared,
    compare,
    compared_lines,
)
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.desk.side_by_side import side_by_side
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.units import UnitSystem
from tests.desk.conftest import PIN
from tests.desk.working import work


def compared(*changes: tuple[str, str]) -> Compared:
    text = PIN
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    first, second = (read_recipe(one.encode(), "x")[0] for one in (PIN, text))
    assert first is not None
    assert second is not None
    return compare(resolve(first), resolve(second), UnitSystem.MM)


def test_a_recipe_is_the_same_as_itself_under_another_name() -> None:
    found = compared(('id = "test-pin"', 'id = "my-pin"'), ("Pin for tests", "Another name"))
    assert found.same_process
    assert {step.how for step in found.steps} == {SAME}
    assert found.head == ()


def test_what_differs_in_a_step_is_told_old_then_new() -> None:
    found = compared(("heats = { hand = 2 }", "heats = { hand = 3 }"))
    assert not found.same_process
    (step,) = found.changed
    assert step.words == "pin, draw the point"
    assert step.how == DIFFERS
    assert step.differences == ("planned heats 2 (hand), now 3 (hand)",)


def test_steps_that_only_one_of_them_has_stand_in_their_place() -> None:
    rest = 'do = "rest"\nuntil = "black"\nwhy = "so that the point is not burnt"\n'
    found = compared(
        (
            f"[[component.step]]\n{rest}",
            '[[component.step]]\ndo = "scroll the tail"\nheats = { hand = 2 }\n',
        )
    )
    assert [(s.words, s.how) for s in found.changed] == [
        ("pin, rest", ONLY_FIRST),
        ("pin, scroll the tail", ONLY_SECOND),
    ]
    assert [s.step for s in found.steps][:4] == [
        "draw-the-point",
        "rest",
        "scroll-the-tail",
        "bend-the-pin",
    ]


def test_stock_sizes_and_steel_are_compared_too() -> None:
    found = compared(
        ("12 mm square", "14 mm square"),
        ('default = "60 mm"', 'default = "70 mm"'),
        ('name = "Pin for tests"', 'name = "Pin for tests"\nsteel = "1045"'),
        ('id = "wedge"', 'id = "peg"'),
    )
    assert found.head[0] == "steel mild, now 1045"
    assert "size drop 60 mm, now 70 mm" in found.head
    by_words = {(s.words, s.step): s for s in found.changed}
    assert by_words["pin", ""].differences == ("bar 12 mm square, now 14 mm square",)
    assert {s.component for s in found.changed if s.how == ONLY_SECOND} == {"peg"}
    assert {s.component for s in found.changed if s.how == ONLY_FIRST} == {"wedge"}
    lines = list(compared_lines(found))
    assert lines[-1].endswith("are the same.")


def test_the_records_of_two_revisions_stand_beside_each_other(shop: Shop, clock: FakeClock) -> None:
    for revision, heats in ((1, 2), (2, 3)):
        text = PIN.replace("heats = { hand = 2 }", f"heats = {{ hand = {heats} }}")
        text = text.replace("[sizes.drop]", f"revision = {revision}\n[sizes.drop]", 1)
        (shop.book / "recipes" / "test-pin.toml").write_text(text)
        order = take_order(shop.again(), "test-pin", clock=clock)
        clock.go_on(60.0)
        session = start(shop.again(), [order.id], clock=clock)
        work(session, clock, 60)
        session.close()
        clock.go_on(3600.0)
    found = side_by_side(str(shop.book), "test-pin@1", "test-pin@2")
    (changed,) = found.changed
    assert changed.step == "draw-the-point"
    assert changed.differences == ("planned heats 2 (hand), now 3 (hand)",)
    assert "pieces, " in changed.first_records
    assert "by hand" in changed.second_records
    both = side_by_side(str(shop.book), "test-pin", "test-pin@2").steps[0]
    assert both.second_records == changed.second_records
    assert both.first_records != both.second_records


def test_what_cannot_be_found_is_said_with_what_there_is(shop: Shop) -> None:
    with pytest.raises(CannotDo, match='no order was worked from "test-pin" at revision "7"'):
        side_by_side(str(shop.book), "test-pin@7", "test-pin")
    with pytest.raises(CannotDo, match="did you mean"):
        side_by_side(str(shop.book), "test-pinn", "test-pin")


def test_the_command_prints_words_or_json(
    shop: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "other.toml"
    other.write_text(PIN.replace("bend the pin", "curl the pin"))
    words = ["--book", str(shop.book), "compare", "test-pin", str(other)]
    assert main(words) == 0
    out = capsys.readouterr().out
    assert "pin, curl the pin: only in the second" in out
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["same_process"] is False
    assert {step["how"] for step in told["steps"]} == {SAME, ONLY_FIRST, ONLY_SECOND}
