"""Recipes go from one smith to another and come back the same."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path
from shutil import copytree

import pytest
from hypothesis import given, settings

from forgelog.book.device import Device
from forgelog.book.folders import mark_as_practice
from forgelog.desk.errors import CannotDo
from forgelog.desk.sharing import share, write_shared
from forgelog.desk.shop import Shop, open_shop
from forgelog.desk.taking import ANOTHER, NEW, SAME_PROCESS, look_at, looked_lines, put_in_book
from forgelog.recipe.process import process_hash
from forgelog.recipe.read import read_recipe
from forgelog.recipe.write import write_recipe
from forgelog.recipe.written import WrittenRecipe
from tests.properties.strategies import recipes, shared_recipes

ROOT = Path(__file__).parents[2]


def book_of(folder: Path, *recipes: WrittenRecipe) -> Shop:
    (folder / "recipes").mkdir(parents=True)
    for recipe in recipes:
        (folder / "recipes" / f"{recipe.id}.toml").write_text(
            write_recipe(recipe), encoding="utf-8"
        )
    return Shop(folder, Device(id="anvil7k"))


def process_of(text: str) -> str:
    return text.partition("\n[shared]\n")[0]


@settings(max_examples=25, deadline=None)
@given(recipes())
def test_a_recipe_that_is_shared_taken_and_shared_again_is_the_same_byte_for_byte(
    recipe: WrittenRecipe,
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        first = book_of(Path(folder) / "first", recipe)
        second = book_of(Path(folder) / "second")
        shared = share(first, recipe.id)
        file = write_shared(shared, Path(folder) / "from-a-friend.toml")
        looked = look_at(second, file)
        assert looked.standing == NEW
        assert looked.trusted
        put_in_book(second, looked)
        again = share(second.again(), recipe.id)
        assert again.text == shared.text
        assert look_at(second.again(), file).standing == SAME_PROCESS


@settings(max_examples=15, deadline=None)
@given(shared_recipes())
def test_evidence_that_came_with_a_recipe_is_kept_and_not_handed_on_as_ones_own(
    recipe: WrittenRecipe,
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        shop = book_of(Path(folder) / "book")
        file = Path(folder) / "shared.toml"
        file.write_text(write_recipe(recipe), encoding="utf-8")
        path = put_in_book(shop, look_at(shop, file))
        kept, _ = read_recipe(path.read_bytes(), "x")
        assert kept == recipe
        again = share(shop.again(), recipe.id).text
        assert "[[evidence" not in again
        bare, _ = read_recipe(again.encode(), "x")
        assert bare is not None
        assert process_hash(bare) == process_hash(recipe)


def test_a_process_that_was_changed_on_the_way_is_known_and_its_records_stay_out(
    shop: Shop, tmp_path: Path
) -> None:
    text = share(shop, "test-pin").text.replace("hand = 2", "hand = 5")
    text += '\n[[evidence.steps]]\ncomponent = "pin"\nstep = "draw-the-point"\npieces = 40\n'
    file = tmp_path / "changed.toml"
    file.write_text(text)
    looked = look_at(shop, file)
    assert not looked.trusted
    assert looked.standing == ANOTHER
    told = "\n".join(looked_lines(looked))
    assert "THE PROCESS WAS CHANGED" in told
    assert "40 pieces" not in told
    assert "planned heats 2 (hand), now 5 (hand)" in told
    taken = put_in_book(shop, looked, new_id="pin-of-a-friend").read_text()
    assert "evidence" not in taken
    assert "hand = 5" in taken


def test_a_recipe_of_ones_own_is_never_written_over(shop: Shop, tmp_path: Path) -> None:
    file = tmp_path / "shared.toml"
    file.write_text(share(shop, "test-pin").text)
    own = shop.book / "recipes" / "test-pin.toml"
    before = own.read_bytes()
    with pytest.raises(CannotDo, match="yours and stays as it is"):
        put_in_book(shop, look_at(shop, file))
    other = shop.book / "recipes" / "other.toml"
    other.write_text("not a recipe")
    with pytest.raises(CannotDo, match=r"other\.toml among the recipes already"):
        put_in_book(shop, look_at(shop, file), new_id="other")
    for bad in ("../out", "Pin", "-x", "a/b", "pin\n", "x" * 41):
        with pytest.raises(CannotDo, match="is no id"):
            put_in_book(shop, look_at(shop, file), new_id=bad)
    assert own.read_bytes() == before
    assert other.read_text() == "not a recipe"
    with pytest.raises(CannotDo, match="there already"):
        write_shared(share(shop, "test-pin"), file)


def test_records_go_out_without_customer_order_mark_or_day(tmp_path: Path) -> None:
    book = tmp_path / "demo"
    copytree(ROOT / "demo_data" / "book", book)
    copytree(ROOT / "recipes", book / "recipes")
    mark_as_practice(book)
    shop = open_shop(book)
    text = share(shop, "gate-hinge-set").text
    evidence = text.partition("\n[shared]\n")[2]
    assert "practice = true" in evidence
    assert 'component = "strap"' in evidence
    assert evidence.count("[[evidence.steps]]") > 10
    assert "[[evidence.rests]]" in evidence
    for order in shop.whole_state.orders.values():
        assert order.id not in evidence
        assert order.title not in evidence
        assert order.label not in evidence.split()
    for piece in shop.whole_state.pieces.values():
        assert piece.id not in evidence
        assert not piece.mark or piece.mark not in evidence
    assert shop.settings.shop.name not in evidence
    assert not re.search(r"20\d\d|-\d\d-", evidence)
    read, problems = read_recipe(text.encode(), "x")
    assert read is not None
    assert not problems


def test_a_name_and_a_day_go_out_only_where_the_smith_adds_them(shop: Shop) -> None:
    assert "by =" not in share(shop, "test-pin").text
    text = share(shop, "test-pin", by="A. Smith", on="2026-05-01").text
    assert 'by = "A. Smith"' in text
    assert 'on = "2026-05-01"' in text
    for wrong in ("yesterday", "2026-13-01"):
        with pytest.raises(CannotDo, match="is no date"):
            share(shop, "test-pin", on=wrong)
    with pytest.raises(CannotDo, match="cannot be shared so"):
        share(shop, "test-pin", by="a\u202eb")


def test_cautions_that_a_stranger_left_out_are_told_as_added(shop: Shop, tmp_path: Path) -> None:
    file = tmp_path / "bare.toml"
    file.write_text(
        'format = 1\nid = "punch"\nname = "Punch"\nsteel = "1045"\n'
        '[[component]]\nid = "punch"\nname = "punch"\n'
        'stock = { section = "16 mm round", cut = "150 mm" }\n'
        '[[component.step]]\ndo = "harden the end"\nat = "840 degC"\nquench = "oil"\n'
        '[[component.step]]\ndo = "temper"\nat = "220 degC"\n'
    )
    told = list(looked_lines(look_at(shop, file)))
    added = [line for line in told if line.endswith("(the recipe lacks it; added here)")]
    assert any("oil" in line.lower() for line in added)
    assert "It has no checksum: whether it was changed on the way nobody can say." in told
