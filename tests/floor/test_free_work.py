"""Work without a recipe: the same four keys, and one choice a step."""

from __future__ import annotations

from forgelog.floor.list_free import COLD, FORGED, THAT_IS_ALL
from forgelog.floor.settings import FloorSettings
from forgelog.recipe.resolved import Recipe
from forgelog.trade.sections import Section
from forgelog.work.apply import apply
from forgelog.work.facts import StepSaid
from forgelog.work.free import free_component
from forgelog.work.state import FINISHED
from tests.floor.shop import Shop


def free(*, each: int = 1, steel: str = "mild") -> Recipe:
    section = Section(kind="square", a_mm=12.0)
    return Recipe(
        id="free-1",
        name="gate latch",
        process_hash="",
        steel=steel,
        components=(free_component("latch", "latch", section, each, 180.0),),
    )


def take(shop: Shop, words: str, after_s: float = 5.0) -> None:
    """Go down the open list to a choice and take it."""
    for _ in range(60):
        view = shop.view()
        assert view.list is not None
        if view.list.choices[view.list.at].startswith(words):
            shop.press("enter", after_s)
            return
        shop.press("tab", 1.0)
    raise AssertionError(f"no choice {words!r}")


def forge(shop: Shop, words: str, heats: int) -> None:
    """So many heats, and then what it was."""
    for heat in range(heats):
        if shop.piece("latch").place == "waiting":
            shop.press("space", 60)
        shop.press("space", 150)
        if heat + 1 < heats:
            shop.press("space", 25)
    shop.press("enter", 25)
    take(shop, words)


def steps(shop: Shop) -> list[str]:
    return [step.do for step in shop.state.orders["o1"].pins[0].components[0].steps]


def test_enter_in_hand_asks_what_it_was_and_the_step_stands() -> None:
    shop = Shop(free())
    shop.press("space")
    shop.press("space", 150)
    assert shop.words("enter") == "it is done: say what it was"
    shop.press("space", 25)
    shop.press("space", 120)
    shop.press("enter", 25)
    take(shop, "point")
    piece = shop.piece("latch")
    assert steps(shop) == ["point", "free work"]
    assert [(r.step, r.heats, r.planned) for r in piece.done] == [("step-1", 2, None)]
    assert shop.state.orders["o1"].pins[0].components[0].steps[0].heats == {"hand": 2}


def test_the_next_piece_follows_what_the_first_one_showed() -> None:
    shop = Shop(free(each=2))
    first = shop.piece("latch").id
    shop.choose(shop.piece("latch"))
    forge(shop, "draw down", 3)
    second = next(p for p in shop.state.pieces.values() if p.id != first)
    shop.choose(second)
    view = shop.view()
    assert view.verb.lower() == "draw down"
    assert "of about 3" in view.heats


def test_a_rest_cold_work_and_the_end_are_one_choice_each() -> None:
    shop = Shop(free())
    forge(shop, "upset", 1)
    if shop.piece("latch").place == "fire":
        shop.press("space", 60)
        shop.press("enter", 5)
        take(shop, "bend")
    while shop.piece("latch").place != "waiting":
        shop.press("space", 60)
        shop.press("tab", 1)
        take(shop, "lay it aside")
    shop.choose(shop.piece("latch"))
    assert shop.words("enter") == "a rest, cold work, or finished"
    shop.press("enter", 5)
    take(shop, "let it rest: black")
    assert shop.piece("latch").place == "resting"
    shop.wait(2000)
    shop.choose(shop.piece("latch"))
    shop.press("enter", 5)
    take(shop, "file")
    assert shop.piece("latch").place == "bench"
    shop.press("enter", 300)
    shop.choose(shop.piece("latch"))
    shop.press("enter", 5)
    take(shop, THAT_IS_ALL)
    piece = shop.piece("latch")
    assert piece.place == FINISHED
    assert "free work" not in steps(shop)
    assert [r.verdict for r in piece.rests] == ["ok"]


def test_saying_what_it_was_is_undone_with_the_step() -> None:
    shop = Shop(free())
    before = shop.state.orders
    forge(shop, "twist", 1)
    shop.press("backspace", 5)
    assert shop.state.orders == before
    assert shop.piece("latch").place == "hand"


def test_looking_for_the_word_is_no_work() -> None:
    shop = Shop(free())
    shop.press("space")
    shop.press("space", 150)
    shop.press("enter", 25)
    shop.wait(400)
    take(shop, "upset", 2.0)
    (record,) = shop.piece("latch").done
    assert record.heats == 1
    assert 20 <= record.work_s <= 30


def test_a_tool_steel_offers_its_treatments_and_mild_steel_none() -> None:
    for steel, offered in (("1045", True), ("mild", False)):
        shop = Shop(free(steel=steel))
        forge(shop, "draw down", 1)
        while shop.piece("latch").place != "waiting":
            shop.press("space", 60)
            shop.press("tab", 1)
            take(shop, "lay it aside")
        shop.choose(shop.piece("latch"))
        shop.press("enter", 5)
        view = shop.view()
        assert view.list is not None
        assert any(c.startswith("normalise") for c in view.list.choices) == offered
        assert any(c.startswith("harden") for c in view.list.choices) == offered


def test_every_word_of_the_trade_can_be_said_and_fits_the_key() -> None:
    shop = Shop(free(), settings=FloorSettings())
    shop.press("space")
    shop.press("space", 150)
    shop.press("enter", 25)
    view = shop.view()
    assert view.list is not None
    assert set(view.list.choices) == set(FORGED)
    assert all(len(words) <= 34 for words in (*FORGED, *COLD, THAT_IS_ALL))


def test_what_is_said_reads_back_from_the_journal_the_same() -> None:
    shop = Shop(free())
    forge(shop, "taper", 2)
    assert any(isinstance(f, StepSaid) for press in shop.presses for f in press.facts)
    state = type(shop.state)()
    for press in shop.presses:
        state = apply(state, press)
    assert state.orders == shop.state.orders
    assert state.pieces == shop.state.pieces
