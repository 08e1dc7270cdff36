"""The key table, row by row."""

from __future__ import annotations

import msgspec
import pytest

from forgelog.floor.meaning import WORDS_MOST
from forgelog.work.facts import HeatOver, RestEnded, TakenAnyway, Undone
from tests.floor.recipes import hooks, punches
from tests.floor.shop import Shop


def forged(shop: Shop, component: str = "hook", number: int = 1, *, heats: int = 1) -> None:
    """One step of a piece is forged in so many heats, by the keys."""
    shop.choose(shop.piece(component, number))
    for heat in range(heats):
        if shop.piece(component, number).place == "waiting":
            shop.press("space", 60)
        shop.press("space", 150)
        if heat + 1 < heats:
            shop.press("space", 25)
    shop.press("enter", 25)


def test_space_puts_a_waiting_piece_in_the_fire_and_enter_says_it_wants_a_heat() -> None:
    shop = Shop(hooks())
    assert shop.words("space") == "put it in the fire"
    view = shop.press("enter")
    assert view.message == "it wants a heat first"
    assert shop.piece("hook").place == "waiting"
    shop.press("space")
    assert shop.piece("hook").place == "fire"


def test_space_takes_a_piece_out_of_the_fire_and_enter_says_where_it_is() -> None:
    shop = Shop(hooks())
    shop.press("space")
    assert shop.words("enter") == "it is in the fire"
    shop.press("enter", 100)
    assert shop.piece("hook").place == "fire"
    shop.press("space", 100)
    assert shop.piece("hook").place == "hand"


def test_a_piece_in_hand_goes_back_in_the_fire_by_space_and_counts_a_heat() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.press("space", 150)
    shop.press("space", 25)
    hook = shop.piece("hook")
    assert (hook.place, hook.heats) == ("fire", 1)


def test_a_stretch_of_less_than_three_seconds_is_noted_and_not_counted() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.press("space", 150)
    shop.press("space", 2)
    assert shop.piece("hook").heats == 0
    assert isinstance(shop.presses[-1].facts[0], HeatOver)


def test_enter_in_hand_says_where_the_piece_goes_before_it_is_pressed() -> None:
    shop = Shop(hooks())
    shop.press("space")
    shop.press("space", 150)
    assert shop.words("enter") == "the point is drawn: lay it aside"
    view = shop.press("enter", 25)
    assert shop.piece("hook").place == "waiting"
    assert view.done_words == "THE POINT IS DRAWN"


def test_the_last_of_the_set_goes_back_in_the_fire_because_nobody_waits_for_it() -> None:
    shop = Shop(hooks())
    forged(shop)
    shop.press("space", 60)
    shop.press("space", 150)
    assert shop.words("enter") == "the point is drawn: to the fire"
    shop.press("enter", 25)
    assert shop.piece("hook", 2).place == "fire"
    assert shop.piece("hook", 2).step == 1


def test_a_piece_whose_next_step_is_a_rest_is_let_rest() -> None:
    shop = Shop(hooks(each=1))
    forged(shop)
    shop.press("space", 150)
    assert shop.words("enter") == "the hook is bent: let it rest"
    shop.press("enter", 25)
    hook = shop.piece("hook")
    assert hook.place == "resting"
    assert hook.rest is not None
    assert hook.rest.degc == 480
    assert 60 < hook.rest.needed_s < 400


def test_a_rest_that_is_not_due_asks_and_the_other_key_answers() -> None:
    shop = Shop(hooks(each=1))
    forged(shop)
    shop.press("space", 150)
    shop.press("enter", 25)
    view = shop.press("space", 20)
    assert "short" in view.question
    assert shop.piece("hook").place == "resting"
    shop.press("space", 2)
    assert shop.view().question == ""
    shop.press("space", 2)
    shop.press("enter", 2)
    hook = shop.piece("hook")
    assert hook.place == "waiting"
    assert hook.rests[-1].verdict in ("short", "skipped")
    assert any(isinstance(f, RestEnded) for f in shop.presses[-1].facts)


