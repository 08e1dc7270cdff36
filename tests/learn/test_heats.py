"""The learning rule of heats, row by row, and what must hold whatever the records."""

from __future__ import annotations

import math
import random
import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.learn.heats import HeatRecord, StepKey, learn_heats, whole_heats
from forgelog.learn.rule import MOST_RECORDS

DRAW: StepKey = ("hinge", "strap", "draw", "hand")
TENON: StepKey = ("hinge", "pintle", "tenon", "hand")
SCROLL: StepKey = ("bracket", "bar", "scroll", "hand")


def _records(step: StepKey, *pairs: tuple[int, int]) -> list[HeatRecord]:
    return [HeatRecord(step=step, taken=taken, planned=planned) for taken, planned in pairs]


# Worked out by hand from the rule before there was a program.
ROWS = [
    ([], DRAW, 4, 4.00, (1.47, 10.90), (4, 1, 11), 0),
    (_records(DRAW, (6, 4)), DRAW, 4, 5.71, (3.54, 9.22), (6, 4, 9), 1),
    (_records(DRAW, (6, 4), (5, 4), (5, 4)), DRAW, 4, 5.22, (3.61, 7.55), (5, 4, 8), 3),
    (
        _records(DRAW, (6, 4), (5, 4)) + _records(TENON, (3, 2), (3, 2)),
        SCROLL,
        5,
        6.39,
        (2.89, 14.13),
        (6, 3, 14),
        0,
    ),
    (
        _records(DRAW, (4, 4), (4, 4), (12, 4), (4, 4), (4, 4)),
        DRAW,
        4,
        4.62,
        (2.87, 7.43),
        (5, 3, 7),
        5,
    ),
]


@pytest.mark.parametrize(("records", "step", "planned", "centre", "ends", "shown", "count"), ROWS)
def test_the_rule_gives_the_row_of_the_table(
    records: list[HeatRecord],
    step: StepKey,
    planned: int,
    centre: float,
    ends: tuple[float, float],
    shown: tuple[int, int, int],
    count: int,
) -> None:
    heats = learn_heats(records).ask(step, planned)
    assert heats.centre == pytest.approx(centre, abs=0.0051)
    assert (heats.low, heats.high) == pytest.approx(ends, abs=0.0051)
    assert (heats.shown, heats.shown_low, heats.shown_high) == shown
    assert heats.records == count


def test_the_rule_is_the_plain_sums_written_out() -> None:
    """A second, slow writing of the rule, one record at a time, must give the same figures."""
    rng = random.Random(31)
    records = [
        HeatRecord(step=rng.choice((DRAW, TENON, SCROLL)), taken=rng.randint(1, 12), planned=4)
        for _ in range(40)
    ]
    learnt = learn_heats(records)
    for step in (DRAW, TENON, SCROLL):
        centre, reach = _slow_rule(records, step)
        heats = learnt.ask(step, 4)
        assert heats.centre == pytest.approx(4 * math.exp(centre), rel=1e-9)
        assert heats.high == pytest.approx(4 * math.exp(centre + reach), rel=1e-9)


def _slow_rule(records: list[HeatRecord], asked: StepKey) -> tuple[float, float]:
    from forgelog.learn.student import quantile_90

    rows = []
    for i, record in enumerate(records):
        younger = sum(1 for r in records[i + 1 :] if r.step == record.step)
        rows.append((record.step, math.log(record.taken / record.planned), 0.90**younger))
    steps = {r.step for r in records}
    s, g, own = 0.25, 0.0, dict.fromkeys(steps, 0.0)
    weights = [age for _, _, age in rows]
    for _ in range(20):
        n = {k: sum(w for (j, _, _), w in zip(rows, weights, strict=True) if j == k) for k in steps}
        m = {
            k: sum(w * y for (j, y, _), w in zip(rows, weights, strict=True) if j == k) / n[k]
            for k in steps
        }
        v = {k: 0.45**2 + s**2 / n[k] for k in steps}
        precision = 1 / 0.50**2 + sum(1 / v[k] for k in steps)
        g = sum(m[k] / v[k] for k in steps) / precision
        own = {k: 0.45**2 / v[k] * (m[k] - g) for k in steps}
        df = 8 + max(0.0, sum(weights) - len(steps))
        squares = sum(w * (y - m[k]) ** 2 for (k, y, _), w in zip(rows, weights, strict=True))
        s = math.sqrt((8 * 0.25**2 + squares) / df)
        weights = [age * min(1.0, 2 * s / max(abs(y - g - own[k]), 1e-12)) for k, y, age in rows]
    b = 0.45**2 / v[asked]
    var = 0.45**2 * (1 - b) + (1 - b) ** 2 / precision
    return g + own[asked], quantile_90(df) * math.sqrt(var + s**2)


def test_the_same_step_by_hammer_is_another_step() -> None:
    power = (*DRAW[:3], "power")
    learnt = learn_heats(_records(DRAW, *[(8, 4)] * 6) + _records(power, *[(2, 2)] * 6))
    assert learnt.ask(DRAW, 4).shown == 8
    assert learnt.ask(power, 2).shown == 2
    assert learnt.ask(power, 2).records == 6


