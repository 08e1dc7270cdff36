"""The evening's look: pages of what the journal tells, and heats put right with one key."""

from __future__ import annotations

from functools import partial

import msgspec
from textual.worker import get_current_worker

from forgelog.desk.errors import CannotDo
from forgelog.desk.review import look_back, more_heats, put_right
from forgelog.desk.review_facts import AskHeats, LookedBack
from forgelog.desk.review_pages import write_pages
from forgelog.desk.shop import Shop
from forgelog.floor.view import ListView
from forgelog.screens.card import put_list
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages, told_or_why_not

READING = "looking back"
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
        told: LookedBack | None = None,
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            session: Tells of this session alone; None of all.
            recipe: Tells of this recipe alone; None of all.
            only_questions: Asks for the heats that nobody pressed, and is left after the last.
            told: Its opening, where that has been read already.
        """
        super().__init__()
        self.only_questions = only_questions
        self.shop = shop
        self.scope = (session, recipe)
        if told is None and only_questions:
            told = look_back(shop, opening=True)
        self.told = told
        """None until the journal has been read; then its opening, and soon after all of it."""
        self.whole = False
        """Whether all of it has been told once."""
        self.why_not = ""
        self.made_for: tuple[LookedBack, int] | None = None
        """Of what and for which width the pages were made."""
        self.asking: AskHeats | None = None
        self.choice = 0
        self.passed: frozenset[tuple[str, str]] = frozenset()
        """Questions that were left open for now."""
        self.answered: frozenset[tuple[str, str]] = frozenset()
        """Questions whose answer is written down."""
        if only_questions:
            self.asking = next(iter(self.left_to_ask()), None)

    def on_mount(self) -> None:
        """Read the journal behind the page, so that every key is heard meanwhile."""
        self.read_on()

    def read_on(self) -> None:
        """Read what is not read yet, or what has changed."""
        deed = partial(self.read_in_thread, self.shop)
        self.run_worker(deed, thread=True, exclusive=True, exit_on_error=False)

    def read_in_thread(self, shop: Shop) -> None:
        """In a thread: hands the opening to the page, and then all of it."""
        worker = get_current_worker()
        for opening in (True, False) if self.told is None else (False,):
            look = partial(look_back, shop, *self.scope, report=self.reading, opening=opening)
            told, words = told_or_why_not(
                look, "reading the review", "the review could not be read"
            )
            if worker.is_cancelled:
                return
            self.house.call_from_thread(self.show_told, told, words, whole=not opening)
            if told is None:
                return

    def show_told(self, told: LookedBack | None, words: str, *, whole: bool) -> None:
        """It has been read, or could not be."""
        if told is not None:
            self.told, self.whole = told, self.whole or whole
        self.why_not = words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """Practice is said; how far the pages are."""
        practice = "PRACTICE" if self.told is not None and self.told.review.practice else ""
        far = f"page {self.page_at + 1}" if self.told is not None else ""
        return "REVIEW", practice, f"{far} of {max(1, len(self.pages))}" if self.whole else far

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.told is None:
            return
        told, wide = self.told, min(WIDEST, width - 2)
        if self.made_for is None or self.made_for[0] is not told or self.made_for[1] != wide:
            self.made_for = (told, wide)
            self.pages = write_pages(told.review, wide, told.left, opening=not self.whole)
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))
        # Whole on the first page; on the others what stands above is known already.
        most = ROWS_OF_FIRST if self.page_at == 0 else ROWS_BELOW
        self.first = wrapped(self.told.review.first, width - 2, most=most)
        self.rows = max(1, rows - len(self.first) - 2)

    @property
    def shown_session(self) -> str:
        """The session that is looked at closely; "" where there is none, or none is read yet."""
        return self.told.review.shown_session if self.told is not None else ""

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The open question, a page, or that the journal is being read."""
        if self.asking is not None:
            self.put_question(page, top, rows, self.asking)
        elif self.told is None:
            self.put_words(page, top, rows, self.why_not or self.read_so_far or READING)
        else:
            hint = "p: a page to print" if self.shown_session else ""
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
        if not (self.whole or self.why_not):
            if self.on_last and not self.more_below:
                meanings["space"] = meanings["tab"] = Meaning("the rest is still being read")
        elif not self.pages:
            meanings["space"] = leave
        if asked:
            meanings["enter"] = Meaning(f"tell heats: {asked} not pressed", self.ask_next)
        if self.shown_session:
            meanings["p"] = Meaning("write it as a page to print", self.write_sheet)
        return meanings

    def write_sheet(self) -> None:
        """The shown session as a page to print, into the book; says where it lies."""
        from forgelog.sheets.making import write_sheet

        try:
            session = self.shown_session
            self.message = write_sheet(self.shop.again(), "session", session=session)
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
        """Questions that were neither answered nor left open."""
        asked = self.told.review.to_put_right if self.told is not None else ()
        done = self.passed | self.answered
        return [ask for ask in asked if (ask.workpiece, ask.step) not in done]

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
        self.answered |= {(ask.workpiece, ask.step)}
        self.read_on()
        self.ask_next()
        self.message = f"written down: {choice} for {ask.words}"
