"""From the floor as it stands to the planning problem, and the advice that comes of it."""

from __future__ import annotations

from datetime import date

import msgspec

from forgelog.floor import acts
from forgelog.floor.advice import advise, due_words
from forgelog.floor.planning.day_plan import plan_days
from forgelog.floor.planning.from_state import floor_problem
from forgelog.floor.planning.going import Figures, going_from
from forgelog.floor.planning.piece_steps import NOW_S
from forgelog.floor.planning.play import play
from forgelog.floor.planning.problem import Bench, Forge, Rest, Treat
from forgelog.floor.planning.rule import EXACT, FLOOR, Care, Rule, Weights
from forgelog.floor.planning.soaks import heat_times
from forgelog.floor.settings import LearntHeats
from forgelog.floor.sums import look_s
from forgelog.trade.sections import Section
from forgelog.work.apply import settle
from forgelog.work.state import FIRE, RESTING
from tests.floor.recipes import hooks, punches
from tests.floor.shop import RECIPES, Shop, recipe_of_file


def problem_of(shop: Shop):  # type: ignore[no-untyped-def]
    """The problem of a shop."""
    return floor_problem(shop.state, shop.now, shop.settings)


def test_every_live_piece_is_a_component_with_its_steps() -> None:
    shop = Shop(hooks(2))
    floor = problem_of(shop)
    (order,) = floor.problem.orders
    assert len(order.pieces) == 2
    steps = order.pieces[0].components[0].steps
    assert [type(s) for s in steps] == [Forge, Forge, Rest, Bench, Bench]
    assert steps[0].heats == 2
    assert steps[1].heats == 1
    assert 0 < steps[0].reheat_s < steps[0].cold_s


def test_learnt_heats_outrank_the_recipe() -> None:
    shop = Shop(hooks(1))
    recipe_id = shop.state.orders["o1"].pins[0].id
    step = shop.state.orders["o1"].pins[0].components[0].steps[0]
    learnt = {(recipe_id, "hook", step.id, "hand"): LearntHeats(heats=5, low=4, high=6, records=9)}
    shop.settings = msgspec.structs.replace(shop.settings, learnt=learnt)
    steps = problem_of(shop).problem.orders[0].pieces[0].components[0].steps
    assert steps[0].heats == 5


def test_harden_and_temper_are_one_locked_treatment() -> None:
    steps = problem_of(Shop(punches(1))).problem.orders[0].pieces[0].components[0].steps
    treats = [s for s in steps if isinstance(s, Treat)]
    assert len(treats) == 1
    assert len(treats[0].parts) == 2


def test_a_piece_in_the_fire_is_hot_when_the_floor_says_look() -> None:
    shop = Shop(hooks(1))
    hook = shop.piece("hook")
    shop.tell(*acts.put_in(shop.state, hook, shop.now))
    hook = shop.piece("hook")
    assert hook.place == FIRE
    look = look_s(shop.state, hook, shop.settings)
    shop.wait(look - 2)
    assert problem_of(shop).run.standing[hook.id].hot_s is None
    assert advise(shop.state, shop.now, shop.settings)[0].why.startswith("look in about")
    shop.wait(4)
    assert problem_of(shop).run.standing[hook.id].hot_s is not None
    assert advise(shop.state, shop.now, shop.settings)[0].why == "hot now"


def test_a_rest_that_runs_ends_when_the_floor_says_so() -> None:
    shop = Shop(hooks(1))
    for _ in range(2):
        hook = shop.piece("hook")
        if hook.place != "hand":
            shop.tell(*acts.put_in(shop.state, hook, shop.now))
            shop.wait(120)
            shop.tell(*acts.take_out(shop.state, shop.piece("hook"), shop.now))
        shop.wait(20)
        shop.tell(*acts.finish(shop.state, shop.piece("hook"), shop.now, shop.settings))
        if shop.piece("hook").place == FIRE:
            shop.wait(120)
            shop.tell(*acts.take_out(shop.state, shop.piece("hook"), shop.now))
    shop.wait(30)
    hook = shop.piece("hook")
    assert hook.place == RESTING
    assert hook.rest is not None
    left_s = hook.rest.started_s + hook.rest.needed_s - shop.now.rest_s
    floor = problem_of(shop)
    going = going_from(Figures(floor.problem), floor.run)
    assert abs(going.ready[0] - NOW_S - left_s) <= 1.5
    assert advise(shop.state, shop.now, shop.settings) == ()


