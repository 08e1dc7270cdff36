"""What the Pilot tests share: an app without a terminal, and waits on a condition."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot

from forgelog.book.device import Device
from forgelog.screens.app import ForgelogApp
from forgelog.screens.page import text_of
from forgelog.screens.paged import PagedScreen

DEADLINE_S = 20.0
DEVICE = Device(id="test1")


class TestApp(ForgelogApp):
    """The app, with the bell counted and nothing kept on disk."""

    __test__ = False
    settle_s = 0.0

    def __init__(
        self, first: Callable[[ForgelogApp], PagedScreen], device: Device = DEVICE
    ) -> None:
        super().__init__(first, device=device)
        self.bells = 0
        self.kept: list[Device] = []

    def bell(self) -> None:
        self.bells += 1

    def change_device(self, device: Device) -> str:
        from forgelog.desk.device import learnt_keys

        if device != self.device:
            self.kept.append(device)
        self.device = device
        self.learnt = learnt_keys(device)
        return ""


def shown(pilot: Pilot[Any]) -> str:
    """The page on top, as text."""
    screen = pilot.app.screen_stack[-1]
    assert isinstance(screen, PagedScreen)
    return text_of(screen.canvas.shown)


async def until(pilot: Pilot[Any], condition: Callable[[], bool]) -> None:
    """Let the app run until a condition holds; fail with the page where it never does."""
    ends = time.monotonic() + DEADLINE_S
    while not condition():
        assert time.monotonic() < ends, f"it never came about; the page shows\n{shown(pilot)}"
        await pilot.pause()
        await asyncio.sleep(0)


async def until_shown(pilot: Pilot[Any], words: str) -> str:
    """Wait until the page on top shows these words; return its text."""
    await until(pilot, lambda: words in shown(pilot))
    return shown(pilot)
