"""A spare at the fire: named as one, waited for by nobody, and there when a piece is spoilt."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from forgelog.work.apply import CannotBe
from forgelog.work.facts import Scrapped, SparesAdded, SpareUsed
from forgelog.work.making import make_spares
from forgelog.work.outstanding import spares_for
from forgelog.work.progress import progress_of
from forgelog.work.queries import component_of, parts_for
from forgelog.work.state import FINISHED, Workpiece
from tests.floor.shop import Shop
from tests.floor.test_mishaps import ASSEMBLY, HOOK, recipe, take_from_list


def with_spare(*texts: str, count: int = 1) -> Shop:
    """A floor with hooks, and spares of them."""
    shop = Shop(recipe(*texts))
    order = shop.state.orders["o1"]
    component = component_of(shop.state, shop.piece("hook"))
    made = make_spares("o1", component, "", count, after=order.serials)
    shop.tell(SparesAdded(order="o1", component="hook", count=count, made=made))
    return shop


def spare_of(shop: Shop, number: int = 1) -> Workpiece:
    return [p for p in shop.state.pieces.values() if p.spare or p.from_spare][number - 1]


def test_a_spare_is_named_as_one_and_the_others_keep_their_numbers() -> None:
    shop = with_spare(HOOK)
    shop.choose(shop.piece("hook", 2))
    assert shop.view().piece.endswith("2 of 2")
    shop.choose(spare_of(shop))
    assert "spare" in shop.view().piece


def test_a_spare_takes_the_slot_of_a_piece_that_is_scrapped_in_one_choice() -> None:
    shop = with_spare(HOOK)
    before = progress_of(shop.state, shop.state.orders["o1"])
    take_from_list(shop, "trouble with a cold piece", "hook 2", "take the hook, spare", "burnt")
    spare = spare_of(shop)
    assert (spare.slot, spare.spare, spare.remade_from) == (
        "hook 2",
        False,
        shop.piece("hook", 2).id,
    )
    assert len(shop.state.pieces) == 3
    assert progress_of(shop.state, shop.state.orders["o1"]).steps == before.steps
    shop.choose(spare)
    assert shop.view().piece.endswith("2 of 2, was a spare")


def test_a_piece_scrapped_for_good_gets_a_spare_after_all() -> None:
    shop = with_spare(HOOK)
    take_from_list(shop, "trouble with a cold piece", "hook 2", "make no other", "lost")
    take_from_list(shop, "trouble with a cold piece", "hook 2 (scrapped)", "take the hook, spare")
    assert spare_of(shop).slot == "hook 2"


def test_the_spare_that_is_furthest_is_offered_first() -> None:
    shop = with_spare(HOOK, count=2)
    ids = [p.id for p in shop.state.pieces.values() if p.spare]
    assert [p.id for p in spares_for(shop.state, shop.piece("hook", 1))] == ids


def test_undo_takes_the_spare_back_out_of_the_slot() -> None:
    shop = with_spare(HOOK)
    take_from_list(shop, "trouble with a cold piece", "hook 2", "take the hook, spare", "burnt")
    shop.press("backspace", 5)
    assert spare_of(shop).spare
    assert shop.piece("hook", 2).place == "waiting"


def test_a_spare_is_used_once_and_for_its_own_kind() -> None:
    shop = with_spare(HOOK, count=2)
    hook, one, two = shop.piece("hook", 1).id, spare_of(shop).id, spare_of(shop, 2).id
    with pytest.raises(CannotBe):
        shop.tell(SpareUsed(workpiece=one, instead_of=hook))
    shop.tell(Scrapped(workpiece=hook, why="lost"), SpareUsed(workpiece=one, instead_of=hook))
    with pytest.raises(CannotBe):
        shop.tell(SpareUsed(workpiece=two, instead_of=hook))
    with pytest.raises(CannotBe):
        shop.tell(SpareUsed(workpiece=one, instead_of=hook))


def test_a_spare_that_is_spoilt_is_made_again_as_a_spare_or_not_at_all() -> None:
    shop = with_spare(HOOK)
    take_from_list(shop, "trouble with a cold piece", "spare", "make another", "lost")
    assert [p.slot for p in shop.state.pieces.values() if p.spare] == ["hook spare 1"] * 2


def test_an_assembly_takes_no_spare_that_has_no_slot() -> None:
    shop = with_spare(HOOK, ASSEMBLY)
    for piece in tuple(shop.state.pieces.values()):
        if piece.component == "hook" and piece.slot != "hook 2":
            done = replace(piece, place=FINISHED, step=99)
            shop.state = replace(shop.state, pieces={**shop.state.pieces, piece.id: done})
    taken, missing = parts_for(shop.state, shop.piece("rack"))
    assert (taken, missing) == ((), "1 hook more")
