"""The evening's look: pages of what the journal tells, and heats put right with one key."""

from __future__ import annotations

from functools import partial

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.review import more_heats, put_right, review_of
from forgelog.desk.review_facts import AskHeats
from forgelog.desk.review_pages import write_pages
from forgelog.desk.shop import Shop
from forgelog.floor.view import ListView
from forgelog.screens.card import put_list
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages

ROWS_OF_FIRST, ROWS_BELOW = 7, 3
"""Rows that the one thing worth knowing takes at most, on the first page and on the others."""


class ReviewScreen(TurnedPages):
    """Pages of a review; ENTER leads to what nobody pressed."""

    def __init__(
        self,
        shop: Shop,
        session: str | None = None,
        recipe: str | None = None,
        *,
        only_questions: bool = False,
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            session: Tells of this session alone; None of all.
            recipe: Tells of this recipe alone; None of all.
            only_questions: Asks for the heats that nobody pressed, and is left after the last.

        Raises:
            CannotDo: there is no such session, or nothing was worked from that recipe.
        """
        super().__init__()
        self.only_questions = only_questions
        self.shop = shop
        self.scope = (session, recipe)
        self.review = review_of(shop, session, recipe)
        self.asking: AskHeats | None = None
        self.choice = 0
        self.passed: frozenset[tuple[str, str]] = frozenset()
        """Questions that were left open for now."""
        if only_questions:
            self.asking = next(iter(self.left_to_ask()), None)

    def head(self) -> tuple[str, str, str]:
        """Practice is said; how far the pages are."""
        practice = "PRACTICE" if self.review.practice else ""
        return "REVIEW", practice, f"page {self.page_at + 1} of {max(1, len(self.pages))}"

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        self.pages = write_pages(self.review, min(WIDEST, width - 2))
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))
        # Whole on the first page; on the others what stands above is known already.
        most = ROWS_OF_FIRST if self.page_at == 0 else ROWS_BELOW
        self.first = wrapped(self.review.first, width - 2, most=most)
        self.rows = max(1, rows - len(self.first) - 2)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The open question, or a page."""
        if self.asking is not None:
            self.put_question(page, top, rows, self.asking)
            return
        hint = "p: a page to print" if self.review.shown_session else ""
        self.put_pages(page, top, hint=hint)

    def put_question(self, page: Page, top: int, rows: int, ask: AskHeats) -> None:
        """One question of what nobody pressed."""
        page.put(1, top, "HEATS THAT NOBODY PRESSED", Look.STRONG)
        listed = ListView(title=ask.words, choices=ask.choices, at=self.choice)
        put_list(page, 1, top + 2, page.width - 2, rows - 2, listed)

    def meanings(self) -> dict[str, Meaning]:
        """Pages, or the open question."""
        if self.asking is not None:
            return self.meanings_of(self.asking)
        asked = len(self.left_to_ask())
        leave = Meaning("leave the review", self.back)
        meanings = self.turning(leave)
        if not self.pages:
            meanings["space"] = leave
        if asked:
            meanings["enter"] = Meaning(f"tell heats: {asked} not pressed", self.ask_next)
        if self.review.shown_session:
            meanings["p"] = Meaning("write it as a page to print", self.write_sheet)
        return meanings

    def write_sheet(self) -> None:
        """The shown session as a page to print, into the book; says where it lies."""
        from forgelog.sheets.making import write_sheet

        try:
            shown = self.review.shown_session
            self.message = write_sheet(self.shop.again(), "session", session=shown)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]

    def meanings_of(self, ask: AskHeats) -> dict[str, Meaning]:
        """While a question is open; a digit answers it at once."""
        choice = ask.choices[self.choice]
        words = "ask with larger numbers" if choice == "more" else f"it was {choice}"
        meanings = {
            "space": Meaning("leave this one open", self.pass_over),
            "enter": Meaning(words, lambda: self.answer(ask, choice)),
            "tab": Meaning("next choice", self.next_choice),
            "backspace": Meaning("leave the questions", self.stop_asking),
            "q": Meaning("leave the questions", self.stop_asking),
        }
        for digit in "123456789":
            meanings[digit] = Meaning(f"it was {digit}", partial(self.answer, ask, digit))
        return meanings

    def left_to_ask(self) -> list[AskHeats]:
        """Questions that were not left open."""
        return [
            ask for ask in self.review.to_put_right if (ask.workpiece, ask.step) not in self.passed
        ]

    def ask_next(self) -> None:
        """The next question, or back to the pages."""
        left = self.left_to_ask()
        self.asking = left[0] if left else None
        self.choice = 0
        if self.asking is not None:
            self.settle()
        elif self.only_questions:
            self.back()

    def next_choice(self) -> None:
        """The choice further down."""
        if self.asking is not None:
            self.choice = (self.choice + 1) % len(self.asking.choices)

    def pass_over(self) -> None:
        """It stays open; the next one is asked."""
        if self.asking is not None:
            self.passed |= {(self.asking.workpiece, self.asking.step)}
        self.ask_next()

    def stop_asking(self) -> None:
        """Back to the pages."""
        self.asking = None
        self.passed = frozenset()
        if self.only_questions:
            self.back()

    def answer(self, ask: AskHeats, choice: str) -> None:
        """Write the answer down, or ask with larger numbers."""
        if choice == "more":
            larger = more_heats(int(ask.choices[-2]))
            self.asking, self.choice = msgspec.structs.replace(ask, choices=larger), 0
            return
        try:
            put_right(self.shop, ask.workpiece, ask.step, int(choice))
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            self.pass_over()
            return
        self.shop = self.shop.again()
        self.review = review_of(self.shop, *self.scope)
        self.ask_next()
        self.message = f"written down: {choice} for {ask.words}"