def test_a_question_lapses_after_ten_seconds_and_the_next_press_skips_no_rest() -> None:
    shop = Shop(hooks(each=1))
    forged(shop)
    shop.press("space", 150)
    shop.press("enter", 25)
    shop.press("space", 20)
    shop.wait(11)
    assert "lapsed" in shop.view().message
    shop.press("enter", 1)
    assert shop.piece("hook").place == "resting"


def test_a_gauge_that_does_not_fit_opens_the_step_before_again() -> None:
    shop = Shop(hooks(each=1))
    forged(shop)
    shop.press("space", 150)
    shop.press("enter", 25)
    shop.wait(600)
    assert shop.view().verb == "GAUGE THE HOOK"
    assert shop.words("enter") == "it fits"
    assert shop.words("space") == "does not fit: the step again"
    shop.press("space", 5)
    hook = shop.piece("hook")
    assert hook.step == 1
    assert hook.reopened
    assert hook.heats == 1


def test_a_gauge_that_fits_goes_on_to_the_bench() -> None:
    shop = Shop(hooks(each=1))
    forged(shop)
    shop.press("space", 150)
    shop.press("enter", 25)
    shop.wait(600)
    shop.press("enter", 5)
    assert shop.words("enter") == "begin: file the tip"
    assert shop.words("space") == "no heat wanted: ENTER begins"
    shop.press("enter", 5)
    assert shop.words("space") == "stop the bench clock"
    shop.press("space", 60)
    assert shop.words("space") == "go on at the bench"
    shop.press("space", 600)
    view = shop.press("enter", 60)
    assert view.finished
    record = shop.piece("hook").done[-1]
    assert record.work_s == pytest.approx(120, abs=1)


def test_the_same_step_is_done_on_all_of_a_set_first() -> None:
    shop = Shop(hooks())
    forged(shop)
    shop.choose(shop.piece("hook"))
    assert shop.words("space").startswith("hook comes first")
    view = shop.press("space", 5)
    assert view.question
    shop.press("enter", 5)
    assert shop.piece("hook").place == "fire"
    assert isinstance(shop.presses[-1].facts[0], TakenAnyway)


def test_normalising_is_out_to_cool_in_one_press_and_enter_says_it_is_in_the_fire() -> None:
    shop = Shop(punches(each=1))
    forged(shop, "punch")
    punch = shop.piece("punch")
    if punch.place == "waiting":
        shop.press("space", 60)
    assert shop.words("space") == "out to cool"
    assert shop.words("enter") == "it is in the fire"
    shop.press("space", 300)
    punch = shop.piece("punch")
    assert punch.place == "resting"
    assert punch.rest is not None
    assert punch.rest.cycle == 1
    assert punch.rest.start_degc == 870


def test_whoever_waits_for_a_rest_that_matters_as_told_has_kept_it_for_certain() -> None:
    shop = Shop(punches(each=1))
    forged(shop, "punch")
    shop.press("space", 60)
    shop.press("space", 300)
    rest = shop.piece("punch").rest
    assert rest is not None
    assert rest.needed_s == rest.high_s
    shop.wait(rest.needed_s)
    shop.press("space", 1)
    kept = shop.piece("punch").rests[-1]
    assert (kept.verdict, kept.counts) == ("ok", True)


def through_normalising(shop: Shop, number: int) -> None:
    """Two cycles, each well rested."""
    for _ in range(2):
        shop.choose(shop.piece("punch", number))
        if shop.piece("punch", number).place != "fire":
            shop.press("space", 60)
        shop.press("space", 300)
        shop.wait(3600)
    shop.choose(shop.piece("punch", number))


