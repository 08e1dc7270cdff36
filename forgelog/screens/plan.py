"""The plan of the day on pages: the run as a timeline, the orders, the tools by when."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.errors import CannotDo
from forgelog.desk.plan_pages import first_words, write_plan
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock
    from forgelog.desk.plan_told import PlanTold
    from forgelog.desk.review_pages import Page as PlanPage

WIDEST = 120
"""Wider lines are hard to read."""
PLANNING = "planning the day"


class PlanScreen(FourKeyScreen):
    """Pages of a plan; it is made in a thread, so every key is heard meanwhile."""

    def __init__(
        self, shop: Shop, day: str = "", until: str = "", *, clock: Clock | None = None
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            day: As for `desk.plan.plan_of`.
            until: As for `desk.plan.plan_of`.
            clock: None for the book's own.
        """
        super().__init__()
        self.shop = shop
        self.asked = (day, until)
        self.clock = clock
        self.told: PlanTold | None = None
        self.why_not = ""
        self.left = False
        """He has gone on to something else."""
        self.pages: tuple[PlanPage, ...] = ()
        self.first: list[str] = []
        self.page_at = 0
        self.row = 0
        """First row of the page that is shown."""
        self.rows = 1

    def on_mount(self) -> None:
        """Make the plan behind the page."""
        self.run_worker(self.make_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def on_unmount(self) -> None:
        """Who leaves waits for no search."""
        self.left = True

    def make_in_thread(self) -> None:
        """In a thread: hands a first plan to the page, then the better one."""
        from forgelog.desk.faults import note_fault
        from forgelog.desk.plan import plan_of

        for quick in (True, False):
            told: PlanTold | None = None
            words = ""
            try:
                told = plan_of(
                    self.shop, *self.asked, clock=self.clock, quick=quick, stop=lambda: self.left
                )
            except CannotDo as problem:
                words = str(problem)
            except Exception as fault:
                note_fault(fault, "planning the day")
                words = f"the day could not be planned: {fault}"
            if self.left:
                return
            self.house.call_from_thread(self.show_plan, told, words)
            if told is None:
                return

    def show_plan(self, told: PlanTold | None, words: str) -> None:
        """It has been made."""
        self.told, self.why_not = told, words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """How far the pages are."""
        practice = "PRACTICE COPY" if self.shop.is_practice_copy else ""
        pages = f"page {self.page_at + 1} of {len(self.pages)}" if self.pages else ""
        if self.told is not None and self.told.draft:
            pages = f"draft   {pages}"
        return "PLAN", practice, pages

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.told is None:
            return
        self.pages = write_plan(self.told, min(WIDEST, width - 2))
        self.first = wrapped(first_words(self.told), width - 2, most=3)
        self.rows = max(1, rows - len(self.first) - 2)
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))

    @property
    def more_below(self) -> bool:
        """Whether the page goes on under what is shown."""
        return bool(self.pages) and self.row + self.rows < len(self.pages[self.page_at].lines)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """A page, or that it is being made."""
        if not self.pages:
            for y, line in enumerate(wrapped(self.why_not or PLANNING, page.width - 2, most=rows)):
                page.put(1, top + y, line)
            return
        for y, line in enumerate(self.first):
            page.put(1, top + y, line, Look.STRONG)
        top += len(self.first) + 1
        shown = self.pages[self.page_at]
        page.put(1, top, shown.title, Look.STRONG)
        for y, line in enumerate(shown.lines[self.row : self.row + self.rows]):
            page.put(1, top + 1 + y, line)
        if self.more_below:
            page.put_right(page.width - 1, top, "more below", Look.QUIET)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages and out."""
        leave = Meaning("leave the plan", self.back)
        last = self.page_at + 1 >= len(self.pages)
        if self.more_below:
            space = Meaning("further down this page", self.further)
        elif not self.pages:
            space = Meaning("there is nothing to turn yet")
        elif last:
            space = Meaning("that was the last page: leave", self.back)
        else:
            space = Meaning("next page", partial(self.turn, 1))
        tab = Meaning("this is the last page")
        if not last:
            tab = Meaning("next page", partial(self.turn, 1))
        first = self.page_at == 0 and self.row == 0
        before = leave if first else Meaning("page before", partial(self.turn, -1))
        return {"space": space, "enter": leave, "tab": tab, "backspace": before, "q": leave}

    def turn(self, by: int) -> None:
        """To another page."""
        self.row = 0
        self.page_at = max(0, min(len(self.pages) - 1, self.page_at + by))

    def further(self) -> None:
        """Down this page."""
        self.row += max(1, self.rows - 1)
