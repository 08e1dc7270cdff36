"""The app: a stack of pages, one ticker, and a clean way out."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App
from textual.binding import Binding

from forgelog.desk.device import keep_device, learnt_keys, this_device, with_far

if TYPE_CHECKING:
    from textual.screen import Screen

    from forgelog.desk.device import Device
    from forgelog.screens.paged import PagedScreen

TICKS_A_SECOND = 2
"""Ticks only look whether something on the page has changed; no time is counted by them."""

NOT_DONE = 2
"""Exit code where there is no terminal, or the disk did not take everything."""


class ForgelogApp(App[int], inherit_bindings=False):
    """Shows pages; holds no rule of the shop."""

    settle_s = 0.3
    """A question takes no answer for so long after it came up. Seconds."""
    CSS_PATH = os.path.join(os.path.dirname(__file__), "app.tcss")
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = None
    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[Any]] = [
        Binding("ctrl+c", "leave", id="leave", priority=True, show=False),
        Binding("ctrl+q", "leave", id="leave-too", priority=True, show=False),
    ]

    def __init__(
        self,
        first: Callable[[ForgelogApp], PagedScreen],
        *,
        device: Device | None = None,
        driver_class: Any = None,
    ) -> None:
        """Make the app.

        Args:
            first: Makes the page that it opens with.
            device: This device's settings; None reads them.
            driver_class: The terminal's driver; None for ours.
        """
        super().__init__(driver_class=driver_class or _driver(), ansi_color=True)
        self.device = this_device() if device is None else device
        self.learnt = learnt_keys(self.device)
        self.first_page = first
        self.leaving: list[Callable[[], bool]] = []
        """What has to be closed when the app ends, whatever ends it."""
        self.all_on_disk = True
        """False once something was closed that could not be brought to the disk."""

    def get_default_screen(self) -> Screen[Any]:
        """The first page itself, so that nothing is drawn twice at the start."""
        return self.first_page(self)

    def on_mount(self) -> None:
        """Start the ticker; listen for the terminal going away."""
        self.set_interval(1 / TICKS_A_SECOND, self.tick)
        if sys.platform != "win32" and not self.is_headless:
            import asyncio

            loop = asyncio.get_running_loop()
            for sign in (signal.SIGHUP, signal.SIGTERM):
                loop.add_signal_handler(sign, self.exit, None, 128 + sign)

    def tick(self) -> None:
        """Let the page on top look whether it has changed."""
        stack = self.screen_stack
        if stack and (tick := getattr(stack[-1], "tick", None)) is not None:
            tick()

    def action_leave(self) -> None:
        """Leave at once; all that was pressed is in the journal."""
        self.exit(return_code=0)

    def change_device(self, device: Device) -> str:
        """Take other settings of this device and keep them; return what went wrong, or ""."""
        if device == self.device:
            return ""
        self.device = device
        self.learnt = learnt_keys(device)
        return keep_device(device)

    def keep_view(self, far: bool) -> None:
        """Remember near or far for the next time; not worth a word where that fails."""
        self.change_device(with_far(self.device, far))

    def close_all(self) -> None:
        """Close what is open; each at most once."""
        while self.leaving:
            self.all_on_disk &= self.leaving.pop()()

    def _fatal_error(self) -> None:
        # The framework would show its traceback here; the door from the shell says it in a line.
        self._close_messages_no_wait()

    @property
    def fault(self) -> Exception | None:
        """What ended the app, where it was a fault of its own."""
        return self._exception


def run(first: Callable[[ForgelogApp], PagedScreen]) -> int:
    """Open the app with a page and stay in it until it is left; return the exit code.

    Args:
        first: Makes the page that it opens with.

    Raises:
        Exception: a fault of the program itself, once the terminal is as it was.
    """
    if not _is_terminal():
        print("forgelog needs a terminal to show its pages on", file=sys.stderr)
        return NOT_DONE
    app = ForgelogApp(first)
    try:
        app.run(mouse=False)
    finally:
        app.close_all()
    if app.fault is not None:
        print("What was pressed up to now is in the journal.", file=sys.stderr)
        raise app.fault
    if not app.all_on_disk:
        print("The last presses could not be brought to the disk: they are lost.", file=sys.stderr)
        return app.return_code or NOT_DONE
    return app.return_code or 0


def _driver() -> Any:
    if sys.platform == "win32":
        return None
    from forgelog.screens.terminal import FloorDriver

    return FloorDriver


def _is_terminal() -> bool:
    try:
        return os.isatty(0) and os.isatty(1)
    except OSError:
        return False
