"""A recipe, a size or a bar has changed since an order was begun: what now, with four keys."""

from __future__ import annotations

from functools import partial

from forgelog.desk.errors import CannotDo
from forgelog.desk.recipe_moved import (
    CHOICE_WORDS,
    KEEP,
    PieceMoved,
    RecipeMoved,
    recipe_moved,
    take_over,
)
from forgelog.desk.shop import Shop
from forgelog.floor.view import ListView
from forgelog.screens.card import put_list
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, wrapped

MOST_LINES = 8
"""Of what differs, shown above the question; the rest is counted."""


class MovedScreen(FourKeyScreen):
    """Asks once for the order, then for each piece that has finished a changed step."""

    def __init__(self, shop: Shop, order: str) -> None:
        super().__init__()
        self.shop = shop
        self.order = shop.state.orders[order]
        self.moved: RecipeMoved | None = recipe_moved(shop, self.order)
        self.choice = ""
        self.answers: dict[str, str] = {}
        self.at = 0

    def head(self) -> tuple[str, str, str]:
        """Which order."""
        return "CHANGED SINCE IT WAS BEGUN", self.order.title, ""

    @property
    def piece(self) -> PieceMoved | None:
        """The piece that is asked about; None while the order itself is."""
        if self.choice in ("", KEEP) or self.moved is None:
            return None
        left = (p for p in self.moved.pieces if p.workpiece not in self.answers)
        return next(left, None)

    def choices(self) -> tuple[str, ...]:
        """What can be answered now."""
        piece = self.piece
        return piece.answers if piece is not None else tuple(CHOICE_WORDS)

    def words(self, choice: str) -> str:
        """A choice in words."""
        return CHOICE_WORDS.get(choice, choice)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """What differs, and the choices."""
        moved, piece = self.moved, self.piece
        if moved is None:
            page.put(1, top, "nothing differs any more")
            return
        lines = piece.lines if piece is not None else tuple(step.words for step in moved.steps)
        title = f"{piece.slot} is done with:" if piece is not None else "WHAT DIFFERS"
        page.put(1, top, title, Look.STRONG)
        y = top + 1
        shown = [row for line in lines for row in wrapped(line, page.width - 4)]
        most = max(MOST_LINES, rows - 8)
        for row in shown[:most]:
            page.put(3, y, row)
            y += 1
        if len(shown) > most:
            page.put(3, y, f"and {len(shown) - most} more lines: see `forgelog order show`")
            y += 1
        choices = self.choices()
        listed = ListView(
            title="WHAT ABOUT IT?" if piece is not None else "WHAT SHALL HOLD?",
            choices=tuple(self.words(choice) for choice in choices),
            at=min(self.at, len(choices) - 1),
        )
        put_list(page, 1, y + 1, page.width - 2, top + rows - y - 1, listed)

    def meanings(self) -> dict[str, Meaning]:
        """TAB goes through the choices, ENTER takes one."""
        leave = Meaning("leave it open, go back", self.back)
        if self.moved is None:
            return dict.fromkeys(("space", "enter", "tab", "backspace"), leave)
        choices = self.choices()
        choice = choices[min(self.at, len(choices) - 1)]
        words = "take this" if len(self.words(choice)) > 34 else self.words(choice)
        return {
            "space": leave,
            "enter": Meaning(words, partial(self.take, choice)),
            "tab": Meaning("next choice", self.next_choice),
            "backspace": leave,
            "q": leave,
        }

    def next_choice(self) -> None:
        """The one further down."""
        self.at = (self.at + 1) % len(self.choices())

    def take(self, choice: str) -> None:
        """An answer; after the last one all of it is written down together."""
        piece = self.piece
        if piece is not None:
            self.answers[piece.workpiece] = choice
        else:
            self.choice = choice
        self.at = 0
        if self.piece is not None:
            self.settle()
        elif self.moved is not None:
            self.write_down(self.moved)

    def write_down(self, moved: RecipeMoved) -> None:
        """Pin the recipe as it is now for what was chosen."""
        try:
            take_over(self.shop.again(), moved, self.choice, self.answers)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            self.choice, self.answers = "", {}
            return
        self.back()