def test_harden_locks_the_fire_until_the_temper_is_in_it() -> None:
    shop = Shop(punches())
    forged(shop, "punch", 1)
    forged(shop, "punch", 2)
    through_normalising(shop, 1)
    through_normalising(shop, 2)
    assert all(len(p.rests) + (p.rest is not None) == 2 for p in shop.state.pieces.values())
    shop.choose(shop.piece("punch", 1))
    shop.press("space", 60)
    assert shop.words("space") == "out and into the oil"
    shop.choose(shop.piece("punch", 2))
    assert "harden and temper first" in shop.words("space")
    shop.choose(shop.piece("punch", 1))
    shop.press("space", 300)
    assert shop.words("enter") == "the tip is hard: temper at once"
    assert shop.view().verb == "QUENCH IN OIL"
    shop.press("enter", 30)
    assert shop.view().piece.startswith("PUNCH · 1 of 2")
    assert shop.words("space") == "put it in the fire"
    shop.wait(400)
    assert any("TEMPER waits" in a for a in shop.view().alarms)
    shop.choose(shop.piece("punch", 2))
    assert "harden and temper first" in shop.words("space")


def test_harden_is_refused_while_others_are_in_the_fire() -> None:
    shop = Shop(hooks(each=1), punches(each=1))
    forged(shop, "punch")
    through_normalising(shop, 1)
    shop.choose(shop.piece("hook"))
    shop.press("space", 60)
    shop.choose(shop.piece("punch"))
    assert shop.words("space") == "harden alone: clear the fire first"
    before = len(shop.presses)
    shop.press("space", 5)
    assert len(shop.presses) == before


def test_the_fire_holds_so_many_pieces_and_the_line_says_so() -> None:
    shop = Shop(hooks(each=4), places=2)
    for number in (1, 2):
        shop.choose(shop.piece("hook", number))
        shop.press("space", 5)
    shop.choose(shop.piece("hook", 3))
    assert shop.words("space") == "the fire is full: 2 of 2"


def test_a_piece_in_hand_keeps_its_place_in_the_fire() -> None:
    shop = Shop(hooks(each=4), places=2)
    for number in (1, 2):
        shop.choose(shop.piece("hook", number))
        shop.press("space", 5)
    shop.press("space", 150)
    assert shop.view().fire_title == "FIRE 1 of 2, a place kept"
    shop.press("space", 25)
    assert len([p for p in shop.state.pieces.values() if p.place == "fire"]) == 2


def test_backspace_undoes_presses_one_by_one_back_to_the_start_of_the_session() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    assert shop.words("backspace") == "undo: out of the fire (hook)"
    view = shop.press("backspace", 5)
    assert view.message == "undone: out of the fire (hook)"
    assert shop.piece("hook").place == "fire"
    assert isinstance(shop.presses[-1].facts[0], Undone)
    shop.press("backspace", 5)
    assert shop.piece("hook").place == "waiting"
    assert shop.words("backspace") == "nothing to undo"


def test_an_undo_takes_no_piece_off_the_hot_list() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("enter", 25)
    assert shop.view().hot
    shop.press("backspace", 5)
    shop.press("backspace", 5)
    shop.press("backspace", 5)
    assert shop.piece("hook").place == "waiting"
    assert shop.view().hot


def test_what_was_undone_can_be_put_back_from_the_list() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("space", 25)
    shop.press("backspace", 5)
    assert shop.piece("hook").place == "hand"
    shop.press("enter", 25)
    shop.press("backspace", 5)
    shop.press("tab", 5)
    take(shop, "lay it aside")
    shop.press("backspace", 5)
    assert shop.piece("hook").place == "hand"


def take(shop: Shop, words: str) -> None:
    """TAB through the open list to these words and take them."""
    for _ in range(30):
        if words in shop.words("enter"):
            shop.press("enter", 2)
            return
        shop.press("tab", 1)
    raise AssertionError(f"no choice says {words}")


