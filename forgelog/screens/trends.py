"""Trends on pages: charts and tables of how things have gone over the weeks."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages, told_or_why_not

if TYPE_CHECKING:
    from forgelog.desk.trends import Trends

LOOKING = "looking through the record"


class TrendsScreen(TurnedPages):
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

    def on_mount(self) -> None:
        """Read the record behind the page."""
        self.run_worker(self.read_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def read_in_thread(self) -> None:
        """In a thread: hands the result to the page."""
        from forgelog.desk.trends import trends_of

        told, words = told_or_why_not(
            partial(trends_of, self.shop, self.recipe, report=self.reading),
            "looking for trends",
            "the record could not be looked through",
        )
        self.house.call_from_thread(self.show_trends, told, words)

    def show_trends(self, told: Trends | None, words: str) -> None:
        """It has been read."""
        self.told, self.why_not = told, words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """How far the pages are."""
        practice = "PRACTICE" if self.told is not None and self.told.practice else ""
        return "TRENDS", practice, self.how_far

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
        self.fit(rows)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """A page, or that the record is being read."""
        if self.first:
            self.put_pages(page, top)
        else:
            self.put_words(page, top, rows, self.why_not or self.read_so_far or LOOKING)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages and out."""
        return self.turning(Meaning("leave the trends", self.back))
