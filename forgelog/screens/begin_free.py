"""Work without a recipe begins: what it is cut from, with four keys."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.desk.errors import CannotDo
from forgelog.desk.free_work import MOST_EACH, FreePart, sections_at_hand, take_free
from forgelog.desk.orders import line_of
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.screens.chooser import Item
from forgelog.screens.digits import count_digits, length_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import OrderPage
from forgelog.trade.sections import Section, parse_section, show_section
from forgelog.units import parse_length, show_length

USUAL_CUT_MM = 200.0
"""What the digits begin with."""


class BeginFreeScreen(OrderPage):
    """One component, its bar and how many; all of it can be left as it is proposed."""

    def __init__(self, shop: Shop, *, on_taken: Callable[[str], None] | None = None) -> None:
        """Make it.

        Args:
            shop: The book.
            on_taken: Told the id of the order once it has been begun.
        """
        super().__init__(shop)
        self.on_taken = on_taken
        self.title_text = "Free work"
        self.name_text = "piece"
        self.bars = sections_at_hand(shop)
        self.bar: Section = self.bars[0]
        self.cut_mm: float | None = None
        self.each = 1
        self.others: tuple[FreePart, ...] = ()
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """What it is."""
        return "WORK WITHOUT A RECIPE", harmless(self.title_text), ""

    def items(self) -> tuple[Item, ...]:
        """What is made, from which bar, how many."""
        units = self.shop.settings.shop.units
        cut = show_length(self.cut_mm, units) if self.cut_mm is not None else "not measured"
        done = (
            Item(
                id="",
                words=f"{part.each} {harmless(part.name)}",
                right=show_section(part.section, units),
                title="SAID ALREADY" if i == 0 else "",
            )
            for i, part in enumerate(self.others)
        )
        return (
            Item(id="begin", words="begin", title="WHEN ALL IS RIGHT"),
            Item(id="bar", words="its bar", right=show_section(self.bar, units), title="THE PIECE"),
            Item(id="other bar", words="another bar, written"),
            Item(id="cut", words="cut to", right=cut),
            Item(id="each", words="how many alike", right=str(self.each)),
            Item(id="name", words="what you call it", right=harmless(self.name_text)),
            Item(id="more", words="that is one piece; another kind goes with it"),
            Item(
                id="title", words="what is made", right=harmless(self.title_text), title="ALL OF IT"
            ),
            *done,
        )

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        return {
            "begin": Meaning("begin the work", self.begin),
            "bar": Meaning("the next bar of the rack", self.next_bar),
            "other bar": Meaning("write the bar", self.ask_bar),
            "cut": Meaning("set the length", self.ask_cut),
            "each": Meaning("set how many", self.ask_each),
            "name": Meaning("say what it is called", self.ask_name),
            "more": Meaning("go on to the next piece", self.keep_part),
            "title": Meaning("say what is made", self.ask_title),
        }.get(item.id, Meaning("said already"))

    def next_bar(self) -> None:
        """Through the bars that lie there."""
        at = self.bars.index(self.bar) if self.bar in self.bars else -1
        self.bar = self.bars[(at + 1) % len(self.bars)]
        self.renew()

    def ask_bar(self) -> None:
        """A bar that is not on the rack."""
        self.ask_text("the bar, like 12 mm square", self.set_bar)

    def set_bar(self, text: str) -> None:
        """As it was written."""
        self.bar = parse_section(text)

    def ask_cut(self) -> None:
        """How long it is cut."""
        mm = self.cut_mm if self.cut_mm is not None else USUAL_CUT_MM
        digits = length_digits(mm, in_inches=self.in_inches)
        self.ask_digits(digits, "CUT TO", "the length of bar it is made from", self.set_cut)

    def set_cut(self, text: str) -> None:
        """So long; nothing where it is not measured."""
        self.cut_mm = parse_length(text) or None

    def ask_each(self) -> None:
        """How many alike."""
        self.ask_digits(count_digits(self.each), "HOW MANY ALIKE", "", self.set_each)

    def set_each(self, text: str) -> None:
        """So many."""
        if not 1 <= int(text) <= MOST_EACH:
            raise CannotDo(f"a number from 1 to {MOST_EACH}")
        self.each = int(text)

    def ask_name(self) -> None:
        """What the piece is called."""
        self.ask_text("what you call it", self.set_name)

    def set_name(self, text: str) -> None:
        """One line."""
        self.name_text = line_of(text, "name")

    def ask_title(self) -> None:
        """What is made."""
        self.ask_text("what is made", self.set_title)

    def set_title(self, text: str) -> None:
        """One line."""
        self.title_text = line_of(text, "title")

    def part(self) -> FreePart:
        """The piece as it stands on the page."""
        return FreePart(name=self.name_text, section=self.bar, cut_mm=self.cut_mm, each=self.each)

    def keep_part(self) -> None:
        """This piece is said; the page asks for another one."""
        self.others = (*self.others, self.part())
        self.name_text = f"piece {len(self.others) + 1}"
        self.cut_mm, self.each = None, 1
        self.renew()

    def begin(self) -> None:
        """Write it down."""

        def deed() -> None:
            parts = (*self.others, self.part())
            order = take_free(self.shop.again(), self.title_text, parts)
            if self.on_taken is not None:
                self.on_taken(order.id)

        if self.tried(deed):
            self.back()
