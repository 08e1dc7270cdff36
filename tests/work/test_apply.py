"""One place where a fact changes the state."""

from __future__ import annotations

import msgspec
import pytest

from forgelog.work.apply import CannotBe, apply
from forgelog.work.facts import (
    FireLit,
    HeatsCorrected,
    OrderTaken,
    Press,
    PutInFire,
    SessionBegan,
    StepFinished,
    TakenOut,
)
from forgelog.work.fold import applied, fold, in_order
from forgelog.work.moments import Stamp
from tests.floor.recipes import hooks
from tests.floor.shop import EIGHT, Shop
from tests.floor.test_keys import forged


class Lines(msgspec.Struct, frozen=True, kw_only=True):
    """One file of the journal, as the fold reads it."""

    header: SessionBegan | None
    presses: tuple[Press, ...]


def file_of(shop: Shop) -> Lines:
    """The session of a shop as a file."""
    header = shop.presses[0].facts[0]
    assert isinstance(header, SessionBegan)
    return Lines(header=header, presses=tuple(shop.presses))


def without_way_back(shop_state: object) -> object:
    return msgspec.structs.replace(shop_state, before=None, undone=())  # type: ignore[type-var]


def test_a_fact_that_cannot_have_happened_changes_nothing() -> None:
    shop = Shop(hooks())
    hook = shop.piece("hook").id
    before = shop.state
    with pytest.raises(CannotBe, match="waiting"):
        shop.tell(TakenOut(workpiece=hook))
    assert shop.state is before


def test_the_facts_of_one_press_stand_or_fall_together() -> None:
    shop = Shop(hooks())
    hook = shop.piece("hook").id
    with pytest.raises(CannotBe):
        shop.tell(PutInFire(workpiece=hook), PutInFire(workpiece=hook))
    assert shop.piece("hook").place == "waiting"


def test_reading_the_journal_again_gives_the_state_that_the_screen_showed() -> None:
    shop = Shop(hooks())
    forged(shop, heats=2)
    shop.press("backspace", 5)
    shop.press("space", 5)
    again = fold([file_of(shop)])
    assert without_way_back(again) == without_way_back(shop.state)


def test_the_same_finish_told_by_two_laptops_counts_once() -> None:
    shop = Shop(hooks())
    forged(shop)
    hook = shop.piece("hook")
    shop.tell(StepFinished(workpiece=hook.id, step=hook.done[0].step))
    assert shop.piece("hook") == hook


def test_a_contradiction_needs_seeing_to_and_hides_nothing_after_it() -> None:
    shop = Shop(hooks())
    hook = shop.piece("hook").id
    wrong = Press(seq=90, at=shop.at, facts=(TakenOut(workpiece=hook),))
    right = Press(seq=91, at=shop.at, facts=(PutInFire(workpiece=hook),))
    state = applied(applied(shop.state, wrong), right)
    assert len(state.troubles) == 1
    assert "waiting" in state.troubles[0].words
    assert state.pieces[hook].place == "fire"


def session(name: str, wall: float, *, seen: dict[str, int] | None = None) -> Lines:
    """A short session of another laptop."""
    began = SessionBegan(version="0", session=name, device=name, kind="desk", seen=seen or {})
    at = Stamp(wall=wall, steady=1.0, awake=1.0, boot=name)
    taken = OrderTaken(order=f"order-{name}", label=name, title=name, recipe="r")
    return Lines(
        header=began,
        presses=(Press(seq=0, at=at, facts=(began,)), Press(seq=1, at=at, facts=(taken,))),
    )


def test_files_fold_in_the_order_of_what_they_have_seen_then_of_the_wall_clock() -> None:
    early = session("early", EIGHT)
    late = session("late", EIGHT + 50)
    slow_clock = session("slow", EIGHT - 500, seen={"late": 1})
    for files in ([early, late, slow_clock], [slow_clock, late, early], [late, slow_clock, early]):
        names = [f.header.session for f in in_order(files) if f.header]
        assert names == ["early", "late", "slow"]


def test_a_circle_of_what_was_seen_is_cut_and_not_lost() -> None:
    a = session("a", EIGHT, seen={"b": 1})
    b = session("b", EIGHT + 5, seen={"a": 1})
    assert len(fold([a, b]).orders) == 2


def test_heats_put_right_afterwards_change_the_record_and_are_marked() -> None:
    shop = Shop(hooks())
    forged(shop)
    hook = shop.piece("hook")
    shop.tell(HeatsCorrected(workpiece=hook.id, step=hook.done[0].step, heats=4))
    record = shop.piece("hook").done[0]
    assert (record.heats, record.corrected) == (4, True)
    assert shop.piece("hook").heats_all == 4


def test_undo_reaches_into_the_session_that_this_one_continues() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    header = SessionBegan(version="0", session="s2", device="bench", continues="s1")
    at = msgspec.structs.replace(shop.at, wall=shop.at.wall + 300, boot="b", steady=1.0, awake=1.0)
    shop.at, shop.seq = at, 0
    shop.tell(header)
    assert shop.piece("hook").place == "fire"
    assert shop.words("backspace").startswith("undo: into the fire")
    shop.press("backspace", 5)
    assert shop.piece("hook").place == "waiting"


def test_the_hours_between_two_sessions_are_never_work() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    shop.wait(7200)
    shop.seq = 0
    worked_s = shop.state.moment.work_s
    shop.tell(SessionBegan(version="0", session="s2", device="bench", continues="s1"))
    assert shop.state.moment.work_s == worked_s
    assert shop.state.moment.rest_s > EIGHT + 7200


def test_a_piece_in_hand_on_another_laptop_keeps_nobody_from_taking_one_out() -> None:
    shop = Shop(hooks(), hooks())
    shop.press("space", 60)
    shop.press("space", 150)
    other = SessionBegan(version="0", session="s2", device="other", orders=("o2",))
    shop.seq = 0
    shop.tell(other)
    shop.tell(FireLit(places=3, orders=("o2",)))
    hook = next(p.id for p in shop.state.pieces.values() if p.order == "o2")
    shop.tell(PutInFire(workpiece=hook))
    shop.tell(TakenOut(workpiece=hook))
    assert shop.state.pieces[hook].place == "hand"


def test_a_new_session_finds_nothing_in_the_fire_once_it_is_lit() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    shop.tell(FireLit(places=3))
    assert shop.piece("hook").place == "waiting"


def test_a_press_is_kept_as_the_facts_that_made_it() -> None:
    shop = Shop(hooks())
    shop.press("space", 60)
    data = msgspec.json.encode(shop.presses[-1])
    assert msgspec.json.decode(data, type=Press) == shop.presses[-1]
    assert apply(shop.state, Press(seq=50, at=shop.at, facts=())).press == 50
