"""What the apprentice ran into, one case each, so that it stays mended."""

from __future__ import annotations

import pytest

from forgelog.floor.blocks import lock_holder, waits_for_temper
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import ELSE, END
from forgelog.floor.sums import degc_now
from forgelog.trade.cooling import HAND_WARM_DEGC
from forgelog.units import UnitSystem
from forgelog.work.changes import CannotBe, replace
from forgelog.work.facts import CooledInWater, MadeAgain, NewPiece, Swapped
from forgelog.work.making import again
from forgelog.work.queries import step_index, steps_of
from forgelog.work.state import StepRecord, Workpiece
from tests.floor.recipes import HOOK, PUNCH, hooks, punches, recipe
from tests.floor.shop import Shop

ONE_HOOK = HOOK.replace("each = 2", "each = 1")


def take_from_list(shop: Shop, *choices: str) -> None:
    """Open "something else" and take a choice in each list after another."""
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("enter")
    for wanted in choices:
        take(shop, wanted)


def take(shop: Shop, wanted: str) -> None:
    """Take a choice of the list that is open."""
    for _ in range(40):
        listed = shop.view().list
        assert listed is not None
        if wanted in listed.choices[listed.at]:
            break
        shop.press("tab")
    else:
        raise AssertionError(f"{wanted} is not in {listed}")
    shop.press("enter")


def degc(shop: Shop, component: str, number: int = 1) -> float:
    """How hot a piece is by the sum."""
    return degc_now(shop.state, shop.piece(component, number).id, shop.now)


def in_hand(shop: Shop) -> None:
    """The first piece of the advice is put in the fire and taken out."""
    shop.press("space")
    shop.press("space", 150)


def work_on(shop: Shop, component: str, *, until: str, step: int = 0) -> None:
    """Space and enter on a component's first piece until it is there, at this step or later."""
    for _ in range(40):
        piece = shop.piece(component)
        if piece.place == until and piece.step >= step:
            return
        shop.choose(piece)
        shop.press("enter" if piece.place == "hand" else "space", 150)
    raise AssertionError(f"the {component} never came to {until}")


def test_a_piece_keeps_its_number_when_another_is_scrapped_and_made_again() -> None:
    shop = Shop(hooks())
    before = []
    for number in (1, 2):
        shop.choose(shop.piece("hook", number))
        before.append(shop.view().piece)
    take_from_list(shop, "trouble with a cold piece", "hook", "make another", "lost")
    shop.choose(shop.piece("hook", 2))
    assert shop.view().piece == before[1]
    shop.choose(list(shop.state.pieces.values())[-1])
    assert shop.view().piece == f"{before[0]}, remade"


def test_what_was_undone_is_put_back_from_the_list() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.press("backspace")
    assert shop.piece("hook").place == "waiting"
    take_from_list(shop, "put back")
    assert shop.piece("hook").place == "fire"


def test_a_rest_in_the_banked_fire_can_be_begun_shown_and_ended() -> None:
    shop = Shop(recipe(ONE_HOOK.replace('until = "black"', 'until = "black"\n  in = "fire"')))
    work_on(shop, "hook", until="resting")
    assert shop.view().resting[0].words.startswith("to black in fire")
    shop.press("space", 30)
    shop.press("enter")
    assert shop.piece("hook").rests[0].verdict in ("skipped", "short")


def test_a_rest_to_cold_in_a_hot_shop_can_be_kept() -> None:
    shop = Shop(recipe(ONE_HOOK.replace('until = "black"', 'until = "cold"')))
    shop.state = replace(shop.state, air_degc=32.0)
    work_on(shop, "hook", until="resting")
    shop.choose(shop.piece("hook"))
    shop.press("enter", 50_000)
    assert shop.piece("hook").rests[0].verdict == "ok"


def test_a_piece_scrapped_out_of_the_fire_is_on_the_hot_list() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.wait(300)
    take_from_list(shop, "trouble with a cold piece", "hook 1", "make no other", "burnt")
    assert shop.piece("hook").place == "scrapped"
    assert degc(shop, "hook") > 800


