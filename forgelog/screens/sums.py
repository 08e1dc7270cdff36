"""The sums of the trade with four keys: choose one, step through what it asks, read the answer."""

from __future__ import annotations

from functools import partial

from forgelog.desk.sums.answer import Answer
from forgelog.desk.sums.asking import CannotSum
from forgelog.desk.sums.form import (
    Form,
    Slot,
    answer_of,
    begin,
    choices,
    stepped,
    usual_of,
    written,
)
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.entry import Entry
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Page
from forgelog.screens.sums_page import (
    figure_rows,
    figures_height,
    put_answer,
    put_figures,
    put_slots,
)
from forgelog.screens.typing_line import TypingScreen
from forgelog.trade.words import in_dialect


class SumsScreen(TypingScreen):
    """A list of sums; then one sum with its answer."""

    def __init__(self, *, units: str = "mm", dialect: str = "uk", book: str | None = None) -> None:
        super().__init__()
        self.units = units
        self.dialect = dialect
        self.book = book
        self.chooser = Chooser(
            items=tuple(
                Item(id=one.name, words=f"{one.name}: {one.says}", title=one.title)
                for one in choices()
            )
        )
        self.form: Form | None = None
        self.answer: Answer | str = ""
        self.at = 0
        """Which slot is chosen; one after the last is the rest of the figures."""
        self.row = 0
        """First figure that is shown."""
        self.more = False
        """Whether there are more figures than are seen at once."""
        self.rows = 1

    @property
    def slots(self) -> tuple[Slot, ...]:
        """What the sum asks for."""
        return self.form.slots if self.form is not None else ()

    @property
    def slot(self) -> Slot | None:
        """The chosen slot; None where the figures are chosen."""
        return self.slots[self.at] if self.at < len(self.slots) else None

    def head(self) -> tuple[str, str, str]:
        """Which sum, and in which units."""
        if self.form is None:
            return "SUMS", "", self.units
        return "SUMS", self.form.one.name.upper(), self.units

    def measure(self, width: int, rows: int) -> None:
        """How many figures are seen at once decides what TAB goes through."""
        if self.form is None:
            return
        self.rows = figures_height(rows)
        told = self.figures(width)
        self.more = len(told) > self.rows
        if not self.more:
            self.row = 0
            self.at = min(self.at, max(0, len(self.slots) - 1))

    def figures(self, width: int) -> tuple[str, ...]:
        """Everything but the first figure, in rows."""
        if isinstance(self.answer, str):
            return ()
        rows = figure_rows(self.answer, self.units, width)
        return tuple(in_dialect(row, self.dialect) for row in rows)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The list, or the sum."""
        if self.form is None:
            put_chooser(page, top, rows, self.chooser)
            return
        used = put_answer(page, top, self.answer, self.units, self.dialect)
        top, rows = top + used, rows - used
        put_slots(page, top, rows, self.slots, self.at, self.dialect)
        told = self.figures(page.width)
        put_figures(page, top, rows, told, self.row, chosen=self.slot is None)

    def meanings(self) -> dict[str, Meaning]:
        """What each key does now."""
        if self.form is None:
            return self.meanings_of_list()
        slot = self.slot
        if slot is None:
            space = Meaning("further figures", self.further)
            enter = Meaning("back to what it asks", lambda: self.go_to(0))
        elif slot.field.kind == "flag":
            space = Meaning("no" if slot.text else "yes", self.step)
            enter = space
        else:
            some = bool(usual_of(slot))
            space = Meaning("next usual choice", self.step) if some else Meaning("type it: ENTER")
            enter = Meaning("type it", self.ask_for_it)
        if len(self.slots) + self.more > 1:
            tab = Meaning("next line", self.next_slot)
        else:
            tab = Meaning("it asks nothing else")
        back = Meaning("another sum", self.leave_sum)
        found = {"space": space, "enter": enter, "tab": tab, "backspace": back, "q": back}
        found["down"] = tab
        found["up"] = Meaning("line before", lambda: self.next_slot(-1))
        if slot is not None and slot.field.kind != "flag":
            for digit in "123456789":
                found[digit] = Meaning("type it", partial(self.ask_for_it, digit))
        return found

    def meanings_of_list(self) -> dict[str, Meaning]:
        """While a sum is chosen."""
        item = self.chooser.item
        leave = Meaning("leave the sums", self.back)
        name = item.id if item is not None else ""
        found = {
            "space": leave,
            "enter": Meaning(f"this one: {name}", lambda: self.open(name)),
            "tab": Meaning("next sum", lambda: self.move(1)),
            "backspace": leave,
            "q": leave,
        }
        found["down"], found["up"] = found["tab"], Meaning("sum before", lambda: self.move(-1))
        return found

    def move(self, by: int) -> None:
        """Down or up the list."""
        self.chooser = self.chooser.moved(by)

    def open(self, name: str) -> None:
        """Take a sum; its own example stands in it."""
        self.at = self.row = 0
        self.take(begin(name))

    def take(self, form: Form) -> None:
        """What is said has changed: the answer too."""
        self.form = form
        self.row = 0
        self.answer = answer_of(form, self.book)

    def leave_sum(self) -> None:
        """Back to the list."""
        self.form, self.entry = None, None

    def next_slot(self, by: int = 1) -> None:
        """Another line, round the ends."""
        self.at = (self.at + by) % (len(self.slots) + self.more)

    def go_to(self, at: int) -> None:
        """A line by its number."""
        self.at, self.row = at, 0

    def further(self) -> None:
        """Further figures, and from the end back to the first."""
        self.row += max(1, self.rows - 1)
        if self.row >= len(self.figures(self.size.width)):
            self.row = 0

    def step(self) -> None:
        """The next usual choice."""
        if self.form is not None and self.slot is not None:
            self.take(stepped(self.form, self.slot))

    def ask_for_it(self, begun: str = "") -> None:
        """Open a line to type in."""
        if self.slot is not None:
            self.entry = Entry(asked=self.slot.words, typed=begun)
            self.show_entry()

    def take_line(self, line: str) -> None:
        """What was typed, where it can be read."""
        if self.form is None or self.slot is None:
            return
        try:
            self.take(written(self.form, self.slot, line))
        except CannotSum as problem:
            self.message = str(problem).split("\n")[0]
