"""Pages away from the floor: a title, a body, and four keys that say what they do."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from typing import NamedTuple

from textual._time import get_time

from forgelog.floor.view import KeyLine
from forgelog.screens.page import Line, Look, Page
from forgelog.screens.paged import PagedScreen
from forgelog.screens.parts import fits, keys_height, put_head, put_keys, too_small

_AROUND = 7
"""Rows of head, message and keys with their rule, at most in all but the rarest cases."""

BIG_KEYS = ("space", "enter", "tab", "backspace")


class Meaning(NamedTuple):
    """What a key does here: the words of the bottom line and the deed, from one place."""

    words: str
    """At most 34 letters."""
    deed: Callable[[], None] | None = None
    """None where the key only says why it does nothing."""


class FourKeyScreen(PagedScreen):
    """A page with a body and four keys."""

    ready_at = 0.0
    """Until then keys that answer are not taken: they were meant for what stood here before."""
    message = ""
    """One line above the keys: what was done, or why not. Gone with the next key."""

    @abstractmethod
    def head(self) -> tuple[str, str, str]:
        """The top row: left, middle (strong) and right."""

    @abstractmethod
    def put_body(self, page: Page, top: int, rows: int) -> None:
        """Draw the body into so many rows from row `top` on."""

    @abstractmethod
    def meanings(self) -> dict[str, Meaning]:
        """What space, enter, tab and backspace do now, and further keys that are never needed."""

    def lines_of_keys(self) -> tuple[KeyLine, ...]:
        """The bottom line."""
        meanings = self.meanings()
        return tuple(
            KeyLine(key=key.upper(), words=meanings[key].words, live=meanings[key].deed is not None)
            for key in BIG_KEYS
        )

    def measure(self, width: int, rows: int) -> None:
        """Told before each drawing how much room the body has at least; keys may hang on it."""

    def draw(self, width: int, height: int) -> tuple[Line, ...]:
        """Head, body, message and keys."""
        self.measure(width, height - _AROUND)
        keys = self.lines_of_keys()
        if not fits(width, height):
            return too_small(width, height, keys).lines()
        page = Page(width, height)
        put_head(page, *self.head())
        bottom = height - keys_height(keys, width)
        put_keys(page, bottom, keys)
        page.put(1, bottom - 1, self.message, Look.STRONG)
        self.put_body(page, 2, bottom - 3)
        return page.lines()

    def pressed(self, key: str) -> None:
        """Do what the line says."""
        if key not in ("tab", "backspace") and get_time() < self.ready_at:
            self.message = "that key came too soon for this question: press it again"
            return
        self.message = ""
        meaning = self.meanings().get(key)
        if meaning is None:
            return
        if meaning.deed is None:
            self.message = meaning.words
        else:
            meaning.deed()

    def settle(self) -> None:
        """A question has just come up: a bounce of the key before it must not answer it."""
        self.ready_at = get_time() + self.house.settle_s

    def back_with(self, message: str) -> None:
        """Leave this page; the one below it says the message."""
        stack = self.house.screen_stack
        below = stack[-2] if len(stack) > 1 else None
        if message and isinstance(below, FourKeyScreen):
            below.message = message
        self.back()

    def back(self) -> None:
        """Leave this page for the one below it, or the program."""
        if len(self.house.screen_stack) > 1:
            self.house.pop_screen()
        else:
            self.house.exit(return_code=0)