def test_a_step_done_without_a_key_leaves_the_piece_as_hot_as_the_fire_made_it() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.wait(300)
    take_from_list(shop, "heats not pressed", "hook 1")
    assert degc(shop, "hook") > 800


def test_a_piece_that_was_heated_without_keys_is_not_taken_for_cold() -> None:
    shop = Shop(hooks())
    in_hand(shop)
    shop.press("enter", 900)
    assert shop.piece("hook").done[0].heats is None
    assert degc(shop, "hook") > HAND_WARM_DEGC + 300


def test_a_step_opened_again_while_the_piece_is_in_the_fire_leaves_it_there() -> None:
    shop = Shop(hooks(1))
    in_hand(shop)
    shop.press("enter", 30)
    shop.choose(shop.piece("hook"))
    if shop.piece("hook").place != "fire":
        shop.press("space")
    since_s = shop.piece("hook").since_s
    take_from_list(shop, "not done after all", "draw the point")
    hook = shop.piece("hook")
    assert (hook.place, hook.step, hook.since_s) == ("fire", 0, since_s)


def test_the_last_heat_is_not_put_right_when_it_ended_in_scrap() -> None:
    shop = Shop(hooks(1))
    in_hand(shop)
    shop.press("tab", 20)
    for wanted in ("scrap it, make another", "burnt"):
        take(shop, wanted)
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("enter")
    listed = shop.view().list
    assert listed is not None
    assert not any("last heat" in choice for choice in listed.choices)


def test_another_piece_is_held_only_while_no_step_was_done_in_the_heat() -> None:
    follows = HOOK.replace('do = "bend the hook"', 'do = "bend the hook"\n  follows = true')
    shop = Shop(recipe(follows))
    in_hand(shop)
    shop.press("enter", 20)
    assert shop.piece("hook").place == "hand"
    with pytest.raises(CannotBe):
        shop.tell(Swapped(workpiece=shop.piece("hook").id, other=shop.piece("hook", 2).id))
    shop.press("tab")
    take(shop, "another piece")
    view = shop.view()
    assert view.list is None
    assert "undo that first" in view.message


def test_only_a_piece_that_is_to_be_forged_can_be_the_one_in_hand() -> None:
    shop = Shop(punches(), hooks())
    work_on(shop, "punch", until="waiting", step=1)
    shop.choose(shop.piece("hook"))
    in_hand(shop)
    shop.press("tab")
    take(shop, "another piece")
    listed = shop.view().list
    assert listed is not None
    assert not any("punch 1" in choice for choice in listed.choices)


def test_all_is_finished_and_something_else_are_two_cards() -> None:
    shop = Shop(hooks(1))
    take_from_list(shop, "trouble with a cold piece", "hook", "make no other", "lost")
    view = shop.view()
    assert view.finished
    assert shop.words("enter").startswith("end the session")
    view = shop.press("tab")
    assert (view.verb, view.finished) == ("SOMETHING ELSE", False)
    assert shop.words("enter") == "open the list"
    view = shop.press("tab")
    assert shop.stand.chosen == END
    assert view.finished
    assert shop.press("enter").leave


def test_the_cycles_of_a_normalise_are_told_apart_in_a_list() -> None:
    shop = Shop(punches(1))
    work_on(shop, "punch", until="waiting", step=1)
    for cycle in (1, 2):
        work_on(shop, "punch", until="resting", step=cycle)
        shop.wait(4000)
    shop.press("space")
    take_from_list(shop, "not done after all")
    listed = shop.view().list
    assert listed is not None
    assert len(set(listed.choices)) == len(listed.choices) >= 3


def test_a_gauge_of_the_same_name_in_two_steps_is_told_apart_in_a_list() -> None:
    gauge = 'gauge = [{ what = "length", size = "80 mm" }]\n'
    text = HOOK.replace("heats = { hand", gauge + "  heats = { hand")
    shop = Shop(recipe(text))
    in_hand(shop)
    shop.press("enter", 30)
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("g")
    listed = shop.view().list
    assert listed is not None
    assert "hook 1: length, draw the point" in listed.choices


