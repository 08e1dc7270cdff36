"""The guarded rule on made-up problems: every log obeys the rules, and it always ends."""

from __future__ import annotations

import time

import msgspec
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from forgelog.floor.planning.decide import BURNT, choose
from forgelog.floor.planning.going import Going, going_from
from forgelog.floor.planning.play import Played, World, play
from forgelog.floor.planning.problem import Run, Standing, read_problem
from forgelog.floor.planning.rule import BOTH, BY_DATE, EXACT, FLOOR, Care, Rule, Weights
from tests.bench.made_instances import make_instance, make_world
from tests.bench.rivals import one_at_a_time
from tests.floor.planning.judge import judge
from tests.floor.planning.making import Json, bench, figures_of, forge, instance, rest

SIZES = st.sampled_from(("small", "small", "middle"))
SEEDS = st.integers(min_value=1, max_value=100_000)
CARES = st.sampled_from((EXACT, Care()))
LEANINGS = st.sampled_from((Weights(), BY_DATE, BOTH, FLOOR))


def played(data: Json, weights: Weights, care: Care, world: Json | None = None) -> Played:
    """The rule played out from the beginning."""
    figures = figures_of(data)
    truth = msgspec.convert(world, World) if world is not None else None
    return play(Going(figures), Rule(figures, weights, care), truth)


@settings(max_examples=60, deadline=None)
@given(size=SIZES, seed=SEEDS, care=CARES, weights=LEANINGS)
def test_on_planned_durations_every_log_obeys_the_rules_and_nothing_burns(
    size: str, seed: int, care: Care, weights: Weights
) -> None:
    data = make_instance(size, seed)
    got = played(data, weights, care)
    verdict = judge(data, got.actions)
    assert verdict.wrong == []
    assert verdict.burnt == 0
    assert (verdict.makespan_s, verdict.tardiness) == (got.makespan_s, got.tardiness)
    assert (verdict.hands_s, verdict.setups) == (got.hands_s, got.setups)
    assert verdict.laid_aside == got.laid_aside


@settings(max_examples=30, deadline=None)
@given(size=SIZES, seed=SEEDS, chance=SEEDS)
@example(size="middle", seed=93157, chance=9269)
def test_in_a_world_of_chance_every_log_obeys_the_rules(size: str, seed: int, chance: int) -> None:
    data = make_instance(size, seed)
    world = make_world(data, chance)
    got = played(data, Weights(), Care(), world)
    verdict = judge(data, got.actions, world)
    assert verdict.wrong == []
    assert verdict.burnt == got.burnt


@settings(max_examples=25, deadline=None)
@given(
    seed=SEEDS,
    wild=st.fixed_dictionaries(
        {
            "warm": st.floats(0, 1e5),
            "tool": st.floats(0, 1e3),
            "bench": st.floats(-1e5, 1e5),
            "treat": st.floats(-1e5, 1e5),
            "wait": st.floats(0, 1e4),
            "aside": st.floats(0, 1e5),
            "hurry": st.floats(-1e5, 1e5),
            "early": st.floats(-1e5, 1e5),
            "due": st.floats(0, 1e5),
        }
    ),
)
def test_whatever_the_weights_are_it_ends_and_nothing_burns(
    seed: int, wild: dict[str, float]
) -> None:
    data = make_instance("small", seed)
    verdict = judge(data, played(data, Weights(**wild), EXACT).actions)
    assert verdict.wrong == []
    assert verdict.burnt == 0


@settings(max_examples=20, deadline=None)
@given(size=SIZES, seed=SEEDS)
def test_the_cautious_rival_obeys_the_rules_too(size: str, seed: int) -> None:
    data = make_instance(size, seed)
    figures = figures_of(data)
    got = play(Going(figures), Rule(figures, Weights(), EXACT), chooser=one_at_a_time)
    assert judge(data, got.actions).wrong == []


def test_a_week_of_work_is_laid_over_its_days() -> None:
    data = make_instance("large", 11)
    got = played(data, Weights(), Care())
    verdict = judge(data, got.actions)
    assert verdict.wrong == []
    assert verdict.burnt == 0
    assert got.makespan_s > data["day_s"]


def test_chance_burns_little_and_beats_one_piece_at_a_time() -> None:
    burnt, ours, alone = 0, 0, 0
    for n in range(4):
        data = make_instance("middle", 300 + n)
        figures = figures_of(data)
        world = make_world(data, n)
        truth = msgspec.convert(world, World)
        got = played(data, Weights(), Care(), world)
        burnt += got.burnt
        ours += got.makespan_s
        rival = play(Going(figures), Rule(figures, Weights(), Care()), truth, chooser=one_at_a_time)
        alone += rival.makespan_s
    assert burnt <= 2
    assert ours < 0.75 * alone


def test_the_same_present_gives_the_same_deeds() -> None:
    data = make_instance("middle", 5)
    assert played(data, BOTH, Care()).actions == played(data, BOTH, Care()).actions


