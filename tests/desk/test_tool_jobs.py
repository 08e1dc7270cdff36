"""Tools to be made: what they hold up, who makes them, and that they are there afterwards."""

from __future__ import annotations

import json

import pytest

from forgelog.__main__ import main
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import close_order
from forgelog.desk.layout import layout
from forgelog.desk.order_view import order_shown
from forgelog.desk.orders import take_order
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.desk.tool_jobs import tool_jobs
from forgelog.work.facts import StepFinished, ToolSeen
from forgelog.work.queries import step_of
from forgelog.work.state import Order
from tests.desk.working import finish

JIG = """
format = 1
id = "make-bending-jig"
name = "Bending jig"
makes = ["bending-jig"]
[[component]]
id = "block"
name = "jig block"
stock = { section = "50 mm square", cut = "120 mm" }
[[component.step]]
do = "drill the block"
kind = "bench"
[[component.step]]
do = "set the stop"
kind = "bench"
"""


@pytest.fixture
def shop_without_jig(shop: Shop) -> Shop:
    tools = '[[tool]]\nname = "bending jig"\njig = true\nstate = "to be made"\n'
    (shop.book / "tools.toml").write_text(tools)
    (shop.book / "recipes" / "make-bending-jig.toml").write_text(JIG)
    return shop.again()


def taken(
    shop: Shop, clock: FakeClock, label: str, recipe: str = "test-pin", **more: object
) -> Order:
    clock.go_on(60.0)
    return take_order(shop.again(), recipe, label=label, clock=clock, **more)  # type: ignore[arg-type]


def test_a_missing_tool_is_a_job_with_all_that_it_holds_up(
    shop_without_jig: Shop, clock: FakeClock
) -> None:
    shop = shop_without_jig
    taken(shop, clock, "later", promised="2026-05-01")
    taken(shop, clock, "sooner", promised="2026-03-01")
    (job,) = tool_jobs(shop.again())
    assert (job.id, job.state, job.since) == ("bending-jig", "to be made", "2026-01-30")
    assert [one.label for one in job.holds_up] == ["sooner", "later"]
    assert job.holds_up[0].steps == ("bend the pin",)
    assert job.recipes == ("make-bending-jig",)
    assert job.words.endswith("; the recipe make-bending-jig makes it")


def test_what_the_smith_said_at_the_fire_dates_it(shop_without_jig: Shop, clock: FakeClock) -> None:
    shop = shop_without_jig
    order = taken(shop, clock, "gate")
    clock.go_on(3 * 86_400.0)
    session = start(shop.again(), [order.id], clock=clock)
    seen = ToolSeen(tool="bending-jig", state="to be repaired")
    session._take(clock.stamp(), (seen,))
    session.close()
    (job,) = tool_jobs(shop.again())
    assert (job.state, job.since) == ("to be repaired", "2026-02-02")


def test_an_order_for_the_shop_makes_the_tool_and_it_is_there_when_it_is_finished(
    shop_without_jig: Shop, clock: FakeClock
) -> None:
    shop = shop_without_jig
    gate = taken(shop, clock, "gate")
    own = taken(shop, clock, "jig", "make-bending-jig", for_shop=True)
    (job,) = tool_jobs(shop.again())
    assert job.order == "jig"
    assert order_shown(shop.again(), own).for_shop
    session = start(shop.again(), [own.id], clock=clock)
    (block,) = [p for p in session.state.pieces.values() if p.order == own.id]
    finish(session, clock, block, steps=1)
    while "bending-jig" not in session.state.tools:
        clock.go_on(30.0)
        session.press("enter")
        assert session.state.press < 20
    assert session.state.tools["bending-jig"][0] == "have"
    assert step_of(session.state, session.state.pieces[block.id]) is None
    session.press("backspace")
    assert "bending-jig" not in session.state.tools
    clock.go_on(30.0)
    session.press("enter")
    session.close()
    assert tool_jobs(shop.again()) == ()
    tools = layout(shop.again(), [gate.id], clock.stamp()).tools
    assert next(t.state for t in tools if t.id == "bending-jig") == "have"


