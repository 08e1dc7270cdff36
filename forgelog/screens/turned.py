"""Pages of told lines that are turned: down a page, to the next, to the one before."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from time import monotonic
from typing import Protocol, TypeVar

from textual.worker import get_current_worker

from forgelog.desk.errors import CannotDo
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

WIDEST = 120
"""Wider lines are hard to read."""

EVERY_S = 0.2
"""So often a long reading says how far it is."""

Told = TypeVar("Told")


class LeftError(Exception):
    """The page was left while it was read."""


class ToldPage(Protocol):
    """A page as the desk tells it."""

    @property
    def title(self) -> str:
        """Its head line."""

    @property
    def lines(self) -> tuple[str, ...]:
        """Final words, no wider than was asked for."""


class TurnedPages(FourKeyScreen):
    """A screen of told pages; what it shows is made in `measure`, for the window's width."""

    def __init__(self) -> None:
        super().__init__()
        self.pages: tuple[ToldPage, ...] = ()
        self.first: list[str] = []
        """What stands above every page, in rows."""
        self.page_at = 0
        self.row = 0
        """First row of the page that is shown."""
        self.rows = 1
        """Rows of a page that are seen at once."""
        self.read_so_far = ""
        """How far the journal is read, where that takes long."""
        self.said_s = 0.0

    def reading(self, done: int, of: int) -> None:
        """Told in a thread how many sessions are read, of how many: says so now and then.

        Raises:
            LeftError: nobody waits for it any more.
        """
        if get_current_worker().is_cancelled:
            raise LeftError
        if monotonic() - self.said_s >= EVERY_S:
            self.said_s = monotonic()
            self.house.call_from_thread(self.show_reading, f"reading session {done} of {of}")

    def show_reading(self, words: str) -> None:
        """So far it is read."""
        self.read_so_far = words
        self.canvas.redraw()

    @property
    def how_far(self) -> str:
        """Which page of how many; "" while there is none."""
        return f"page {self.page_at + 1} of {len(self.pages)}" if self.pages else ""

    @property
    def more_below(self) -> bool:
        """Whether the page goes on under what is shown."""
        return bool(self.pages) and self.row + self.rows < len(self.pages[self.page_at].lines)

    @property
    def on_last(self) -> bool:
        """Whether no page follows."""
        return self.page_at + 1 >= len(self.pages)

    def fit(self, rows: int) -> None:
        """Once pages and first words are made: how many rows of a page so much room leaves."""
        self.rows = max(1, rows - len(self.first) - 2)
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))

    def put_pages(self, page: Page, top: int, *, hint: str = "") -> None:
        """The first words and the page that is open; a hint stands beside "more below"."""
        for y, line in enumerate(self.first):
            page.put(1, top + y, line, Look.STRONG)
        if not self.pages:
            return
        top += len(self.first) + 1
        shown = self.pages[self.page_at]
        page.put(1, top, shown.title, Look.STRONG)
        for y, line in enumerate(shown.lines[self.row : self.row + self.rows]):
            page.put(1, top + 1 + y, line)
        hints = [*(["more below"] if self.more_below else []), *([hint] if hint else [])]
        page.put_right(page.width - 1, top, " · ".join(hints), Look.QUIET)

    def put_words(self, page: Page, top: int, rows: int, words: str) -> None:
        """Words in place of pages: that they are being made, or why there are none."""
        for y, line in enumerate(wrapped(words, page.width - 2, most=rows)):
            page.put(1, top + y, line)

    def turning(self, leave: Meaning, at_end: Meaning | None = None) -> dict[str, Meaning]:
        """The keys that turn; a screen puts its own deeds over ENTER and TAB.

        Args:
            leave: What leaves the screen.
            at_end: What SPACE does at the end of the last page; leaves where None.
        """
        onward = Meaning("next page", partial(self.turn, 1))
        space = onward
        if self.more_below:
            space = Meaning("further down this page", self.further)
        elif not self.pages:
            space = Meaning("there is nothing to turn yet")
        elif self.on_last:
            space = at_end or Meaning("that was the last page: leave", self.back)
        at_start = self.page_at == 0 and self.row == 0
        return {
            "space": space,
            "enter": leave,
            "tab": Meaning("this is the last page") if self.on_last else onward,
            "backspace": leave if at_start else Meaning("page before", partial(self.turn, -1)),
            "q": leave,
        }

    def turn(self, by: int) -> None:
        """To another page."""
        self.row = 0
        self.page_at = max(0, min(len(self.pages) - 1, self.page_at + by))

    def further(self) -> None:
        """Down this page."""
        self.row += max(1, self.rows - 1)


def told_or_why_not(make: Callable[[], Told], doing: str, not_done: str) -> tuple[Told | None, str]:
    """What a page tells, or why it cannot; made in a thread, where nothing may be raised.

    Args:
        make: Makes it.
        doing: What was being done, for the note of a fault.
        not_done: Begins the sentence that tells the smith of a fault.

    Returns:
        What was made and "", or None and the sentence for the page.
    """
    from forgelog.desk.faults import note_fault

    try:
        return make(), ""
    except CannotDo as problem:
        return None, str(problem)
    except LeftError:
        return None, "not read to the end"
    except Exception as fault:
        note_fault(fault, doing)
        return None, f"{not_done}: {fault}"
