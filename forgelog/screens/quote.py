"""The quote of an order with four keys: its lines by each method, the price, how it came out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.quote_pages import first_words, write_quote
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages, told_or_why_not

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock
    from forgelog.desk.quote_told import QuoteTold

READING = "reading the record: this may take a moment"


class QuoteScreen(TurnedPages):
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
        told, words = told_or_why_not(
            self.reckoned, "reckoning a quote", "the quote could not be reckoned"
        )
        self.house.call_from_thread(self.show_quote, told, words)

    def reckoned(self) -> QuoteTold:
        """The quote as the book is now."""
        from forgelog.desk.quote import quote_of

        order = self.shop.state.orders[self.order]
        return quote_of(self.shop, order, method=self.method, hours=self.hours, clock=self.clock)

    def show_quote(self, told: QuoteTold | None, words: str) -> None:
        """It has been made."""
        self.told, self.why_not = told, words
        if told is None:
            self.pages = ()
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """Which order, and how far the pages are."""
        if self.told is None:
            return "QUOTE", "", self.how_far
        return f"QUOTE {self.told.label}", self.told.title, self.how_far

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.told is None:
            return
        self.pages = write_quote(self.told, min(WIDEST, width - 2))
        self.first = wrapped(first_words(self.told), width - 2, most=3)
        self.fit(rows)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """A page, or that it is being made."""
        if self.pages:
            self.put_pages(page, top)
        else:
            self.put_words(page, top, rows, self.why_not or READING)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages, the other method, what can be done about it, and out."""
        leave = Meaning("leave the quote", self.back)
        if self.told is None or not self.pages:
            wait = Meaning("there is no quote" if self.why_not else "it is being reckoned")
            return {"space": wait, "enter": wait, "tab": wait, "backspace": leave, "q": leave}
        closed = self.shop.state.orders[self.order].closed is not None
        deeds = "say what it took" if closed else "offer it, set hours and costs"
        to_first = Meaning("back to the first page", partial(self.turn, -self.page_at))
        return self.turning(leave, to_first) | {
            "enter": Meaning(deeds, self.open_deeds),
            "tab": self.other_method(self.told),
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
