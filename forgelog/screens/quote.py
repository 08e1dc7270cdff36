"""The quote of an order with four keys: its lines by each method, the price, how it came out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.errors import CannotDo
from forgelog.desk.quote_pages import first_words, write_quote
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock
    from forgelog.desk.quote_told import QuoteTold
    from forgelog.desk.review_pages import Page as QuotePage

WIDEST = 120
"""Wider lines are hard to read."""
READING = "reading the record: this may take a moment"


class QuoteScreen(FourKeyScreen):
    """Pages of a quote; it is made in a thread, so every key is heard meanwhile."""

    def __init__(
        self,
        shop: Shop,
        order: str,
        *,
        method: str = "",
        hours: Mapping[str, Decimal | None] | None = None,
        clock: Clock | None = None,
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            order: Id of the order.
            method: By which the price is reckoned; "" for the shop's usual one.
            hours: Hours that the smith named, by kind.
            clock: None for the machine's own.
        """
        super().__init__()
        self.shop = shop
        self.order = order
        self.method = method
        self.hours: dict[str, Decimal | None] = dict(hours or {})
        self.clock = clock
        self.told: QuoteTold | None = None
        self.why_not = ""
        self.pages: tuple[QuotePage, ...] = ()
        self.first: list[str] = []
        self.page_at = 0
        self.row = 0
        """First row of the page that is shown."""
        self.rows = 1
        self.was_left = False

    def on_mount(self) -> None:
        """Make the quote behind the page."""
        self.make()

    def on_screen_suspend(self) -> None:
        """Another page is on top: what is done there may change the quote."""
        self.was_left = True

    def on_screen_resume(self) -> None:
        """Back from it."""
        if self.was_left:
            self.was_left = False
            self.shop = self.shop.again()
            self.make()

    def make(self) -> None:
        """Make the quote in a thread."""
        self.run_worker(self.make_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def make_in_thread(self) -> None:
        """In a thread: hands the result to the page."""
        from forgelog.desk.faults import note_fault
        from forgelog.desk.quote import quote_of

        told: QuoteTold | None = None
        words = ""
        try:
            order = self.shop.state.orders[self.order]
            told = quote_of(
                self.shop, order, method=self.method, hours=self.hours, clock=self.clock
            )
        except CannotDo as problem:
            words = str(problem)
        except Exception as fault:
            note_fault(fault, "reckoning a quote")
            words = f"the quote could not be reckoned: {fault}"
        self.house.call_from_thread(self.show_quote, told, words)

    def show_quote(self, told: QuoteTold | None, words: str) -> None:
        """It has been made."""
        self.told, self.why_not = told, words
        if told is None:
            self.pages = ()
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """Which order, and how far the pages are."""
        pages = f"page {self.page_at + 1} of {len(self.pages)}" if self.pages else ""
        if self.told is None:
            return "QUOTE", "", pages
        return f"QUOTE {self.told.label}", self.told.title, pages

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.told is None:
            return
        self.pages = write_quote(self.told, min(WIDEST, width - 2))
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
            for y, line in enumerate(wrapped(self.why_not or READING, page.width - 2, most=rows)):
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
        """Through the pages, the other method, what can be done about it, and out."""
        leave = Meaning("leave the quote", self.back)
        if self.told is None or not self.pages:
            wait = Meaning("there is no quote" if self.why_not else "it is being reckoned")
            return {"space": wait, "enter": wait, "tab": wait, "backspace": leave, "q": leave}
        last = self.page_at + 1 >= len(self.pages)
        if self.more_below:
            space = Meaning("further down this page", self.further)
        elif last:
            space = Meaning("back to the first page", partial(self.turn, -self.page_at))
        else:
            space = Meaning("next page", partial(self.turn, 1))
        first = self.page_at == 0 and self.row == 0
        closed = self.shop.state.orders[self.order].closed is not None
        deeds = "say what it took" if closed else "offer it, set hours and costs"
        return {
            "space": space,
            "enter": Meaning(deeds, self.open_deeds),
            "tab": self.other_method(self.told),
            "backspace": leave if first else Meaning("page before", partial(self.turn, -1)),
            "q": leave,
        }

    def other_method(self, told: QuoteTold) -> Meaning:
        """The price from the next column."""
        methods = [column.method for column in told.columns]
        if len(methods) == 1:
            return Meaning("the shop forges by hand alone")
        column = told.columns[(methods.index(told.method) + 1) % len(methods)]
        return Meaning(f"price it {column.words}", partial(self.take_method, column.method))

    def take_method(self, method: str) -> None:
        """Take the price from another column."""
        self.method = method
        self.make()

    def turn(self, by: int) -> None:
        """To another page."""
        self.row = 0
        self.page_at = max(0, min(len(self.pages) - 1, self.page_at + by))

    def further(self) -> None:
        """Down this page."""
        self.row += max(1, self.rows - 1)

    def open_deeds(self) -> None:
        """What can be done about the quote."""
        from forgelog.screens.quote_deeds import QuoteDeedsScreen

        if self.told is not None:
            page = QuoteDeedsScreen(
                self.shop.again(), self.told, self.hours, named=self.name_hours, clock=self.clock
            )
            self.house.push_screen(page)

    def name_hours(self, hours: Mapping[str, Decimal | None]) -> None:
        """Hours that the smith named there hold for this quote."""
        self.hours = dict(hours)
