"""What the journal teaches, page by page; a suggestion is taken up or declined with one key."""

from __future__ import annotations

from functools import partial

from forgelog.desk.errors import CannotDo
from forgelog.desk.learn_pages import LearnPage, first_words, write_learn_pages
from forgelog.desk.learn_told import Learnings
from forgelog.desk.learnings import learnings_from, learnings_of, read_past
from forgelog.desk.review_read import Past
from forgelog.desk.shop import Shop
from forgelog.desk.suggestions import ask_again, decline, take_up
from forgelog.learn.suggest import Suggestion
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Page, wrapped
from forgelog.screens.turned import WIDEST, TurnedPages, told_or_why_not

READING = "reading what your own pieces teach"


class LearnScreen(TurnedPages):
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
        """Read with the first answer: what is told until then may be kept already."""
        self.learnings: Learnings | None = None
        """None until the journal has been read."""
        self.why_not = ""
        self.pages: tuple[LearnPage, ...] = ()
        self.asked = False
        """Whether the suggestion that is shown waits for its answer."""

    def on_mount(self) -> None:
        """Read the journal behind the page, so that every key is heard meanwhile."""
        self.run_worker(self.read_in_thread, thread=True, exclusive=True, exit_on_error=False)

    def read_in_thread(self) -> None:
        """In a thread: hands the result to the page."""
        learnings, words = told_or_why_not(
            partial(learnings_of, self.shop, self.recipe, report=self.reading),
            "reading what the journal teaches",
            "what the journal teaches could not be read",
        )
        self.house.call_from_thread(self.show_learnings, learnings, words)

    def show_learnings(self, learnings: Learnings | None, words: str) -> None:
        """It has been read, or could not be."""
        self.why_not = words
        if learnings is not None:
            self.learnings = learnings
            self.settle()
        self.canvas.redraw()

    def head(self) -> tuple[str, str, str]:
        """Practice is said; how far the pages are."""
        practice = "PRACTICE" if self.learnings is not None and self.learnings.practice else ""
        return "LEARNT", practice, self.how_far

    def measure(self, width: int, rows: int) -> None:
        """Pages are made for the window's width."""
        if self.learnings is None:
            return
        self.pages = write_learn_pages(self.learnings, min(WIDEST, width - 2))
        self.first = wrapped(first_words(self.learnings), width - 2, most=3)
        self.fit(rows)

    @property
    def shown(self) -> LearnPage | None:
        """The page that is open; None where there is none."""
        return self.pages[self.page_at] if self.pages else None

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """What is worth knowing, and a page; or that it is being read."""
        if self.learnings is None:
            self.put_words(page, top, rows, self.why_not or self.read_so_far or READING)
        else:
            self.put_pages(page, top)

    def meanings(self) -> dict[str, Meaning]:
        """Through the pages, SPACE the same on each; ENTER asks about a suggestion, and what is
        answered there is under other keys, so that a second knock answers nothing."""
        meanings = self.turning(Meaning("leave what was learnt", self.back))
        shown = self.shown
        if shown is None:
            return meanings
        if shown.suggestion is not None:
            if self.asked:
                return self.answers(shown.suggestion)
            meanings["enter"] = Meaning("answer it: asks first", self.ask)
        elif shown.answered:
            again = partial(self.reopen, shown.answered)
            meanings["enter"] = Meaning("take this answer back", again)
        return meanings

    def answers(self, one: Suggestion) -> dict[str, Meaning]:
        """What each key answers to a suggestion."""
        words = "yes: noted, do not tell it again"
        if one.heats is not None:
            words = f"yes: plan {one.heats} from now on"
        leave = Meaning("leave it for now", self.leave_it)
        return {
            "space": Meaning(words, partial(self.accept, one)),
            "enter": leave,
            "tab": Meaning("no: never suggest it again", partial(self.refuse, one)),
            "backspace": leave,
        }

    def ask(self) -> None:
        """Ask about the suggestion that is shown."""
        self.asked = True
        self.settle()

    def leave_it(self) -> None:
        """Leave the question unanswered."""
        self.asked = False

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
        finally:
            self.asked = False
        self.shop = self.shop.again()
        if self.past is None:
            self.past = read_past(self.shop)
        self.learnings = learnings_from(self.shop, self.past, self.recipe)
        self.row = 0
        self.settle()
        self.message = words