def test_sizes_in_inches_are_told_apart_and_lie_on_the_marks_of_the_rule() -> None:
    gauged = HOOK.replace(
        "heats = { hand", 'gauge = [{ what = "a", size = "80 mm" }]\n  heats = { hand'
    )
    shop = Shop(recipe(gauged), settings=FloorSettings(units=UnitSystem.INCH))
    work_on(shop, "hook", until="waiting", step=1)
    take_from_list(shop, "a size was gauged", "hook 1: a, bend")
    listed = shop.view().list
    assert listed is not None
    assert len(set(listed.choices)) == len(listed.choices)
    shop.press("enter")
    assert shop.piece("hook").gauged["a"] % (25.4 / 32) == pytest.approx(0, abs=0.001)


def test_the_only_choice_of_a_list_says_so_when_tab_asks_for_another() -> None:
    shop = Shop(hooks())
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("g")
    assert shop.press("tab").message == "there is no other choice"


def test_the_digit_of_the_chosen_piece_says_that_it_is_chosen() -> None:
    shop = Shop(hooks())
    shop.press("space")
    assert shop.press("1").message == "it is chosen already"


def test_a_piece_that_stands_at_its_rest_says_where_the_rest_goes_to() -> None:
    begins = '  [[component.step]]\n  do = "rest"\n  id = "warm"\n  until = "hand-warm"\n\n'
    at = ONE_HOOK.index("  [[component.step]]")
    shop = Shop(recipe(ONE_HOOK[:at] + begins + ONE_HOOK[at:]))
    assert shop.words("enter") == "let it rest"
    assert "to hand-warm" in shop.view().lines


def test_a_fire_lit_again_by_mistake_can_be_undone() -> None:
    shop = Shop(hooks())
    shop.press("space")
    take_from_list(shop, "the fire is out")
    take_from_list(shop, "the fire is lit again")
    shop.press("backspace", 3)
    assert not shop.state.fire.lit
    shop.press("backspace", 3)
    assert shop.piece("hook").place == "fire"


def test_a_hard_piece_that_is_gauged_before_its_temper_still_holds_the_lock() -> None:
    file_test = '  [[component.step]]\n  do = "try it with a file"\n  kind = "gauge"\n\n'
    at = PUNCH.index('  [[component.step]]\n  do = "temper the tip"')
    shop = Shop(recipe(PUNCH[:at] + file_test + PUNCH[at:], steel="1045"), hooks())
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "harden-the-tip"))
    work_on(shop, "punch", until="waiting", step=4)
    punch = shop.piece("punch")
    holder = lock_holder(shop.state)
    assert holder is not None
    assert holder.id == punch.id
    assert [p.id for p in waits_for_temper(shop.state)] == [punch.id]
    assert "then temper at once" in shop.view().next[0]


def test_after_the_first_of_two_tempers_the_lock_is_gone() -> None:
    twice = PUNCH.replace('kind = "temper"', 'kind = "temper"\n  cycles = 2')
    shop = Shop(recipe(twice.replace("each = 2", "each = 1"), steel="1045"))
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "harden-the-tip"))
    work_on(shop, "punch", until="waiting", step=4)
    assert lock_holder(shop.state) is not None
    work_on(shop, "punch", until="waiting", step=5)
    assert lock_holder(shop.state) is None


def test_what_soaks_in_the_fire_is_still_told_while_another_piece_waits_for_its_temper() -> None:
    soaks = PUNCH.replace('at = "250 degC"', 'at = "250 degC"\n  soak = "1 h"')
    shop = Shop(recipe(soaks, steel="1045"), places=1)
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "temper-the-tip"))
    shop.choose(shop.piece("punch", 1))
    shop.press("space")
    waits, soaking = shop.view().next
    assert waits.endswith("temper at once: the fire is full")
    assert "look in about" in soaking


