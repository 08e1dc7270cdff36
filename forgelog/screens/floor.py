"""The floor: shows the session's view and hands every key to the session."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from textual import events
from textual._time import get_time

from forgelog.desk.faults import note_fault
from forgelog.floor.view import View
from forgelog.screens.entry import Entry, entry_view, sent_by
from forgelog.screens.far import far
from forgelog.screens.held import LEAVES, held_view
from forgelog.screens.near import near
from forgelog.screens.page import Line
from forgelog.screens.paged import PagedScreen

FLASH_S = 1.0


class Session(Protocol):
    """What the floor needs of a session."""

    def press(self, key: str) -> object:
        """A key came."""

    def view(self) -> View:
        """What to show now."""

    @property
    def not_on_disk(self) -> int:
        """How many presses wait for the disk."""

    @property
    def why_not_on_disk(self) -> str:
        """Why they wait; "" where the disk is only slow."""

    def close(self) -> bool:
        """Leave it; True when all is on the disk."""


class FloorScreen(PagedScreen):
    """The floor of one session."""

    def __init__(
        self,
        session: Session,
        *,
        now: Callable[[], float] = get_time,
        evening: Callable[[], PagedScreen] | None = None,
    ) -> None:
        """Make it.

        Args:
            session: Whose floor it is.
            now: A steady clock for the flash, seconds.
            evening: Makes the page that is offered once the day has been ended; None for none.
        """
        super().__init__()
        self.session = session
        self.evening = evening
        self.now = now
        self.entry: Entry | None = None
        self.rung: frozenset[str] = frozenset()
        """Ids of what has rung."""
        self.flash_until = 0.0
        self.seen: View | None = None
        """What the session showed when it was last looked at."""
        self.seen_signs: tuple[str, ...] = ()
        self.held = False
        """Whether the session is over and presses still wait for the disk."""

    def on_mount(self) -> None:
        """Begin in the view that was used last on this device."""
        self.house.leaving.append(self.session.close)
        if self.house.device.far and not self.session.view().far:
            self.session.press("v")

    def draw(self, width: int, height: int) -> tuple[Line, ...]:
        """Near or far view of what was last seen."""
        if self.seen is None:
            self.look()
        view = self.seen
        assert view is not None
        if self.held:
            view = held_view(view, self.session.not_on_disk)
        elif self.entry is not None:
            view = entry_view(view, self.entry)
        lay_out = far if view.far else near
        return lay_out(view, width, height, self.seen_signs)

    def look(self) -> bool:
        """See what the session shows now; return whether it is anything else than before."""
        view, signs = self.session.view(), self.signs()
        if view == self.seen and signs == self.seen_signs:
            return False
        self.seen, self.seen_signs = view, signs
        self.ring(view)
        self.ask(view)
        return True

    def on_key(self, event: events.Key) -> None:
        """While a line is typed letters are letters."""
        letter = event.character
        types = self.entry is not None and event.key not in self.house.learnt
        if self.entry is None or not types or letter is None or not letter.isprintable():
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self.entry = self.entry.with_letters(letter)
        self.canvas.redraw()

    def on_paste(self, event: events.Paste) -> None:
        """Pasted words go into an open line, and nowhere else."""
        event.stop()
        if self.entry is not None:
            self.entry = self.entry.with_letters(event.text)
            self.canvas.redraw()

    def pressed(self, key: str) -> None:
        """Every key is the session's, but for those that edit an open line."""
        if self.held:
            if key == LEAVES or not self.session.not_on_disk:
                self.leave_now()
            return
        if self.entry is not None:
            self.edit(self.entry, key)
            return
        self.session.press(key)
        self.after_press()

    def edit(self, entry: Entry, key: str) -> None:
        """A key while a line is typed."""
        line = sent_by(entry, key)
        if line is not None:
            self.entry = None
            self.session.press(f"text:{line}")
            self.after_press()
        elif key == "backspace":
            self.entry = entry.without_last()
        elif key == "space":
            self.entry = entry.with_letters(" ")

    def after_press(self) -> None:
        """Any key ends the flash; the last one of a session leads home."""
        self.flash_until = 0.0
        self.canvas.flash(False)
        self.look()
        if self.seen is not None and self.seen.leave:
            self.held = bool(self.session.not_on_disk)
            if not self.held:
                self.leave_now()

    def ask(self, view: View) -> None:
        """Open the line that the session asks for, or close it."""
        if not view.entry:
            self.entry = None
        elif self.entry is None or self.entry.asked != view.entry:
            self.entry = Entry(asked=view.entry)

    def tick(self) -> None:
        """Times have moved on; a flash may be over."""
        if self.canvas.flashing and self.now() >= self.flash_until:
            self.canvas.flash(False)
        if self.held and not self.session.not_on_disk:
            self.leave_now()
        elif self.is_current and self.look():
            self.canvas.redraw()

    def ring(self, view: View) -> None:
        """Bell and flash for what has not rung yet; the words stay on the page."""
        rings = frozenset(view.rings)
        new = rings - self.rung
        self.rung |= rings
        if new and self.is_mounted:
            if self.house.device.bell:
                self.house.bell()
            if self.house.device.flash:
                self.flash_until = self.now() + FLASH_S
                self.canvas.flash(True)

    def signs(self) -> tuple[str, ...]:
        """Words that stand out beside the alarms."""
        if not self.session.not_on_disk:
            return ()
        why = self.session.why_not_on_disk
        return (f"NOT YET ON DISK: {why}" if why else "NOT YET ON DISK",)

    def leave_now(self) -> None:
        """The session is over: the evening is offered, else back to where the smith came from."""
        self.held = False
        if self.seen is not None:
            self.house.keep_view(self.seen.far)
        self.house.close_all()
        page = self.evening_page()
        if page is not None:
            self.house.switch_screen(page)
        elif len(self.house.screen_stack) > 1:
            self.house.pop_screen()
        else:
            self.house.exit(return_code=0)

    def evening_page(self) -> PagedScreen | None:
        """The page that is offered; None where there is none, or the book cannot be read for it."""
        if self.evening is None:
            return None
        try:
            return self.evening()
        except Exception as fault:
            note_fault(fault, "opening the evening")
            return None
