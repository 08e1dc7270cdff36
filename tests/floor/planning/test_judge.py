"""The judge of logs finds each kind of broken rule; a judge that never objects is no judge."""

from __future__ import annotations

import copy
from collections.abc import Callable

import pytest

from forgelog.floor.planning.going import Going
from forgelog.floor.planning.play import play
from forgelog.floor.planning.rule import EXACT, Rule, Weights
from tests.floor.planning.judge import judge
from tests.floor.planning.making import Json, bench, figures_of, forge, instance, rest

Break = Callable[[list[Json]], None]


def data() -> Json:
    return instance(
        [forge(2, tooling="swage"), rest(400), bench(1, 60)],
        [forge(3)],
        places=2,
    )


def good() -> list[Json]:
    figures = figures_of(data())
    got = play(Going(figures), Rule(figures, Weights(), EXACT))
    return copy.deepcopy(got.actions)


def first(log: list[Json], do: str) -> int:
    return next(n for n, a in enumerate(log) if a["do"] == do)


def shift(log: list[Json], n: int, by: int) -> None:
    log[n]["t"] += by
    if "end" in log[n]:
        log[n]["end"] += by


def drawn_cold(log: list[Json]) -> None:
    shift(log, first(log, "heat"), -30)


def too_short(log: list[Json]) -> None:
    log[first(log, "heat")]["end"] -= 1


def no_set_up(log: list[Json]) -> None:
    del log[first(log, "setup")]


def rest_cut(log: list[Json]) -> None:
    shift(log, first(log, "bench"), -100)


def left_out(log: list[Json]) -> None:
    del log[first(log, "bench")]


def fire_not_lit(log: list[Json]) -> None:
    shift(log, first(log, "put"), -300)


def put_twice(log: list[Json]) -> None:
    n = first(log, "put")
    log.insert(n, dict(log[n]))


def unknown(log: list[Json]) -> None:
    log.append({"t": log[-1]["t"], "do": "sing"})


def burnt(log: list[Json]) -> None:
    for action in log:
        if action["t"] > log[first(log, "put")]["t"]:
            action["t"] += 500
            if "end" in action:
                action["end"] += 500


BREAKS = (
    drawn_cold,
    too_short,
    no_set_up,
    rest_cut,
    left_out,
    fire_not_lit,
    put_twice,
    unknown,
    burnt,
)


def test_a_good_log_has_nothing_wrong() -> None:
    assert judge(data(), good()).wrong == []


@pytest.mark.parametrize("breaks", BREAKS, ids=lambda b: b.__name__)
def test_a_broken_rule_is_found(breaks: Break) -> None:
    log = good()
    breaks(log)
    assert judge(data(), log).wrong


def test_two_things_in_hand_are_found() -> None:
    log = good()
    heats = [n for n, a in enumerate(log) if a["do"] == "heat"]
    log[heats[1]]["t"] = log[heats[0]]["t"]
    log[heats[1]]["end"] = log[heats[0]]["end"]
    assert any("two things" in w for w in judge(data(), log).wrong)


def test_too_many_in_the_fire_are_found() -> None:
    small = data()
    small["fire"]["places"] = 1
    assert any("in a fire of 1" in w for w in judge(small, good()).wrong)
