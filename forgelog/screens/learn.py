"""What the journal teaches, page by page; a suggestion is taken up or declined with one key."""

from __future__ import annotations

from functools import partial

from forgelog.desk.errors import CannotDo
from forgelog.desk.learn_pages import LearnPage, first_words, write_learn_pages
from forgelog.desk.learn_told import Learnings
from forgelog.desk.learnings import ask_again, decline, learnings_from, read_past, take_up
from forgelog.desk.review_read import Past
from forgelog.desk.shop import Shop
from forgelog.learn.suggest import Suggestion
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

WIDEST = 120
"""Wider lines are hard to read."""
READING = "reading what your own pieces teach"


class LearnScreen(FourKeyScreen):
    """Suggestions first, then each recipe, then what was answered."""

    def __init__(self, shop: Shop, recipe: str | None = None) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            recipe: Id of the one that is told of; None for all.
        """
        super().__init__()
        self.shop = shop
        self.recipe = recipe
        self.past: Past | None = None
        self.learnings: Learnings | None = None
        """None until the journal has been read."""
        self.why_not = ""
        self.pages: tuple[LearnPage, ...] = ()
        self.first: list[str] = []
        """The one thing worth knowing, in rows."""
        self.page_at = 0
        self.row = 0
        """First row of the page that is shown."""
        self.rows = 1

    def on_mount(self) -> None:
        """Read the journal behind the page, so that every key is heard meanwhile."""
        self.run_worker(self.read_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def read_in_thread(self) -> None:
        """In a thread: hands the result to the page."""
        from forgelog.desk.faults import note_fault

        words = ""
        try:
            past = read_past(self.shop)
            learnings = learnings_from(self.shop, past, self.recipe)
        except CannotDo as problem:
            words = str(problem)
        except Exception as fault:
            note_fault(fault, "reading what the journal teaches")
            words = f"what the journal teaches could not be read: {fault}"
        if words:
            self.house.call_from_thread(self.show_why_not, words)
        else:
            self.house.call_from_thread(self.show_learnings, past, learnings)

    def show_learnings(self, past: Past, learnings: Learnings) -> None:
        """It has been read."""
        self.past, self.learnings = past, learnings
        self.settle()
        self.canvas.redraw()

    def show_why_not(self, words: str) -> None:
        """It could not be read."""
        self.why_not = words
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """Practice is said; how far the pages are."""
        practice = "PRACTICE" if self.learnings is not None and self.learnings.practice else ""
        pages = f"page {self.page_at + 1} of {len(self.pages)}" if self.pages else ""
        return "LEARNT", practice, pages

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.learnings is None:
            return
        self.pages = write_learn_pages(self.learnings, min(WIDEST, width - 2))
        self.first = wrapped(first_words(self.learnings), width - 2, most=3)
        self.rows = max(1, rows - len(self.first) - 2)
        self.page_at = max(0, min(self.page_at, len(self.pages) - 1))

    @property
    def shown(self) -> LearnPage | None:
        """The page that is open; None where there is none."""
        return self.pages[self.page_at] if self.pages else None

    @property
    def more_below(self) -> bool:
        """Whether the page goes on under what is shown."""
        shown = self.shown
        return shown is not None and self.row + self.rows < len(shown.lines)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """What is worth knowing, and a page; or that it is being read."""
        if self.learnings is None:
            for y, line in enumerate(wrapped(self.why_not or READING, page.width - 2, most=rows)):
                page.put(1, top + y, line)
            return
        for y, line in enumerate(self.first):
            page.put(1, top + y, line, Look.STRONG)
        top += len(self.first) + 1
        shown = self.shown
        if shown is None:
            return
        page.put(1, top, shown.title, Look.STRONG)
        for y, line in enumerate(shown.lines[self.row : self.row + self.rows]):
            page.put(1, top + 1 + y, line)
        if self.more_below:
            page.put_right(page.width - 1, top, "more below", Look.QUIET)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages; on a suggestion ENTER takes it up and SPACE declines it."""
        leave = Meaning("leave what was learnt", self.back)
        last = self.page_at + 1 >= len(self.pages)
        onward = tab = Meaning("next page", partial(self.turn, 1))
        if last:
            tab = Meaning("this is the last page")
        if not self.pages:
            onward = Meaning("there is nothing to turn yet")
        elif self.more_below:
            onward = Meaning("further down this page", self.further)
        elif last:
            onward = Meaning("that was the last page: leave", self.back)
        first = self.page_at == 0 and self.row == 0
        before = leave if first else Meaning("page before", partial(self.turn, -1))
        meanings = {"space": onward, "enter": leave, "tab": tab, "backspace": before, "q": leave}
        shown = self.shown
        if shown is None:
            return meanings
        if shown.suggestion is not None:
            one = shown.suggestion
            words = "noted: do not tell it again"
            if one.heats is not None:
                words = f"plan {one.heats} from now on"
            meanings["enter"] = Meaning(words, partial(self.accept, one))
            meanings["space"] = Meaning("no: never suggest it again", partial(self.refuse, one))
        elif shown.answered:
            again = partial(self.reopen, shown.answered)
            meanings["space"] = Meaning("take this answer back", again)
        return meanings

    def turn(self, by: int) -> None:
        """To another page."""
        self.row = 0
        self.page_at = max(0, min(len(self.pages) - 1, self.page_at + by))

    def further(self) -> None:
        """Down this page."""
        self.row += max(1, self.rows - 1)

    def accept(self, suggestion: Suggestion) -> None:
        """Take it up."""
        words = "noted"
        if suggestion.heats is not None:
            words = f"{suggestion.heats} heats are planned from now on, your own figure"
        self.answer(partial(take_up, self.shop, suggestion), words)

    def refuse(self, suggestion: Suggestion) -> None:
        """Decline it once and for all."""
        words = "not suggested again; the last pages take that back"
        self.answer(partial(decline, self.shop, suggestion), words)

    def reopen(self, suggestion: str) -> None:
        """Take an answer back."""
        self.answer(partial(ask_again, self.shop, suggestion), "the answer is taken back")

    def answer(self, deed: partial[None], words: str) -> None:
        """Write an answer down and show what stands then; a bounce answers nothing more."""
        try:
            deed()
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.shop = self.shop.again()
        if self.past is not None:
            self.learnings = learnings_from(self.shop, self.past, self.recipe)
        self.row = 0
        self.settle()
        self.message = words
