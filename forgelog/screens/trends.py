"""Trends on pages: charts and tables of how things have gone over the weeks."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

if TYPE_CHECKING:
    from forgelog.desk.review_pages import Page as TrendPage
    from forgelog.desk.trends import Trends

WIDEST = 120
"""Wider lines are hard to read."""
LOOKING = "looking through the record"


class TrendsScreen(FourKeyScreen):
    """Pages of trends; the record is read in a thread, so every key is heard meanwhile."""

    def __init__(self, shop: Shop, recipe: str | None = None) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            recipe: This recipe alone, by id; None for all.
        """
        super().__init__()
        self.shop = shop
        self.recipe = recipe
        self.told: Trends | None = None
        self.why_not = ""
        self.drawn_for = 0
        """The width that the pages were drawn for; 0 where they were not yet."""
        self.pages: tuple[TrendPage, ...] = ()
        self.first: list[str] = []
        self.page_at = 0
        self.row = 0
        """First row of the page that is shown."""
        self.rows = 1

    def on_mount(self) -> None:
        """Read the record behind the page."""
        self.run_worker(self.read_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def read_in_thread(self) -> None:
        """In a thread: hands the result to the page."""
        from forgelog.desk.faults import note_fault
        from forgelog.desk.trends import trends_of

        told: Trends | None = None
        words = ""
        try:
            told = trends_of(self.shop, self.recipe)
        except CannotDo as problem:
            words = str(problem)
        except Exception as fault:
            note_fault(fault, "looking for trends")
            words = f"the record could not be looked through: {fault}"
        self.house.call_from_thread(self.show_trends, told, words)

    def show_trends(self, told: Trends | None, words: str) -> None:
        """It has been read."""
        self.told, self.why_not = told, words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """How far the pages are."""
        practice = "PRACTICE" if self.told is not None and self.told.practice else ""
        pages = f"page {self.page_at + 1} of {len(self.pages)}" if self.pages else ""
        return "TRENDS", practice, pages

    def measure(self, width: int, rows: int) -> None:
        """Pages are drawn for the window's width, and again only when that changes."""
        if self.told is None:
            return
        wide = min(WIDEST, width - 2)
        if wide != self.drawn_for:
            from forgelog.desk.trend_pages import first_words, write_trends

            self.pages = write_trends(self.told, wide)
            self.first = wrapped(first_words(self.told), width - 2, most=2)
            self.drawn_for = wide
        self.rows = max(1, rows - len(self.first) - 2)
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))

    @property
    def more_below(self) -> bool:
        """Whether the page goes on under what is shown."""
        return bool(self.pages) and self.row + self.rows < len(self.pages[self.page_at].lines)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """A page, or that the record is being read."""
        said = self.first or wrapped(self.why_not or LOOKING, page.width - 2, most=rows)
        for y, line in enumerate(said):
            page.put(1, top + y, line, Look.STRONG)
        if not self.pages:
            return
        top += len(self.first) + 1
        shown = self.pages[self.page_at]
        page.put(1, top, shown.title, Look.STRONG)
        for y, line in enumerate(shown.lines[self.row : self.row + self.rows]):
            page.put(1, top + 1 + y, line)
        if self.more_below:
            page.put_right(page.width - 1, top, "more below", Look.QUIET)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages and out."""
        leave = Meaning("leave the trends", self.back)
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