def test_a_hard_piece_of_unknown_steel_may_be_tempered() -> None:
    shop = Shop(recipe(PUNCH, steel="unknown"))
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "harden-the-tip"))
    shop.choose(shop.piece("punch"))
    assert shop.words("space").startswith("unknown steel")
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "temper-the-tip"))
    assert shop.words("space") == "put it in the fire"


def test_two_heats_are_put_right_in_the_step_that_was_forged() -> None:
    follows = ONE_HOOK.index('  [[component.step]]\n  do = "rest"')
    drill = '  [[component.step]]\n  do = "drill"\n  minutes = "4 min"\n\n'
    shop = Shop(recipe(ONE_HOOK[:follows] + drill + ONE_HOOK[follows:]))
    work_on(shop, "hook", until="waiting", step=2)
    shop.choose(shop.piece("hook"))
    shop.press("enter", 5)
    shop.press("enter", 200)
    assert shop.piece("hook").done[-1].kind == "bench"
    take_from_list(shop, "last heat was two")
    records = {r.step: r for r in shop.piece("hook").done}
    assert records["bend-the-hook"].heats == 2
    assert not records["drill"].corrected


def test_after_the_quench_no_forging_step_is_put_right_as_the_last_heat() -> None:
    shop = Shop(recipe(PUNCH.replace("each = 2", "each = 1"), steel="1045"))
    shop.state = replace(shop.state, pieces=at_step_of(shop, "punch", "harden-the-tip"))
    shop.choose(shop.piece("punch"))
    shop.press("space")
    shop.press("space", 200)
    shop.press("enter", 12)
    assert shop.piece("punch").done[-1].kind == "harden"
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("enter")
    listed = shop.view().list
    assert listed is not None
    assert not any("last heat" in choice for choice in listed.choices)


def test_a_heat_ended_earlier_only_while_the_piece_lies_where_it_left_it() -> None:
    shop = Shop(hooks(1))
    in_hand(shop)
    shop.press("space", 30)
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("enter")
    listed = shop.view().list
    assert listed is not None
    assert any("a minute ago" in choice for choice in listed.choices)
    shop.press("space")
    shop.choose(shop.piece("hook"))
    shop.press("space", 100)
    shop.press("tab")
    take(shop, "lay it aside")
    shop.choose(shop.piece("hook"))
    shop.press("space", 10)
    shop.stand = type(shop.stand)(chosen=ELSE)
    shop.press("enter")
    listed = shop.view().list
    assert listed is not None
    assert not any("a minute ago" in choice for choice in listed.choices)


def at_step_of(shop: Shop, component: str, step: str) -> dict[str, Workpiece]:
    """The pieces, with those of a component standing at this step; all before it is recorded."""
    pieces = dict(shop.state.pieces)
    for piece in shop.state.pieces.values():
        steps = steps_of(shop.state, piece)
        index = step_index(steps, step)
        if piece.component != component or index is None:
            continue
        done = tuple(
            StepRecord(step=s.id, kind=s.kind, pin=0, method="hand", heats=1, planned=1)
            for s in steps[:index]
        )
        pieces[piece.id] = replace(piece, step=index, done=done, begun=True, place="waiting")
    return pieces


ASSEMBLY = """
[[component]]
id = "rack"
name = "rack"
needs = [{ component = "hook", count = 2 }]

  [[component.step]]
  do = "rivet the hooks on"
  kind = "fit"
"""


def test_an_assembly_whose_part_was_scrapped_for_good_offers_to_make_another() -> None:
    shop = Shop(recipe(HOOK, ASSEMBLY))
    shop.choose(shop.piece("rack"))
    assert not shop.press("space").question
    take_from_list(shop, "trouble with a cold piece", "hook 2", "make no other", "lost")
    shop.choose(shop.piece("rack"))
    assert shop.words("space") == "it wants 2 hook more"
    view = shop.press("space", 5)
    assert view.question == "hook 2 was scrapped, and too few are left"
    shop.press("enter", 5)
    remade = list(shop.state.pieces.values())[-1]
    assert (remade.slot, remade.remade_from) == ("hook 2", shop.piece("hook", 2).id)
    shop.choose(shop.piece("rack"))
    assert not shop.press("space", 5).question