def test_closing_the_order_tells_the_tool_where_the_floor_did_not(
    shop_without_jig: Shop, clock: FakeClock
) -> None:
    shop = shop_without_jig
    taken(shop, clock, "gate")
    own = taken(shop, clock, "jig", "make-bending-jig", for_shop=True)
    session = start(shop.again(), [own.id], clock=clock)
    block = next(iter(session.state.pieces.values()))
    for step in ("drill-the-block", "set-the-stop"):
        session._take(clock.stamp(), (StepFinished(workpiece=block.id, step=step),))
        clock.go_on(30.0)
    session.close()
    assert len(tool_jobs(shop.again())) == 1
    close_order(shop.again(), shop.again().state.orders[own.id], clock=clock)
    assert tool_jobs(shop.again()) == ()


def test_a_customers_order_of_the_same_recipe_leaves_the_shop_without_it(
    shop_without_jig: Shop, clock: FakeClock
) -> None:
    shop = shop_without_jig
    taken(shop, clock, "gate")
    theirs = taken(shop, clock, "theirs", "make-bending-jig")
    session = start(shop.again(), [theirs.id], clock=clock)
    finish(session, clock, next(iter(session.state.pieces.values())))
    session.close()
    close_order(shop.again(), shop.again().state.orders[theirs.id], clock=clock)
    assert len(tool_jobs(shop.again())) == 1


def test_the_command_lists_jobs_and_takes_one_in_hand(
    shop_without_jig: Shop, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ["--book", str(shop_without_jig.book), "order"]
    assert main([*at, "jobs"]) == 0
    assert "no tool holds up a step" in capsys.readouterr().out
    assert main([*at, "take", "test-pin", "--label", "gate"]) == 0
    capsys.readouterr()
    assert main([*at, "jobs"]) == 0
    out = capsys.readouterr().out
    assert "holds up gate: bend the pin" in out
    assert "`forgelog order take make-bending-jig --for-shop`" in out
    assert main([*at, "take", "make-bending-jig", "--for-shop", "--label", "jig"]) == 0
    assert "for       the shop itself" in capsys.readouterr().out
    assert main([*at, "jobs", "--json"]) == 0
    (job,) = json.loads(capsys.readouterr().out)
    assert (job["id"], job["order"]) == ("bending-jig", "jig")
    assert job["holds_up"][0]["steps"] == ["bend the pin"]


def test_a_jig_that_is_set_otherwise_is_written_down_when_its_step_begins(
    shop: Shop, clock: FakeClock
) -> None:
    one, two = (
        taken(shop, clock, label, sizes_mm={"drop": mm})
        for label, mm in (("one", 60.0), ("two", 75.0))
    )
    tools = layout(shop.again(), [one.id, two.id], clock.stamp()).tools
    jig = next(t for t in tools if t.id == "bending-jig")
    assert jig.words.startswith(
        "bending jig, at 2 settings: stop at 60 mm; stop at 75 mm; 2 set-ups at least"
    )
    session = start(shop.again(), [one.id, two.id], clock=clock)
    for order in (one, two):
        pins = [
            p for p in session.state.pieces.values() if p.order == order.id and p.component == "pin"
        ]
        for pin in pins:
            finish(session, clock, pin, steps=2)
        session._stand = type(session._stand)(chosen=pin.id)
        for key in ("space", "space"):
            clock.go_on(200.0)
            session.press(key)
        assert session.state.pieces[pin.id].place == "hand"
        clock.go_on(30.0)
        session.press("enter")
    assert session.state.jigs == {"bending-jig": "stop at {75 mm}"}
    session.close()
    tools = layout(shop.again(), [one.id, two.id], clock.stamp()).tools
    jig = next(t for t in tools if t.id == "bending-jig")
    assert (jig.set_now, jig.set_ups) == ("stop at 75 mm", 1)
