"""What came on the rack and went from it, and how cut lengths came out."""

from __future__ import annotations

import pytest

from forgelog.trade.sections import Section
from forgelog.work.apply import happened
from forgelog.work.bar import Bar
from forgelog.work.changes import CannotBe
from forgelog.work.facts import AnyFact, CutProved, FuelUsed, OffcutKept, OffcutUsed, Press
from forgelog.work.moments import Stamp
from forgelog.work.only import narrowed
from forgelog.work.rack import last_cut, next_label, rack_now
from forgelog.work.state import State

TWELVE = Section(kind="square", a_mm=12.0)
TEN = Section(kind="square", a_mm=10.0)
BARS = (
    Bar(section=TWELVE, long_mm=6000.0, count=2),
    Bar(section=TWELVE, long_mm=340.0, label="B2", offcut=True),
    Bar(section=TWELVE, long_mm=120.0, label="B3", count=2, offcut=True),
)


def after(*facts: AnyFact) -> State:
    return happened(State(), facts)


def labels(*facts: AnyFact) -> list[tuple[str, int]]:
    return [(bar.label, bar.count) for bar in rack_now(BARS, after(*facts))]


def kept(label: str, long_mm: float = 200.0) -> OffcutKept:
    return OffcutKept(label=label, section=TWELVE, long_mm=long_mm)


def test_a_kept_offcut_lies_behind_what_the_smith_wrote_down() -> None:
    lies = rack_now(BARS, after(kept("K1")))
    assert lies[:3] == BARS
    assert lies[3] == Bar(section=TWELVE, long_mm=200.0, label="K1", offcut=True)


def test_an_offcut_used_up_is_gone_whether_the_smith_or_a_fact_put_it_there() -> None:
    assert labels(kept("K1"), OffcutUsed(label="K1")) == labels()
    assert labels(OffcutUsed(label="B2")) == [("", 2), ("B3", 2)]


def test_of_several_under_one_label_one_goes_at_a_time() -> None:
    once = OffcutUsed(label="B3")
    assert labels(once) == [("", 2), ("B2", 1), ("B3", 1)]
    assert labels(once, once) == [("", 2), ("B2", 1)]
    assert labels(once, once, once) == [("", 2), ("B2", 1)]


def test_a_rest_of_an_offcut_can_keep_its_label_once_the_whole_is_used_up() -> None:
    lies = rack_now(BARS, after(OffcutUsed(label="B2"), kept("B2", 90.0)))
    assert [bar.long_mm for bar in lies if bar.label == "B2"] == [90.0]


def test_two_offcuts_never_bear_one_label() -> None:
    with pytest.raises(CannotBe, match="K1 on the rack already"):
        after(kept("K1"), kept("K1"))
    with pytest.raises(CannotBe, match="a label and a length"):
        after(kept("K1", 0.0))


def test_whole_bars_are_never_taken_off_by_an_offcut_of_that_label() -> None:
    bars = (Bar(section=TWELVE, long_mm=6000.0, label="B2"),)
    assert rack_now(bars, after(OffcutUsed(label="B2"))) == bars


def test_a_proposed_label_was_never_borne() -> None:
    assert next_label(BARS, State()) == "K1"
    assert next_label(BARS, after(kept("K1"), OffcutUsed(label="K1"))) == "K2"
    assert next_label((*BARS, Bar(section=TWELVE, long_mm=1.0, label="k7")), State()) == "K8"


def test_a_piece_that_came_out_short_is_cut_longer_next_time() -> None:
    state = after(
        CutProved(
            recipe="hook",
            component="stem",
            cut_mm=115.0,
            over_mm=-6.0,
            section=TWELVE,
            asked_mm=115.0,
        ),
        CutProved(
            recipe="hook", component="plate", cut_mm=90.0, over_mm=2.0, section=TEN, asked_mm=90.0
        ),
    )
    stem = last_cut(state, "hook", "stem", TWELVE, 115.0)
    assert stem is not None
    assert stem.try_mm == 121.0
    plate = last_cut(state, "hook", "plate", TEN, 90.0)
    assert plate is not None
    assert plate.try_mm == 88.0


def test_the_newest_proof_counts_and_one_of_another_bar_does_not() -> None:
    first = CutProved(
        recipe="hook", component="stem", cut_mm=115.0, over_mm=-6.0, section=TWELVE, asked_mm=115.0
    )
    again = CutProved(recipe="hook", component="stem", cut_mm=121.0, section=TWELVE, asked_mm=115.0)
    state = after(first, again)
    stem = last_cut(state, "hook", "stem", TWELVE, 115.0)
    assert stem is not None
    assert stem.try_mm == 121.0
    assert last_cut(state, "hook", "stem", TEN, 115.0) is None
    assert last_cut(state, "nail", "stem", TWELVE, 115.0) is None


def test_a_length_proved_at_other_sizes_says_nothing() -> None:
    state = after(
        CutProved(recipe="hook", component="stem", cut_mm=115.0, section=TWELVE, asked_mm=115.0)
    )
    assert last_cut(state, "hook", "stem", TWELVE, 115.8) is not None
    assert last_cut(state, "hook", "stem", TWELVE, 150.0) is None


def test_a_cut_that_leaves_nothing_cannot_be() -> None:
    with pytest.raises(CannotBe, match="above 0"):
        after(CutProved(recipe="hook", component="stem", cut_mm=10.0, over_mm=10.0))


def test_fuel_said_again_replaces_what_was_said() -> None:
    first = FuelUsed(session="s", kg=4.0, fire="gas", before_kg=20.0, after_kg=16.0)
    state = after(first, FuelUsed(session="s", kg=3.5, fire="gas"), FuelUsed(session="t", kg=9.0))
    assert {session: burnt.kg for session, burnt in state.fuel.items()} == {"s": 3.5, "t": 9.0}
    assert state.fuel["s"].before_kg is None
    with pytest.raises(CannotBe, match="more than nothing"):
        after(FuelUsed(session="s", kg=0.0))


def test_what_lies_on_the_rack_is_known_whichever_orders_are_open() -> None:
    facts = (
        kept("K1"),
        FuelUsed(session="s", kg=1.0),
        CutProved(recipe="r", component="c", cut_mm=1.0),
    )
    press = Press(seq=1, at=Stamp(wall=0.0, steady=0.0, awake=0.0, boot="b"), facts=facts)
    assert narrowed(press, ()) == press