def else_list(shop: Shop, words: str) -> None:
    """By TAB to the card "something else", open its list, take a choice."""
    for _ in range(12):
        if shop.view().verb == "SOMETHING ELSE":
            break
        shop.press("tab", 1)
    shop.press("enter", 2)
    take(shop, words)


def test_the_same_key_within_its_bounce_is_not_counted_and_says_so() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    view = shop.press("space", 0.4)
    assert "twice" in view.message
    assert shop.piece("hook").place == "fire"
    for _ in range(10):
        shop.press("space", 0.5)
    assert shop.piece("hook").place == "fire"
    shop.press("space", 0.9)
    assert shop.piece("hook").place == "hand"


def test_pause_stops_work_and_nothing_else() -> None:
    shop = Shop(hooks(each=1))
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("p", 10)
    take(shop, "the heat goes on")
    assert shop.view().paused
    assert {k.words for k in shop.view().keys} == {"go on"}
    shop.press("tab", 600)
    shop.press("enter", 20)
    record = shop.piece("hook").done[-1]
    assert record.work_s == pytest.approx(30, abs=5)


def test_a_pause_with_a_piece_in_hand_asks_where_it_lies() -> None:
    shop = Shop(hooks(each=1))
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("p", 20)
    take(shop, "back in the fire")
    assert shop.view().paused
    assert (shop.piece("hook").place, shop.piece("hook").heats) == ("fire", 1)


def test_after_a_power_cut_the_first_question_is_whether_the_fire_burnt_on() -> None:
    shop = cut_off(Shop(hooks()))
    listed = shop.view().list
    assert listed is not None
    assert listed.title == "the power was off: did the fire burn on?"
    shop.press("enter", 2)
    assert shop.piece("hook").place == "fire"
    assert shop.view().fire[0].look
    assert any("LOOK" in words for words in shop.view().alarms)


def test_after_a_power_cut_a_fire_that_went_out_leaves_its_pieces_cooling_in_it() -> None:
    shop = cut_off(Shop(hooks()))
    take(shop, "it went out")
    assert shop.piece("hook").place == "waiting"
    assert shop.piece("hook").where == "in the fire"
    assert shop.view().hot
    assert "fire is out" in shop.words("space")


def cut_off(shop: Shop) -> Shop:
    """A piece in the fire, the power off for ten minutes, and the session gone on with."""
    from forgelog.floor.press import begin
    from forgelog.work.facts import SessionBegan

    shop.press("space", 60)
    shop.at = msgspec.structs.replace(
        shop.at, wall=shop.at.wall + 600, boot="b", steady=1.0, awake=1.0
    )
    shop.seq = 0
    shop.tell(SessionBegan(version="0", session="s2", device="bench", continues="s1"))
    shop.stand = begin(shop.state, shop.now, shop.settings)
    return shop


def test_trouble_in_hand_lists_what_can_be_done() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("tab", 5)
    listed = shop.view().list
    assert listed is not None
    assert listed.choices[:4] == (
        "lay it aside",
        "cut off the burnt end",
        "cracked",
        "scrap it, make another",
    )


def test_a_scrapped_piece_is_made_again_in_the_same_slot_with_a_new_serial() -> None:
    shop = Shop(hooks())
    slot = shop.piece("hook").slot
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("tab", 5)
    take(shop, "scrap it, make another")
    take(shop, "burnt")
    scrapped = shop.piece("hook")
    assert scrapped.place == "scrapped"
    assert scrapped.done[-1].scrapped
    remade = shop.piece("hook", 3)
    assert (remade.slot, remade.serial, remade.remade_from) == (slot, 3, scrapped.id)
    assert "remade" in shop.view().piece or shop.view().piece