def test_deciding_leaves_the_present_as_it_is() -> None:
    data = make_instance("middle", 6)
    figures = figures_of(data)
    going = Going(figures)
    going.now = figures.light_s
    # What is not in the fire has no time in it: those three are room to reckon in.
    kept = [n for n in Going.__slots__ if n not in ("figures", "row", "put", "hot", "seen")]
    before = {n: str(getattr(going, n)) for n in kept}
    choose(going, Rule(figures, Weights(), Care()))
    assert {n: str(getattr(going, n)) for n in kept} == before


def test_a_set_up_that_outlasts_the_hold_is_done_before_the_piece_goes_in() -> None:
    data = instance([forge(2, tooling="swage"), forge(3, tooling="dies")])
    got = played(data, Weights(), Care())
    assert judge(data, got.actions).wrong == []
    assert got.laid_aside == 0
    assert got.setups == 2


def test_a_hot_piece_never_waits_for_what_does_not_come() -> None:
    data = instance([forge(4), rest(500), bench(2, 60)], [forge(2, tooling="dies")])
    got = played(data, Weights(), EXACT)
    ends = [a["end"] for a in got.actions if "end" in a]
    starts = [a["t"] for a in got.actions if "end" in a]
    still = [b - a for a, b in zip([0, *ends], starts, strict=False)]
    assert max(still) <= 600 + 80


def test_what_could_burn_during_long_bench_work_is_laid_aside_first() -> None:
    data = instance([forge(1)], [bench(1, 600)])
    figures = figures_of(data)
    run = Run(
        now_s=1000,
        standing={"c1": Standing(put_s=900, hot_s=980)},
    )
    going = going_from(figures, run)
    weights = Weights(bench=1.0e6)
    move = choose(going, Rule(figures, weights, Care()))
    assert move.do == "bench"
    assert move.asides == [0]


def test_a_hot_piece_is_drawn_before_short_bench_work() -> None:
    data = instance([forge(1)], [bench(1, 60)])
    figures = figures_of(data)
    run = Run(now_s=1000, standing={"c1": Standing(put_s=900, hot_s=980)})
    move = choose(going_from(figures, run), Rule(figures, Weights(), Care()))
    assert (move.do, move.i) == ("heat", 0)


def test_the_fire_is_empty_at_its_closing() -> None:
    data = instance([forge(9)] * 1, [forge(9)], [forge(9)], day_s=2000)
    got = played(data, Weights(), EXACT)
    assert judge(data, got.actions).wrong == []


def test_a_decision_is_quick_on_a_large_book() -> None:
    data = make_instance("large", 4)
    figures = figures_of(data)
    took: list[float] = []

    def timed(going: Going, rule: Rule) -> object:
        began = time.perf_counter()
        move = choose(going, rule)
        took.append(time.perf_counter() - began)
        return move

    play(Going(figures), Rule(figures, Weights(), Care()), chooser=timed)  # type: ignore[arg-type]
    took.sort()
    assert took[len(took) * 99 // 100] < 0.05


@pytest.mark.parametrize("data", [None, {}, {"format": 2}])
def test_only_instances_of_format_1_are_read(data: object) -> None:
    with pytest.raises(ValueError, match="format 1"):
        read_problem(data)


def test_needs_that_go_in_a_circle_are_refused() -> None:
    data = instance([forge(1)], [forge(1)])
    components = [p["components"][0] for p in data["orders"][0]["pieces"]]
    components[0]["needs"], components[1]["needs"] = ["c2"], ["c1"]
    with pytest.raises(ValueError, match="circle"):
        figures_of(data)


def test_a_set_up_that_fits_only_to_the_second_is_done_before_the_piece_goes_in() -> None:
    # Hot a little sooner than planned it would burn while the jig is set up: 35 + 60 s beside 90.
    data = instance([forge(2, cold_s=35, hold_s=60, tooling="fork")])
    data["tooling"] = {"fork": {"setup_s": 90}}
    world = {"components": {"c1": [{"hand_s": [25, 25], "soak_pct": [85, 85]}]}}
    got = played(data, Weights(), Care(), world)
    assert judge(data, got.actions, world).wrong == []
    assert got.burnt == 0
    assert next(a["do"] for a in got.actions) == "setup"


def test_what_burns_again_and_again_is_done_by_itself_in_the_end() -> None:
    data = instance([forge(3, hold_s=30)], [forge(4)], [bench(3, 60)])
    figures = figures_of(data)
    going = Going(figures)
    going.burnt[0] = BURNT
    got = play(going, Rule(figures, Weights(), Care()))
    in_fire = 0
    for action in got.actions:
        in_fire += {"put": 1, "heat": -1, "aside": -1, "scrap": -1}.get(str(action["do"]), 0)
        assert in_fire <= 1 or going.finish[0] >= 0
        if action["do"] == "heat" and action["component"] == "c1":
            first = action["t"]
    assert got.burnt == 0
    assert isinstance(first, int)
    assert going.finish[0] < going.finish[1]
