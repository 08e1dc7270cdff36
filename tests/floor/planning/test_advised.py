"""Ranked advice and its reasons."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.floor.planning.advised import advise_next, minutes, rank
from forgelog.floor.planning.going import Going
from forgelog.floor.planning.play import play
from forgelog.floor.planning.problem import Run, Standing, read_problem
from forgelog.floor.planning.rule import BOTH, Care, Rule
from tests.bench.made_instances import make_instance
from tests.floor.planning.making import bench, figures_of, forge, instance, rest


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(1, 10_000), stop=st.integers(0, 9000))
def test_reasons_have_at_most_six_words_and_nothing_is_named_twice(seed: int, stop: int) -> None:
    figures = figures_of(make_instance("middle", seed))
    rule = Rule(figures, BOTH, Care())
    going = Going(figures)
    play(going, rule, stop_s=stop)
    for i in going.fire:
        going.seen[i] = going.seen[i] or going.hot[i] <= going.now
    found = rank(going, rule)
    assert all(1 <= len(a.why.split()) <= 6 for a in found)
    assert len({(a.do, a.component) for a in found}) == len(found)


def test_a_hot_piece_comes_first() -> None:
    problem = read_problem(instance([forge(3)], [forge(3)]))
    run = Run(now_s=1000, standing={"c2": Standing(put_s=900, hot_s=985)})
    found = advise_next(problem, run)
    # Another goes in first where there is room for it: that takes no time.
    assert [(a.do, a.component) for a in found[:2]] == [("put", "c1"), ("heat", "c2")]
    full = read_problem(instance([forge(3)], [forge(3)], places=1))
    best = advise_next(full, run)[0]
    assert (best.do, best.component, best.why) == ("heat", "c2", "hot now")


def test_a_jig_that_is_set_is_a_reason() -> None:
    problem = read_problem(instance([forge(3, tooling="swage")], [forge(3, tooling="dies")]))
    run = Run(now_s=1000, tooling="swage")
    best = advise_next(problem, run)[0]
    assert (best.do, best.component, best.why) == ("put", "c1", "jig is set")


def test_the_last_of_a_set_is_a_reason() -> None:
    data = instance([forge(1), rest(100), bench(1, 60)], [forge(1), rest(100), bench(1, 60)])
    for piece in data["orders"][0]["pieces"]:
        piece["components"][0]["set"] = "hook"
    data["orders"][0]["due_s"] = 90_000
    run = Run(now_s=1000, standing={"c1": Standing(step=2, end_s=900)})
    found = advise_next(read_problem(data), run)
    assert ("put", "c2", "last of the set") in [(a.do, a.component, a.why) for a in found]


def test_what_rests_is_not_advised() -> None:
    problem = read_problem(instance([forge(1), rest(500), bench(1, 60)], [forge(2)]))
    resting = Run(now_s=1000, standing={"c1": Standing(step=1, end_s=900)})
    assert "c1" not in {a.component for a in advise_next(problem, resting)}
    rested = Run(now_s=1400, standing={"c1": Standing(step=1, end_s=900)})
    assert "c1" in {a.component for a in advise_next(problem, rested)}


def test_nothing_is_put_beside_a_locked_treatment() -> None:
    part = {"name": "harden", "soak_s": 200, "hand_s": 20, "air_s": 100, "slack_s": 200}
    last = {"name": "temper", "soak_s": 200, "hand_s": 20, "air_s": 0, "slack_s": 0}
    treat = {"kind": "treat", "name": "treat", "parts": [part, last]}
    problem = read_problem(instance([treat], [forge(2)], [bench(2, 60)]))
    run = Run(now_s=1000, standing={"c1": Standing(done=1, end_s=990)})
    found = advise_next(problem, run)
    assert [(a.do, a.component) for a in found] == [("bench", "c3")]


def test_minutes_are_whole_or_seconds() -> None:
    assert minutes(59.9) == "59 s"
    assert minutes(60) == "1 min"
