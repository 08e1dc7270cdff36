"""The floor: shows the session's view and hands every key to the session."""

from __future__ import annotations

from typing import Protocol

from textual._time import get_time

from forgelog.floor.view import View
from forgelog.screens.far import far
from forgelog.screens.near import near
from forgelog.screens.page import Line
from forgelog.screens.paged import PagedScreen

FLASH_S = 1.0
SLOW_DISK_S = 0.15
"""A line that takes longer to reach the disk is said to be not on it yet."""


class Session(Protocol):
    """What the floor needs of a session."""

    def press(self, key: str) -> object:
        """A key came."""

    def view(self) -> View:
        """What to show now."""

    @property
    def not_on_disk(self) -> object:
        """Anything true while a press is not on the disk yet."""

    def close(self) -> None:
        """Leave it, all on disk."""


class FloorScreen(PagedScreen):
    """The floor of one session."""

    ticks = True

    def __init__(self, session: Session, *, in_far_view: bool = False) -> None:
        super().__init__()
        self.session = session
        self.in_far_view = in_far_view
        self.rung: frozenset[str] = frozenset()
        """Alarms that have rung."""
        self.flash_until = 0.0
        self.unwritten_since: float | None = None

    def draw(self, width: int, height: int) -> tuple[Line, ...]:
        """Near or far view of what stands now."""
        view = self.session.view()
        self.ring(view)
        lay_out = far if self.in_far_view else near
        return lay_out(view, width, height, self.signs())

    def pressed(self, key: str, late_s: float) -> None:
        """Every key is the session's, but for the one that changes the view."""
        self.quiet()
        if key == "v":
            self.in_far_view = not self.in_far_view
            return
        self.session.press(key)
        if self.session.view().leave:
            self.leave()

    def tick(self) -> None:
        """Times have moved on; a flash may be over."""
        if self.canvas.flashing and get_time() >= self.flash_until:
            self.canvas.flash(False)
        super().tick()

    def ring(self, view: View) -> None:
        """Bell and flash for alarms that have not rung yet; the words stay on the page."""
        alarms = frozenset(view.alarms)
        new = alarms - self.rung
        self.rung = alarms
        if new and self.is_mounted:
            if self.house.device.bell:
                self.house.bell()
            if self.house.device.flash:
                self.flash_until = get_time() + FLASH_S
                self.canvas.flash(True)

    def quiet(self) -> None:
        """Any key ends the flash."""
        self.flash_until = 0.0
        self.canvas.flash(False)

    def signs(self) -> tuple[str, ...]:
        """Words that stand out beside the alarms."""
        now = get_time()
        if not self.session.not_on_disk:
            self.unwritten_since = None
            return ()
        if self.unwritten_since is None:
            self.unwritten_since = now
        return ("NOT YET ON DISK",) if now - self.unwritten_since >= SLOW_DISK_S else ()

    def leave(self) -> None:
        """The session is over: go back to where the smith came from."""
        self.house.keep_view(self.in_far_view)
        self.house.close_all()
        if len(self.house.screen_stack) > 1:
            self.house.pop_screen()
        else:
            self.house.exit(return_code=0)
