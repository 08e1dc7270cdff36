"""Flags of pieces that took unusually many or few heats."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.unusual import judge_piece


@pytest.mark.parametrize(
    ("taken", "earlier", "t", "p", "flagged"),
    [
        (8, (4, 4, 5, 4), 2.58, 0.026, True),
        (5, (4, 4, 5, 4), None, 0.512, False),
        (2, (1, 1, 1), None, 0.023, True),
        (9, (3, 3), None, 0.004, True),
    ],
)
def test_the_worked_examples(
    taken: int, earlier: tuple[int, ...], t: float | None, p: float, flagged: bool
) -> None:
    judged = judge_piece(taken, earlier)
    assert judged is not None
    assert judged.p == pytest.approx(p, abs=0.0005)
    assert judged.flagged is flagged
    if t is not None:
        assert judged.t == pytest.approx(t, abs=0.005)


@pytest.mark.parametrize("earlier", [(), (4,)])
def test_fewer_than_two_earlier_pieces_say_nothing(earlier: tuple[int, ...]) -> None:
    assert judge_piece(20, earlier) is None


def test_a_fast_piece_is_flagged_as_well_as_a_slow_one() -> None:
    judged = judge_piece(3, (9, 9, 9, 9))
    assert judged is not None
    assert judged.flagged
    assert judged.t < 0


@given(earlier=st.lists(st.integers(1, 30), min_size=2, max_size=12))
def test_a_piece_less_than_a_whole_heat_from_the_usual_is_never_flagged(earlier: list[int]) -> None:
    for taken in range(1, 31):
        judged = judge_piece(taken, earlier)
        assert judged is not None
        if abs(taken - judged.usual) < 0.999:
            assert not judged.flagged


@given(count=st.integers(2, 12), heats=st.integers(1, 30))
def test_a_piece_like_all_others_is_as_usual_as_can_be(count: int, heats: int) -> None:
    judged = judge_piece(heats, [heats] * count)
    assert judged is not None
    assert judged.p == pytest.approx(1.0)
    assert judged.usual == pytest.approx(heats)
    assert not judged.flagged


@pytest.mark.parametrize(("taken", "earlier"), [(0, (3, 3)), (3, (3, 0))])
def test_counts_below_one_are_refused(taken: int, earlier: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="counted from 1"):
        judge_piece(taken, earlier)
