"""An apprentice who knows nothing of the recipe works by the card and the bottom line alone."""

from __future__ import annotations

from tests.floor.recipes import hooks
from tests.floor.shop import Shop


def test_a_piece_keeps_its_number_when_another_is_scrapped_and_made_again() -> None:
    shop = Shop(hooks())
    before = [shop.choose(shop.piece("hook", n)) or shop.view().piece for n in (1, 2)]
    shop.choose(shop.piece("hook", 1))
    take_from_list(shop, "trouble with a cold piece", "hook", "make another", "lost")
    shop.choose(shop.piece("hook", 2))
    assert shop.view().piece == before[1]
    remade = list(shop.state.pieces.values())[-1]
    shop.choose(remade)
    assert shop.view().piece == f"{before[0]}, remade"


def take_from_list(shop: Shop, *choices: str) -> None:
    """Open "something else" and take a choice in each list after another."""
    shop.stand = type(shop.stand)(chosen="something else")
    shop.press("enter")
    for wanted in choices:
        for _ in range(40):
            listed = shop.view().list
            assert listed is not None
            if wanted in listed.choices[listed.at]:
                break
            shop.press("tab")
        else:
            raise AssertionError(f"{wanted} is not in {listed}")
        shop.press("enter")