def test_the_youngest_pieces_weigh_most() -> None:
    better = learn_heats(_records(DRAW, *[(8, 4)] * 5, *[(4, 4)] * 5)).ask(DRAW, 4)
    worse = learn_heats(_records(DRAW, *[(4, 4)] * 5, *[(8, 4)] * 5)).ask(DRAW, 4)
    assert better.centre < worse.centre


def test_one_odd_piece_pulls_less_than_the_plain_mean_would() -> None:
    with_odd = learn_heats(_records(DRAW, *[(4, 4)] * 4, (24, 4))).ask(DRAW, 4)
    plain_mean = 4 * math.exp(math.log(6) / 5)
    assert with_odd.centre < plain_mean


def test_a_plan_that_was_changed_keeps_what_was_learnt() -> None:
    before = learn_heats(_records(DRAW, *[(6, 4)] * 3))
    assert before.ask(DRAW, 8).centre == pytest.approx(2 * before.ask(DRAW, 4).centre)


def test_whole_heats_are_rounded_with_halves_up_and_never_to_none() -> None:
    assert [whole_heats(h) for h in (0.01, 0.5, 1.49, 1.5, 2.5, 3.4999)] == [1, 1, 1, 2, 3, 3]


@pytest.mark.parametrize(("taken", "planned"), [(0, 4), (3, 0), (-1, 2)])
def test_counts_below_one_are_refused(taken: int, planned: int) -> None:
    with pytest.raises(ValueError, match="counted from 1"):
        learn_heats(_records(DRAW, (taken, planned)))
    with pytest.raises(ValueError, match="1 or more"):
        learn_heats([]).ask(DRAW, 0)


_steps = st.sampled_from((DRAW, TENON, SCROLL))
_some = st.lists(
    st.builds(HeatRecord, step=_steps, taken=st.integers(1, 60), planned=st.integers(1, 40)),
    max_size=30,
)


@given(records=_some, step=_steps, planned=st.integers(1, 40))
def test_the_ends_are_in_order_and_never_below_one_heat(
    records: list[HeatRecord], step: StepKey, planned: int
) -> None:
    heats = learn_heats(records).ask(step, planned)
    assert 0.0 < heats.low < heats.centre < heats.high < math.inf
    assert 1 <= heats.shown_low <= heats.shown <= heats.shown_high
    assert heats.records == sum(r.step == step for r in records)


@given(records=_some, step=_steps)
def test_a_larger_plan_never_asks_for_fewer_heats(records: list[HeatRecord], step: StepKey) -> None:
    learnt = learn_heats(records)
    shown = [learnt.ask(step, planned).shown for planned in range(1, 20)]
    assert shown == sorted(shown)


@given(records=_some, planned=st.integers(1, 12), data=st.data())
def test_other_steps_in_between_change_nothing(
    records: list[HeatRecord], planned: int, data: st.DataObject
) -> None:
    """Only the order within a step counts, so sorting by step must give the same."""
    by_step = sorted(records, key=lambda r: r.step)
    step = data.draw(_steps)
    one = learn_heats(records).ask(step, planned)
    other = learn_heats(by_step).ask(step, planned)
    assert one.centre == pytest.approx(other.centre, rel=1e-9)


@given(taken=st.integers(1, 40), planned=st.integers(1, 40), count=st.integers(1, 40))
def test_many_equal_pieces_bring_the_centre_to_what_they_took(
    taken: int, planned: int, count: int
) -> None:
    centre = learn_heats(_records(DRAW, *[(taken, planned)] * count)).ask(DRAW, planned).centre
    assert min(taken, planned) - 1e-9 <= centre <= max(taken, planned) + 1e-9


@pytest.mark.skipif(sys.gettrace() is not None, reason="a tracer slows every line")
def test_ten_thousand_records_are_learnt_at_once() -> None:
    rng = random.Random(7)
    records = [
        HeatRecord(
            step=("r", "c", f"s{rng.randrange(300)}", "hand"),
            taken=rng.randint(1, 12),
            planned=rng.randint(1, 6),
        )
        for _ in range(10_000)
    ]
    best_s = math.inf
    for _ in range(5):
        began = time.process_time()
        learn_heats(records)
        best_s = min(best_s, time.process_time() - began)
    assert best_s < 0.100


def test_the_last_records_of_each_step_and_their_count_teach_what_all_of_them_do() -> None:
    rng = random.Random(11)
    records = [
        HeatRecord(
            step=rng.choice((DRAW, TENON)),
            taken=rng.randint(2, 8),
            planned=4,
            run=rng.randint(1, 6),
        )
        for _ in range(200)
    ]
    last = [
        r
        for step in (DRAW, TENON)
        for r in [one for one in records if one.step == step][-MOST_RECORDS:]
    ]
    counts = {step: sum(r.step == step for r in records) for step in (DRAW, TENON)}
    whole, kept = learn_heats(records), learn_heats(last, counts)
    for step in (DRAW, TENON):
        one, other = kept.ask(step, 4, 1), whole.ask(step, 4, 1)
        assert one.high == pytest.approx(other.high, rel=1e-9)
        assert one.records == other.records == counts[step]
