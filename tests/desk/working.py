"""A smith who presses keys by what the bottom line says; used to fill journals."""

from __future__ import annotations

from forgelog.desk.clock import FakeClock
from forgelog.desk.session import FloorSession


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
