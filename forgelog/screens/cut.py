"""The cut list on pages: what to buy, then bar after bar; after sawing, one key writes it down."""

from __future__ import annotations

from functools import partial

from forgelog.desk.clock import Clock
from forgelog.desk.cut import cut_of
from forgelog.desk.cut_done import cut_done, done_words, last_words, take_back
from forgelog.desk.cut_pages import bar_shown, write_cut
from forgelog.desk.cut_told import BarTold, CutTold
from forgelog.desk.errors import CannotDo
from forgelog.desk.review_pages import Page as CutPage
from forgelog.desk.shop import Shop
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages

DONE, ONE, BACK = "done", "one", "back"


class CutScreen(TurnedPages):
    """Pages of a cut list."""

    def __init__(
        self, shop: Shop, orders: tuple[str, ...] = (), *, clock: Clock | None = None
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            orders: As for `desk.cut.cut_of`.
            clock: Of what is written down; the machine's own where None.

        Raises:
            CannotDo: an order is unknown or closed.
        """
        super().__init__()
        self.shop = shop
        self.orders = orders
        self.clock = clock
        self.told: CutTold = cut_of(shop, orders)
        self.last: str = last_words(shop)
        """What was last written down as sawn, that could be taken back."""
        self.asked = ""
        """DONE, ONE or BACK while that question stands."""
        self.bar_at = 0
        """Place in the list of the bar that ONE asks about."""
        self.rests: tuple[str, ...] = ()
        """What is to be written on which rest, once it was sawn."""

    def head(self) -> tuple[str, str, str]:
        """How far the pages are."""
        practice = "PRACTICE COPY" if self.shop.is_practice_copy else ""
        return "CUT LIST", practice, self.how_far

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        self.pages = write_cut(self.told, min(WIDEST, width - 2))
        if self.rests:
            self.pages = (CutPage(title="WRITTEN DOWN AS SAWN", lines=self.rests), *self.pages)
        self.first = [self.told.first]
        self.fit(rows)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The question, or a page."""
        if self.asked:
            for y, line in enumerate(wrapped(self.question(), page.width - 2, most=rows)):
                page.put(1, top + y, line, Look.STRONG)
            return
        self.put_pages(page, top)

    @property
    def bar(self) -> BarTold:
        """The bar that ONE asks about."""
        return self.told.bars[self.bar_at]

    def question(self) -> str:
        """What is asked before anything is written down."""
        if self.asked == DONE:
            return (
                f"{self.told.first} Has all of it been sawn as the list says? Then it is written "
                "down, the offcuts go on the rack under their labels, and no list asks for these "
                "pieces again. What is in stock.toml stays as you wrote it."
            )
        if self.asked == ONE:
            pieces = "; ".join(run.words for run in self.bar.runs)
            return (
                f"Has bar {self.bar.number} been sawn, and no other: {self.bar.words}? Then it is "
                "written down; what is left to saw is worked out anew, and its bars get other "
                f"numbers. From this bar come {pieces}; {self.bar.rest_words}."
            )
        return (
            f"Take back what was last written down as sawn: {self.last}? Rack and list are "
            "as before then."
        )

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages; at the end of the last one, what was sawn."""
        if self.asked:
            leave = Meaning("no: leave it as it is", self.leave_question)
            yes, tab = Meaning("yes: take it back", self.write_back), leave
            if self.asked == DONE:
                yes = Meaning("yes: it is all sawn", self.write_done)
                tab = Meaning("one bar only: asks which", self.ask_one)
            elif self.asked == ONE:
                yes = Meaning(f"yes: bar {self.bar.number} is sawn", self.write_done)
                tab = Meaning("another bar", self.next_bar)
            return {"space": yes, "enter": leave, "tab": tab, "backspace": leave, "q": leave}
        leave = Meaning("leave the cut list", self.back)
        enter = Meaning("nothing is to be sawn")
        if self.told.pieces:
            enter = Meaning("it has been sawn: asks first", partial(self.ask, DONE))
        tab = Meaning("nothing was sawn yet")
        if self.last:
            tab = Meaning("take the last sawing back: asks", partial(self.ask, BACK))
        to_first = Meaning("to the first page", partial(self.turn, -self.page_at))
        return self.turning(leave, to_first) | {"enter": enter, "tab": tab}

    def turn(self, by: int) -> None:
        """To another page; from further down a page, first to its top."""
        super().turn(0 if by == -1 and self.row else by)

    def ask(self, what: str) -> None:
        """Ask before it is written down."""
        self.asked = what
        self.settle()

    def ask_one(self) -> None:
        """Ask whether the bar that is shown was sawn."""
        shown = bar_shown(self.told, self.pages[self.page_at].lines, self.row)
        self.bar_at = self.told.bars.index(shown) if shown is not None else 0
        self.ask(ONE)

    def next_bar(self) -> None:
        """Ask about the next bar; after the last, the first."""
        self.bar_at = (self.bar_at + 1) % len(self.told.bars)

    def leave_question(self) -> None:
        """Nothing is written down."""
        self.asked = ""

    def write_done(self) -> None:
        """All of it was sawn, or the bar that was asked about."""
        bars = (self.bar.number,) if self.asked == ONE else ()
        self.asked = ""
        shop = self.shop.again()
        try:
            told = cut_done(shop, self.orders, bars=bars, expected=self.told, clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            self.renew()
            return
        self.renew()
        self.rests = done_words(shop, told) or ("no offcut is worth keeping",)
        self.message = "written down as sawn"

    def write_back(self) -> None:
        """The last sawing is taken back."""
        self.asked = ""
        try:
            words = f"taken back: {take_back(self.shop.again(), clock=self.clock)}"
        except CannotDo as problem:
            words = str(problem).split("\n")[0]
        self.renew()
        self.message = words

    def renew(self) -> None:
        """The list as the book is now."""
        self.shop = self.shop.again()
        still_open = {o.id for o in self.shop.state.orders.values() if o.closed is None}
        wanted = tuple(order for order in self.orders if order in still_open)
        if self.orders and not wanted:
            self.back()
            return
        self.orders = wanted
        self.told = cut_of(self.shop, self.orders)
        self.last = last_words(self.shop)
        self.rests = ()
        self.page_at = self.row = 0
