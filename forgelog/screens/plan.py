"""The plan of the day on pages: the run as a timeline, the orders, the tools by when."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.plan_pages import first_words, write_plan
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages, told_or_why_not

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock
    from forgelog.desk.plan_told import PlanTold

PLANNING = "planning the day"


class PlanScreen(TurnedPages):
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

    def on_mount(self) -> None:
        """Make the plan behind the page."""
        self.run_worker(self.make_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def on_unmount(self) -> None:
        """Who leaves waits for no search."""
        self.left = True

    def make_in_thread(self) -> None:
        """In a thread: hands a first plan to the page, then the better one."""
        for quick in (True, False):
            told, words = told_or_why_not(
                partial(self.make, quick=quick), "planning the day", "the day could not be planned"
            )
            if self.left:
                return
            self.house.call_from_thread(self.show_plan, told, words)
            if told is None:
                return

    def make(self, *, quick: bool) -> PlanTold:
        """A plan; a quick one is a draft."""
        from forgelog.desk.plan import plan_of

        return plan_of(
            self.shop, *self.asked, clock=self.clock, quick=quick, stop=lambda: self.left
        )

    def show_plan(self, told: PlanTold | None, words: str) -> None:
        """It has been made."""
        self.told, self.why_not = told, words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """How far the pages are."""
        practice = "PRACTICE COPY" if self.shop.is_practice_copy else ""
        pages = self.how_far
        if self.told is not None and self.told.draft:
            pages = f"draft   {pages}"
        return "PLAN", practice, pages

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.told is None:
            return
        self.pages = write_plan(self.told, min(WIDEST, width - 2))
        self.first = wrapped(first_words(self.told), width - 2, most=3)
        self.fit(rows)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """A page, or that it is being made."""
        if self.pages:
            self.put_pages(page, top)
        else:
            self.put_words(page, top, rows, self.why_not or PLANNING)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages and out."""
        return self.turning(Meaning("leave the plan", self.back))
