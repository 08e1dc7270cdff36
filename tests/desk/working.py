"""A smith who presses keys by what the bottom line says; used to fill journals."""

from __future__ import annotations

from forgelog.desk.clock import FakeClock
from forgelog.desk.orders import take_order
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import Shop
from forgelog.work.facts import AnyFact, StepFinished
from forgelog.work.queries import step_of
from forgelog.work.state import FINISHED, Order, Workpiece


def work(session: FloorSession, clock: FakeClock, presses: int) -> None:
    """Press whatever the line offers: fire, out, done; TAB when a key would do nothing."""
    for number in range(presses):
        view = session.view()
        if view.finished or view.leave:
            return
        live = {line.key: line.live for line in view.keys}
        if view.list is not None:
            key = "enter" if "did the fire burn on" in view.list.title else "space"
        elif live["ENTER"] and (number + session.state.press) % 3 != 0:
            key = "enter"
        elif live["SPACE"]:
            key = "space"
        elif live["ENTER"]:
            key = "enter"
        else:
            key = "tab"
        session.press(key)
        clock.go_on(7.0 if number % 4 else 95.0)


def finished(shop: Shop, clock: FakeClock, recipe: str = "test-pin", **more: object) -> Order:
    """An order of which every step is done, finished at the desk without a heat pressed."""
    order = take_order(shop.again(), recipe, clock=clock, **more)  # type: ignore[arg-type]
    clock.go_on(60.0)
    session = start(shop.again(), [order.id], clock=clock)
    for piece in tuple(session.state.pieces.values()):
        if piece.order == order.id:
            finish(session, clock, piece)
    session.close()
    clock.go_on(60.0)
    return shop.again().state.orders[order.id]


def finish(session: FloorSession, clock: FakeClock, piece: Workpiece, steps: int = 99) -> None:
    """Finish steps of a piece as if they had been done without keys."""
    while steps and (step := step_of(session.state, session.state.pieces[piece.id])) is not None:
        facts: tuple[AnyFact, ...] = (StepFinished(workpiece=piece.id, step=step.id),)
        session._take(clock.stamp(), facts)
        clock.go_on(30.0)
        steps -= 1
        if session.state.pieces[piece.id].place == FINISHED:
            return
