"""A page whose rows can open a list over it: one choice of a few, then back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import OrderPage
from forgelog.screens.page import Look, Page


class AskingPage(OrderPage):
    """A list of what can be told, digits that are being set, and a list that a row has opened."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop)
        self.sub: Chooser | None = None
        """The opened list."""
        self.asked = ""
        """What it asks."""
        self.sub_deeds: Mapping[str, Callable[[], None]] = {}

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The opened list, else what stands below it."""
        if self.digits is not None or self.sub is None:
            super().put_body(page, top, rows)
            return
        page.put(1, top, self.asked, Look.STRONG)
        put_chooser(page, top + 2, rows - 2, self.sub)

    def meanings(self) -> dict[str, Meaning]:
        """Those of the opened list, else what stands below it."""
        if self.digits is not None or self.sub is None:
            return super().meanings()
        return self.sub_meanings(self.sub)

    def sub_meanings(self, sub: Chooser) -> dict[str, Meaning]:
        """While a list is open."""
        item = sub.item
        take = Meaning("nothing to choose")
        if item is not None:
            take = Meaning("it is this one", self.sub_deeds[item.id])
        leave = Meaning("leave it as it was", self.close_sub)
        return {
            "space": leave,
            "enter": take,
            "tab": Meaning("next choice", partial(self.move_sub, 1)),
            "backspace": leave,
            "q": leave,
            "down": Meaning("next choice", partial(self.move_sub, 1)),
            "up": Meaning("the one before", partial(self.move_sub, -1)),
        }

    def open_sub(self, title: str, choices: Mapping[str, Callable[[], None]]) -> None:
        """Open a list over the page."""
        self.asked = title
        self.sub_deeds = choices
        self.sub = Chooser(items=tuple(Item(id=words, words=words) for words in choices))

    def close_sub(self) -> None:
        """Back to the page."""
        self.sub = None

    def move_sub(self, by: int) -> None:
        """Down or up the opened list."""
        if self.sub is not None:
            self.sub = self.sub.moved(by)
