"""What pages of an order share: a list of what can be set, digits and lines that are being set."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual import events

from forgelog.desk.clock import RealClock
from forgelog.desk.dates import local_day
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.digits import Digits
from forgelog.screens.entry import Entry
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.screens.parts import put_large
from forgelog.screens.typing_line import TypingScreen
from forgelog.units import ReadError, UnitSystem

DATE_SAYS = "year, month, day"

Taken = Callable[[str], None]
"""Takes the text of digits or of a line; raises CannotDo or ReadError where it cannot be."""


class OrderPage(TypingScreen):
    """A list of what can be set, and digits that are being set."""

    def __init__(self, shop: Shop) -> None:
        super().__init__()
        self.shop = shop
        self.chooser = Chooser(items=())
        self.digits: Digits | None = None
        self.digits_for = ""
        self.digits_says = ""
        self.taken: Taken | None = None

    @property
    def in_inches(self) -> bool:
        """Whether the shop shows inches."""
        return self.shop.settings.shop.units == UnitSystem.INCH

    def items(self) -> tuple[Item, ...]:
        """What can be set, as it stands."""
        raise NotImplementedError

    def choose(self, item: Item) -> Meaning:
        """What ENTER does on a row."""
        raise NotImplementedError

    def renew(self) -> None:
        """The rows as they stand now."""
        self.chooser = self.chooser.with_items(self.items())

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The list, or the digits, large."""
        digits = self.digits
        if digits is None:
            put_chooser(page, top, rows, self.chooser)
            return
        page.put(1, top, self.digits_for, Look.STRONG)
        y = top + 1
        for row in wrapped(self.digits_says, page.width - 2, most=3):
            page.put(1, y, row)
            y += 1
        y += 1
        before, under, after = (
            digits.text[: digits.column],
            digits.text[digits.column],
            digits.text[digits.column + 1 :],
        )
        put_large(page, 1, y, digits.text)
        x = page.put(1, y + 7, before)
        x = page.put(x, y + 7, under, Look.SIGN)
        page.put(x, y + 7, after)
        page.put(1, y + 9, "the digit in reverse is under the key; digits can be typed as well")

    def meanings(self) -> dict[str, Meaning]:
        """The list's keys, or those that set digits."""
        if self.digits is not None:
            return self.digit_meanings(self.digits)
        item = self.chooser.item
        enter = self.choose(item) if item is not None else Meaning("nothing to choose")
        back = Meaning("leave this page", self.back)
        return {
            "space": Meaning("nothing to mark here"),
            "enter": enter,
            "tab": Meaning("next", partial(self.move, 1)),
            "backspace": back,
            "q": back,
            "down": Meaning("next", partial(self.move, 1)),
            "up": Meaning("the one before", partial(self.move, -1)),
        }

    def digit_meanings(self, digits: Digits) -> dict[str, Meaning]:
        """SPACE raises the digit, TAB goes to the next, ENTER takes them all."""
        meanings = {
            "space": Meaning("one higher", partial(self.set_digits, digits.raised())),
            "enter": Meaning(f"take {digits.text}", self.take_digits),
            "tab": Meaning("next digit", partial(self.set_digits, digits.next())),
            "backspace": Meaning("leave it as it was", self.leave_digits),
        }
        for digit in "123456789":
            meanings[digit] = Meaning(digit, partial(self.set_digits, digits.typed(digit)))
        return meanings

    def on_key(self, event: events.Key) -> None:
        """A nought is a digit while digits are set, and nowhere else."""
        if self.entry is None and self.digits is not None and event.character == "0":
            event.stop()
            event.prevent_default()
            self.set_digits(self.digits.typed("0"))
            self.canvas.redraw()
        else:
            super().on_key(event)

    def take_line(self, line: str) -> None:
        """What was typed goes where it was asked for."""
        if self.taken is not None and self.tried(partial(self.taken, line)):
            self.renew()

    def ask_text(self, words: str, taken: Taken) -> None:
        """Open a line to type in."""
        self.entry, self.taken = Entry(asked=words), taken
        self.show_entry()

    def move(self, by: int) -> None:
        """Down or up the list."""
        self.chooser = self.chooser.moved(by)

    def ask_digits(self, digits: Digits, words: str, says: str, taken: Taken) -> None:
        """Open digits to be set."""
        self.digits, self.digits_for, self.digits_says, self.taken = digits, words, says, taken

    def set_digits(self, digits: Digits) -> None:
        """A key set one."""
        self.digits = digits

    def leave_digits(self) -> None:
        """Nothing is set."""
        self.digits = None

    def take_digits(self) -> None:
        """Hand them on; stay where they cannot be."""
        digits, taken = self.digits, self.taken
        if digits is None or taken is None:
            return
        if self.tried(partial(taken, digits.text)):
            # What was taken may have asked for the next number at once.
            self.digits = None if self.digits is digits else self.digits
            self.renew()

    def tried(self, deed: Callable[[], object]) -> bool:
        """Do something at the desk; say in a line why it cannot be."""
        try:
            deed()
        except (CannotDo, ReadError) as problem:
            self.message = str(problem).split("\n")[0]
            return False
        return True


def asked_date(promised: str) -> str:
    """The date that the digits begin with: the promised one, or today."""
    if promised:
        return promised
    now = RealClock().stamp()
    return local_day(now.wall, now.offset).isoformat()
