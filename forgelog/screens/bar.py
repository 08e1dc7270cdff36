"""The bar that one component is cut from, with four keys: the recipe's own, or another."""

from __future__ import annotations

from functools import partial

from forgelog.desk.bars import BarRow, BarsShown, bars_shown, choose_bar
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Look, Page, cut, wrapped

ANY_BAR = "any other bar: `forgelog order bar`"
NOTHING_ELSE = "nothing else of its shape and steel, near its size, is listed in stock.toml"
MOST_WORDS = 34
"""Letters that a key's meaning may have."""
SAYS_ROWS = 5
"""Rows under the list, for what is to be known of the bar under the key."""


class BarScreen(FourKeyScreen):
    """Steps through bars with the length that each is cut to; ENTER takes one."""

    def __init__(self, shop: Shop, order: str, component: str) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            order: Id of an open order.
            component: Id of a component that is cut from a bar.

        Raises:
            CannotDo: the recipe is gone or has errors.
        """
        super().__init__()
        self.shop = shop
        self.order = shop.state.orders[order]
        self.component = component
        self.bars: BarsShown = bars_shown(shop, self.order, component)
        self.chooser = Chooser(items=self.items(), at=self.bars.at)

    @property
    def row(self) -> BarRow:
        """The bar under the key."""
        return self.bars.rows[self.chooser.at]

    def head(self) -> tuple[str, str, str]:
        """What is cut, and how many bars there are to choose from."""
        return "CUT FROM", self.bars.title, f"{self.chooser.at + 1} of {len(self.bars.rows)}"

    def items(self) -> tuple[Item, ...]:
        """A row a bar."""
        return tuple(
            Item(
                id=str(i),
                words=f"{bar.words}, {bar.whence}" + (", chosen" if i == self.bars.at else ""),
                right=f"cut {bar.cut}" if bar.cut else "",
            )
            for i, bar in enumerate(self.bars.rows)
        )

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The bars, and what is to be known of the one under the key."""
        high = min(len(self.bars.rows), rows - SAYS_ROWS - 1)
        put_chooser(page, top, high, self.chooser)
        y = top + high + 1
        for words, look in self.says():
            for line in wrapped(words, page.width - 2):
                if y < top + rows:
                    page.put(1, y, line, look)
                y += 1

    def says(self) -> list[tuple[str, Look]]:
        """What is to be known of the bar under the key."""
        row = self.row
        said = [(problem, Look.HOT) for problem in row.problems]
        if row.cut:
            said.append((f"cut {row.cut} each, drawn to the recipe's sizes", Look.STRONG))
        if row.left:
            said.append((f"left as thick as the bar, cut {row.left}", Look.PLAIN))
        if len(self.bars.rows) == 1:
            said.append((NOTHING_ELSE, Look.PLAIN))
        said.append((ANY_BAR, Look.QUIET))
        return said

    def meanings(self) -> dict[str, Meaning]:
        """TAB and SPACE step through the bars, ENTER takes one."""
        back = Meaning("leave the bar as it is", self.back)
        on, before = partial(self.move, 1), partial(self.move, -1)
        return {
            "space": Meaning("bar before", before),
            "enter": self.enter(),
            "tab": Meaning("next bar", on),
            "backspace": back,
            "q": back,
            "down": Meaning("next bar", on),
            "up": Meaning("bar before", before),
        }

    def enter(self) -> Meaning:
        """Take the bar, or why not."""
        row = self.row
        if not row.can_be:
            return Meaning("this bar cannot be")
        if self.chooser.at == self.bars.at:
            return Meaning("leave the bar as it is", self.back)
        if row.section is None:
            return Meaning("take the recipe's own bar", self.take)
        return Meaning(cut(f"take {row.words}", MOST_WORDS), self.take)

    def move(self, by: int) -> None:
        """Down or up the bars."""
        self.chooser = self.chooser.moved(by)

    def take(self) -> None:
        """Written down, and back."""
        shop = self.shop.again()
        try:
            choose_bar(shop, shop.state.orders[self.order.id], self.component, self.row.section)
        except (CannotDo, KeyError) as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.back()