def test_a_scrapped_piece_is_made_again_after_all_from_the_list() -> None:
    shop = Shop(hooks())
    take_from_list(shop, "trouble with a cold piece", "hook 2", "make no other", "lost")
    take_from_list(shop, "trouble with a cold piece", "hook 2 (scrapped)", "after all")
    assert [p.slot for p in shop.state.pieces.values()] == ["hook 1", "hook 2", "hook 2"]
    with pytest.raises(CannotBe):
        shop.tell(MadeAgain(workpiece=shop.piece("hook", 2).id, remake=again_of(shop, 2)))


def again_of(shop: Shop, number: int) -> NewPiece:
    """What would be made again for a piece."""
    piece = shop.piece("hook", number)
    return again(shop.state.orders[piece.order], piece)


def test_taking_a_piece_out_of_the_fire_stops_the_bench_clock() -> None:
    drill = '  [[component.step]]\n  do = "drill"\n  minutes = "4 min"\n\n'
    at = PUNCH.index("  [[component.step]]")
    shop = Shop(recipe(PUNCH[:at] + drill + PUNCH[at:], steel="1045"), hooks(1))
    shop.choose(shop.piece("hook"))
    shop.press("space")
    shop.choose(shop.piece("punch"))
    shop.press("enter", 5)
    assert shop.piece("punch").running
    shop.choose(shop.piece("hook"))
    shop.press("space", 100)
    assert shop.piece("hook").place == "hand"
    punch = shop.piece("punch")
    assert (punch.running, punch.work_s) == (False, 100.0)


def test_after_a_swap_both_are_as_hot_as_the_hotter_one_is_now_not_as_it_was_once() -> None:
    shop = Shop(hooks(1), punches(1))
    in_hand(shop)
    shop.press("tab")
    take(shop, "lay it aside")
    shop.wait(20 * 3600)
    first = shop.piece("hook") if shop.piece("hook").begun else shop.piece("punch")
    other = shop.piece("punch") if first.component == "hook" else shop.piece("hook")
    shop.choose(other)
    in_hand(shop)
    shop.tell(CooledInWater(workpiece=other.id, whole=True))
    shop.tell(Swapped(workpiece=other.id, other=first.id))
    assert degc(shop, "hook") == degc(shop, "punch") > HAND_WARM_DEGC


def test_the_parts_of_a_scrapped_assembly_are_free_for_another_one() -> None:
    rivets = """
[[component]]
id = "rivet"
name = "rivet"
lot = true
each = 2

  [[component.step]]
  do = "cut the rivets"
  kind = "bench"
"""
    needs = ASSEMBLY.replace("count = 2 }]", 'count = 1 }, { component = "rivet", count = 2 }]')
    shop = Shop(recipe(ONE_HOOK, rivets, needs))
    done = {p.id: replace(p, place="finished", begun=True) for p in shop.state.pieces.values()}
    done[shop.piece("rack").id] = shop.piece("rack")
    steps = {w: len(steps_of(shop.state, p)) for w, p in done.items() if p.place == "finished"}
    pieces = {w: replace(p, step=steps.get(w, p.step)) for w, p in done.items()}
    shop.state = replace(shop.state, pieces=pieces)
    shop.choose(shop.piece("rack"))
    shop.press("enter")
    assert (shop.piece("hook").place, shop.piece("rivet").place) == ("fitted", "fitted")
    take_from_list(shop, "trouble with a cold piece", "rack", "make another", "cold shut")
    assert shop.piece("hook").place == "finished"
    assert (shop.piece("rivet").place, shop.piece("rivet").used) == ("finished", 0)
    remade = list(shop.state.pieces.values())[-1]
    shop.choose(remade)
    shop.press("enter")
    assert shop.piece("hook").fitted_in == remade.id