def test_every_recipe_of_the_project_makes_a_problem_that_can_be_played_out() -> None:
    for path in sorted(RECIPES.glob("*.toml")):
        shop = Shop(recipe_of_file(path.stem))
        floor = problem_of(shop)
        figures = Figures(floor.problem)
        got = play(going_from(figures, floor.run), Rule(figures, FLOOR, EXACT))
        assert got.burnt == 0
        assert len(figures.ids) == len(shop.state.pieces)


def test_an_assembly_waits_for_its_own_parts() -> None:
    shop = Shop(recipe_of_file("gate-hinge-set"))
    floor = problem_of(shop)
    components = [c for p in floor.problem.orders[0].pieces for c in p.components]
    hinge = next(c for c in components if shop.state.pieces[c.id].component == "hinge")
    assert sorted(shop.state.pieces[n].component for n in hinge.needs) == [
        "nut",
        "pintle",
        "strap",
        "washer",
    ]


def test_a_fire_that_is_out_takes_nothing() -> None:
    shop = Shop(hooks(2))
    fire = msgspec.structs.replace(shop.state.fire, lit=False)
    state = msgspec.structs.replace(shop.state, fire=fire)
    assert advise(state, shop.now, shop.settings) == ()


def test_two_orders_are_ranked_together_and_each_alike_piece_stands_once() -> None:
    shop = Shop(hooks(4), hooks(4))
    found = advise(shop.state, shop.now, shop.settings)
    assert len(found) == 2
    assert {shop.state.pieces[a.piece].order for a in found} == {"o1", "o2"}
    assert [a.rank for a in found] == [0, 1]


def test_between_alike_orders_the_one_with_the_date_comes_first() -> None:
    shop = Shop(hooks(2), hooks(2))
    orders = dict(shop.state.orders)
    orders["o2"] = msgspec.structs.replace(orders["o2"], promised="2026-09-22")
    state = msgspec.structs.replace(shop.state, orders=orders)
    found = advise(state, shop.now, shop.settings)
    assert state.pieces[found[0].piece].order == "o2"


def test_the_weights_of_a_plan_lean_the_advice() -> None:
    shop = Shop(hooks(2), hooks(2))
    first = advise(shop.state, shop.now, shop.settings)[0].piece
    other = next(p.id for p in shop.state.pieces.values() if p.order == "o2")
    leant = msgspec.structs.replace(shop.settings, weights=Weights(bias={other: 1.0e6}))
    assert shop.state.pieces[first].order == "o1"
    assert shop.state.pieces[advise(shop.state, shop.now, leant)[0].piece].order == "o2"


def test_a_plan_of_the_floor_is_no_longer_than_the_usual_advice() -> None:
    shop = Shop(recipe_of_file("poker-and-shovel"))
    floor = problem_of(shop)
    figures = Figures(floor.problem)
    usual = play(going_from(figures, floor.run), Rule(figures, FLOOR, Care()))
    plan = plan_days(shop.state, shop.now, shop.settings, None, trials=20).plan
    assert NOW_S < plan.played.makespan_s <= usual.makespan_s
    assert plan.played.burnt == 0


def test_a_date_is_said_in_the_words_of_the_week() -> None:
    shop = Shop(hooks(1))
    assert due_words("", shop.now) == ""
    day = shop.now.rest_s // 86_400
    start = date(1970, 1, 1).toordinal() + int(day)
    assert due_words(date.fromordinal(start).isoformat(), shop.now) == "due today"
    assert due_words(date.fromordinal(start - 1).isoformat(), shop.now) == "over its date"
    named = due_words(date.fromordinal(start + 2).isoformat(), shop.now)
    assert named.startswith("due ")
    assert named.endswith("day")


def test_thicker_bars_take_longer_to_soak_work_and_burn() -> None:
    thin, thick = (
        heat_times(Section(kind="square", a_mm=mm), 1150.0, 850.0, "hand", "gas", 20.0)
        for mm in (10.0, 20.0)
    )
    for name in ("cold_s", "reheat_s", "hand_s", "hold_s"):
        assert getattr(thin, name) < getattr(thick, name)


def test_a_fire_too_cool_for_the_heat_still_gives_a_time_to_look() -> None:
    times = heat_times(Section(kind="square", a_mm=10.0), 1300.0, 850.0, "hand", "gas", 20.0)
    assert times.cold_s > 0


def test_settled_states_only_hold_what_can_be_planned() -> None:
    shop = Shop(recipe_of_file("poker-and-shovel"), hooks(2))
    state = settle(shop.state, shop.now)
    floor = floor_problem(state, shop.now, shop.settings)
    assert set(floor.run.standing) == set(state.pieces)