def test_the_other_piece_was_in_hand() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.choose(shop.piece("hook", 2))
    shop.press("space", 60)
    shop.choose(shop.piece("hook", 1))
    shop.press("space", 150)
    shop.press("tab", 5)
    take(shop, "it is another piece that I hold")
    shop.press("enter", 2)
    assert shop.piece("hook", 2).place == "hand"
    assert shop.piece("hook", 1).place == "fire"
    shop.press("space", 25)
    assert (shop.piece("hook", 1).heats, shop.piece("hook", 2).heats) == (0, 1)


def test_that_last_heat_was_two_is_put_right_in_two_presses_of_a_list() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("space", 25)
    else_list(shop, "that last heat was two")
    assert shop.piece("hook").heats == 2


def test_a_heat_that_ended_a_minute_ago_loses_a_minute_of_work() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("space", 100)
    else_list(shop, "it ended a minute ago")
    assert shop.piece("hook").work_s == pytest.approx(40, abs=1)


def test_a_step_is_not_done_after_all() -> None:
    shop = Shop(hooks())
    forged(shop, heats=2)
    else_list(shop, "a step is not done after all")
    shop.press("enter", 2)
    hook = shop.piece("hook")
    assert (hook.step, hook.heats, hook.reopened) == (0, 2, True)


def test_steps_done_without_a_heat_pressed_have_unknown_heats() -> None:
    shop = Shop(hooks(each=1))
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("space", 25)
    else_list(shop, "a step is done, heats not pressed")
    shop.press("enter", 2)
    record = shop.piece("hook").done[-1]
    assert record.heats is None


def test_a_piece_held_for_ten_minutes_was_heated_by_somebody_who_pressed_no_key() -> None:
    shop = Shop(hooks(each=1))
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("enter", 600)
    assert shop.piece("hook").done[-1].heats is None


def test_a_missing_tool_blocks_the_first_step_that_needs_it() -> None:
    from forgelog.work.facts import ToolSeen
    from tests.floor.recipes import HOOK, recipe

    with_jig = HOOK.replace(
        'do = "draw the point"', 'do = "draw the point"\n  tools = ["point swage"]'
    )
    shop = Shop(recipe(with_jig))
    shop.tell(ToolSeen(tool="point-swage", state="to be made"))
    assert shop.words("space") == "point swage: to be made"
    view = shop.press("space", 5)
    assert view.question == "point swage: to be made"
    else_list(shop, "a tool is ready")
    take(shop, "point swage: ready")
    shop.choose(shop.piece("hook"))
    assert shop.words("space") == "put it in the fire"


def test_the_end_of_the_day_lays_everything_aside_with_a_word_where() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.press("q", 5)
    take(shop, "box 2")
    assert shop.view().leave
    assert shop.state.ended
    assert shop.piece("hook").place == "waiting"
    assert shop.piece("hook").where == "box 2"


def test_the_end_of_the_day_asks_while_a_hardened_piece_waits_for_its_temper() -> None:
    shop = Shop(punches(each=1))
    forged(shop, "punch")
    through_normalising(shop, 1)
    shop.press("space", 60)
    shop.press("space", 300)
    shop.press("enter", 30)
    shop.press("q", 5)
    take(shop, "box 1")
    assert "not tempered" in shop.view().question
    assert not shop.view().leave
    shop.press("space", 3)
    assert shop.view().leave
    assert shop.piece("punch").place == "waiting"


def test_a_practice_clock_keeps_the_bounce_by_the_smiths_own_watch() -> None:
    from forgelog.floor.settings import FloorSettings

    shop = Shop(hooks(), settings=FloorSettings(practice=20))
    shop.press("space", 60)
    view = shop.press("space", 10)
    assert "twice" in view.message
    shop.press("space", 20)
    assert shop.piece("hook").place == "hand"


@pytest.mark.parametrize("key", ["space", "enter", "tab", "backspace"])
def test_no_key_line_is_longer_than_the_line_holds(key: str) -> None:
    shop = Shop(hooks(), punches())
    for _ in range(40):
        assert len(shop.words(key)) <= WORDS_MOST
        shop.press("tab", 30)
