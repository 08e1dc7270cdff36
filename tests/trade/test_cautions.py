"""The usual cautions and the work that needs them."""

from __future__ import annotations

import pytest

from forgelog.trade.cautions import (
    CAUTIONS,
    SHORT_LETTERS,
    CautionError,
    caution,
    usual_for,
)

NAMED = (
    *("black-is-hot", "power-hammer", "eyes", "hearing", "carbon-monoxide", "zinc", "oily-rags"),
    *("quench-oil", "hollow-work", "flying-edges", "gas", "carries-a-person", "grinding"),
    *("fibre-lining", "blue-heat", "hand-arm"),
)


def test_every_caution_of_the_trade_is_there() -> None:
    assert set(NAMED) <= set(CAUTIONS)


@pytest.mark.parametrize("one", CAUTIONS.values(), ids=lambda one: one.id)
def test_a_caution_is_short_on_the_card_and_whole_on_the_sheet(one) -> None:  # type: ignore[no-untyped-def]
    assert 0 < len(one.short) <= SHORT_LETTERS
    assert one.says.endswith(".")
    assert len(one.says) > len(one.short)
    assert one.source


def test_a_caution_that_is_none_gets_the_nearest_spelling() -> None:
    with pytest.raises(CautionError) as caught:
        caution("oily-rag")
    assert caught.value.hint == "oily-rags"
    assert caution("zinc").id == "zinc"


def test_nothing_is_ever_called_safe_to_touch() -> None:
    for one in CAUTIONS.values():
        assert "safe to" not in f"{one.short} {one.says}".lower()


def test_forging_always_has_eyes_and_black_steel() -> None:
    usual = usual_for("forge", "draw down the tail")
    assert {"eyes", "black-is-hot", "hearing"} <= set(usual)
    assert "power-hammer" not in usual
    assert "power-hammer" in usual_for("forge", "draw down", methods=("hand", "power"))


@pytest.mark.parametrize(
    ("kind", "words", "more", "needed"),
    [
        ("harden", "harden the face", {"steel": "1045", "quench": "oil"}, "quench-oil"),
        ("harden", "harden the edge", {"steel": "unknown"}, "unknown-steel"),
        ("finish", "rub in linseed oil", {}, "oily-rags"),
        ("finish", "finish", {"finish": "boiled linseed"}, "oily-rags"),
        ("finish", "send away", {"finish": "galvanised"}, "zinc"),
        ("forge", "flatten the end", {"section_kind": "tube"}, "hollow-work"),
        ("forge", "slitting the eye", {}, "flying-edges"),
        ("forge", "punch two holes", {}, "flying-edges"),
        ("forge", "bend the hook", {}, "blue-heat"),
        ("bench", "straighten cold", {}, "blue-heat"),
        ("bench", "grind the weld flush", {}, "grinding"),
        ("bench", "drilled on the centre", {}, "gloves"),
        ("rest", "rest", {}, "black-is-hot"),
        ("normalise", "normalise", {"fire": "gas"}, "gas"),
        ("forge", "draw down", {"piece": "Stair railing"}, "carries-a-person"),
        ("fit", "hang it", {"piece": "gate hinges"}, "carries-a-person"),
    ],
)
def test_work_that_needs_a_caution_has_it(
    kind: str, words: str, more: dict[str, str], needed: str
) -> None:
    assert needed in usual_for(kind, words, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "words", "not_needed"),
    [
        ("gauge", "gauge the hook", "eyes"),
        ("finish", "soil and boil", "oily-rags"),
        ("harden", "harden", "oily-rags"),
        ("forge", "set down the pin", "flying-edges"),
        ("forge", "draw down", "zinc"),
    ],
)
def test_a_caution_is_not_shown_for_work_without_it(kind: str, words: str, not_needed: str) -> None:
    assert not_needed not in usual_for(kind, words, steel="1045", quench="water")
