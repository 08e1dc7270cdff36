"""The search for a whole day's plan."""

from __future__ import annotations

import pytest

from forgelog.floor.planning.going import Going
from forgelog.floor.planning.play import play
from forgelog.floor.planning.rule import EXACT, Rule, Weights
from forgelog.floor.planning.search import Series, search
from tests.bench.made_instances import make_instance
from tests.floor.planning.judge import judge
from tests.floor.planning.making import figures_of


@pytest.mark.parametrize("goal", ["makespan", "tardiness"])
def test_a_plan_is_no_worse_than_the_rule_and_obeys_the_rules(goal: str) -> None:
    for seed in (31, 32, 33):
        data = make_instance("small", seed)
        figures = figures_of(data)
        rule = play(Going(figures), Rule(figures, Weights(), EXACT))
        plan = search(figures, goal=goal, trials=80)
        verdict = judge(data, plan.played.actions)
        assert verdict.wrong == []
        assert verdict.burnt == 0
        if goal == "makespan":
            assert plan.played.makespan_s <= rule.makespan_s
        else:
            assert plan.played.tardiness <= rule.tardiness


def test_more_trials_are_never_worse() -> None:
    figures = figures_of(make_instance("small", 34))
    few, many = (search(figures, trials=n).played.makespan_s for n in (40, 160))
    assert many <= few


def test_the_same_seed_gives_the_same_plan() -> None:
    figures = figures_of(make_instance("small", 35))
    one, two = (search(figures, trials=60, seed=7) for _ in range(2))
    assert one.weights == two.weights
    assert one.played.actions == two.played.actions


def test_the_trials_are_counted() -> None:
    figures = figures_of(make_instance("small", 36))
    assert search(figures, trials=25).trials == 25


def test_a_plan_can_begin_in_the_middle_of_the_work() -> None:
    figures = figures_of(make_instance("small", 37))
    going = Going(figures)
    play(going, Rule(figures, Weights(), EXACT), stop_s=2500)
    left = len(going.live)
    plan = search(figures, going, trials=30)
    assert left == len(going.live)
    assert plan.played.makespan_s > 2500


def test_an_unknown_goal_is_refused() -> None:
    with pytest.raises(ValueError, match="makespan"):
        search(figures_of(make_instance("small", 1)), goal="beauty")


def test_the_series_fills_its_range_evenly() -> None:
    series = Series(3)
    counts = [0] * 10
    for _ in range(5000):
        counts[series.below(10)] += 1
    assert min(counts) > 400
    assert abs(sum(series.about(1.0) for _ in range(5000)) / 5000) < 0.1
