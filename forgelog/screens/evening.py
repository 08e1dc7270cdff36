"""The evening on one page: what the record still wants to know, and what comes first tomorrow."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.evening import evening
from forgelog.desk.evening_deeds import prove_cut, stow, tell_bottle, tell_fuel
from forgelog.desk.evening_told import CutAsked, Evening, FuelAsked, KeptBar, Lying
from forgelog.desk.rack import keep_offcut, use_up
from forgelog.desk.shop import Shop
from forgelog.screens.asking import AskingPage
from forgelog.screens.chooser import Item, put_chooser
from forgelog.screens.digits import length_digits, mass_digits
from forgelog.screens.evening_rows import NOT_TOLD, PASSED, evening_rows
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.page import Look, Page, wrapped
from forgelog.units import parse_length, parse_mass, show_length

FIRST_ROWS = 3
"""Rows that the one thing worth knowing takes at most."""


class EveningScreen(AskingPage):
    """A list of what can be told; ENTER tells, SPACE leaves it for tonight."""

    def __init__(
        self, shop: Shop, *, clock: Clock | None = None, first: Callable[[Shop], str] | None = None
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            clock: Of what is written down; the machine's own where None.
            first: Reads the one thing worth knowing; None for the review.
        """
        super().__init__(shop)
        self.clock = clock
        self.evening: Evening = evening(shop, clock=clock)
        self.read_first = first or _first_of_review
        self.first = ""
        """The one thing worth knowing; "" until it has been read."""
        self.was_left = False
        self.passed: frozenset[str] = frozenset()
        """Rows that were left for tonight."""
        self.renew()

    def on_mount(self) -> None:
        """The list is seen at once; the look back over the whole record comes behind it."""
        self.settle()
        self.call_after_refresh(
            lambda: self.run_worker(self.read_in_thread, thread=True, exit_on_error=False)
        )

    def read_in_thread(self) -> None:
        """In a thread: hands the words to the page."""
        from forgelog.desk.faults import note_fault

        try:
            words = self.read_first(self.shop.again())
        except Exception as fault:
            note_fault(fault, "reading the one thing worth knowing")
            words = f"the record could not be looked over: {fault}"
        self.house.call_from_thread(self.show_first, words)

    def show_first(self, words: str) -> None:
        """It has been read."""
        self.first = words
        self.canvas.redraw()

    def on_screen_resume(self) -> None:
        """Back from the review or a lay-out: the book may say something else now."""
        if self.was_left:
            self.look_again()
        self.canvas.redraw()

    def on_screen_suspend(self) -> None:
        """Another page is on top: when this one is seen again, the book may have changed."""
        self.was_left = True

    def head(self) -> tuple[str, str, str]:
        """Which day."""
        left = sum(item.right == NOT_TOLD for item in self.chooser.items)
        return "EVENING", self.evening.day, f"{left} to tell" if left else "all told"

    def is_open(self, item: Item) -> bool:
        """Whether a row still asks for something."""
        return item.right in (NOT_TOLD, PASSED)

    def items(self) -> tuple[Item, ...]:
        """Everything that can be told, then what comes first tomorrow."""
        return evening_rows(self.evening, self.passed)

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        kind, _, number = item.id.partition(" ")
        if kind == "lying":
            lying = self.evening.lying[int(number)]
            if not lying.can_be_told:
                return Meaning("the session has not been ended")
            return Meaning("say where it lies", partial(self.ask_where, lying))
        if kind == "cut":
            return Meaning(
                "say how it came out", partial(self.ask_cut, self.evening.cuts[int(number)])
            )
        return {
            "review": Meaning("open the review", self.open_review),
            "heats": Meaning("tell the heats", self.tell_heats),
            "fuel": Meaning("tell the fuel", self.ask_fuel),
            "keep": Meaning("choose the bar", self.ask_bar),
            "use": Meaning("choose which one", self.ask_used),
            "next": Meaning("lay out what comes first", self.open_layout),
            "sheet": Meaning("type it in the shell to print it"),
            "leave": Meaning("leave", self.back),
        }[kind]

    def meanings(self) -> dict[str, Meaning]:
        """The list's keys, those of an opened list, or those that set digits."""
        meanings = super().meanings()
        if self.digits is not None or self.sub is not None:
            return meanings
        item = self.chooser.item
        space = Meaning("nothing is asked here")
        if item is not None and self.is_open(item):
            space = Meaning("not tonight: the next one", partial(self.pass_over, item.id))
        return {**meanings, "space": space}

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The one thing worth knowing over the list; or what is asked."""
        if self.digits is not None or self.sub is not None:
            super().put_body(page, top, rows)
            return
        said = wrapped(self.first, page.width - 2, most=FIRST_ROWS)
        for y, row in enumerate(said):
            page.put(1, top + y, row, Look.STRONG)
        above = len(said) + 1 if said else 0
        put_chooser(page, top + above, rows - above, self.chooser)

    def pass_over(self, row: str) -> None:
        """It stays open; the next row."""
        self.passed |= {row}
        self.renew()
        self.move(1)

    def look_again(self) -> None:
        """What stands in the book now."""
        self.shop = self.shop.again()
        self.evening = evening(self.shop, clock=self.clock)
        self.renew()

    def told(self, deed: Callable[[], object], words: str) -> None:
        """Write something down, and go on to the next row where that is all that it asked."""
        self.sub = None
        if not self.tried(deed):
            return
        row = self.chooser.item
        self.look_again()
        same = row is not None and self.chooser.item is not None and self.chooser.item.id == row.id
        if same and row is not None and self.is_open(row):
            self.move(1)
        self.message = f"written down: {words}"

    def open_review(self) -> None:
        """The pages of the review: the last session closely, and what is open from before it."""
        from forgelog.screens.review import ReviewScreen

        self.house.push_screen(ReviewScreen(self.shop.again()))

    def tell_heats(self) -> None:
        """The questions of the review; it is left when they are answered."""
        from forgelog.screens.review import ReviewScreen

        self.house.push_screen(ReviewScreen(self.shop.again(), only_questions=True))

    def open_layout(self) -> None:
        """The lay-out of the orders that come first."""
        from forgelog.screens.layout import LayoutScreen

        try:
            page = LayoutScreen(self.shop.again(), list(self.evening.orders), clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

    def ask_where(self, lying: Lying) -> None:
        """Where some alike pieces lie."""
        self.open_sub(
            f"WHERE DOES IT LIE? {lying.words}",
            {where: partial(self.tell_where, lying, where) for where in self.evening.places},
        )

    def tell_where(self, lying: Lying, where: str) -> None:
        """There."""
        deed = partial(stow, self.shop, lying.workpieces, where, clock=self.clock)
        self.told(deed, f"{lying.words}, {where}")

    def ask_fuel(self) -> None:
        """The bottle's weight before, or what was burnt."""
        fuel = self.evening.fuel
        assert fuel is not None
        if not fuel.weighed:
            digits = mass_digits(0.0, in_pounds=self.in_inches)
            self.ask_digits(
                digits, f"{fuel.kind.upper()} BURNT", "", partial(self.tell_burnt, fuel)
            )
            return
        says = "with the bottle itself, as the scale shows it"
        digits = mass_digits(fuel.before_kg or 0.0, in_pounds=self.in_inches)
        self.ask_digits(digits, "THE BOTTLE BEFORE", says, partial(self.ask_after, fuel))

    def tell_burnt(self, fuel: FuelAsked, text: str) -> None:
        """So much."""
        tell_fuel(self.shop, fuel, parse_mass(text), clock=self.clock)
        self.after_digits(f"{text} of {fuel.kind}")

    def ask_after(self, fuel: FuelAsked, text: str) -> None:
        """The bottle's weight after."""
        before_kg = parse_mass(text)
        digits = mass_digits(before_kg, in_pounds=self.in_inches)
        self.ask_digits(digits, "THE BOTTLE AFTER", "", partial(self.tell_after, fuel, before_kg))

    def tell_after(self, fuel: FuelAsked, before_kg: float, text: str) -> None:
        """Both are known."""
        tell_bottle(self.shop, fuel, before_kg, parse_mass(text), clock=self.clock)
        self.after_digits("what the bottle lost")

    def ask_bar(self) -> None:
        """Of which bar the rest is."""
        choices = {bar.words: partial(self.ask_rest, bar) for bar in self.evening.bars}
        self.open_sub("OF WHICH BAR IS IT THE REST?", choices)

    def ask_rest(self, bar: KeptBar) -> None:
        """How long the rest is."""
        self.sub = None
        digits = length_digits(0.0, in_inches=self.in_inches)
        says = f"a rest of {bar.words}; write {self.evening.label} on it"
        self.ask_digits(digits, "HOW LONG IS IT?", says, partial(self.tell_rest, bar))

    def tell_rest(self, bar: KeptBar, text: str) -> None:
        """It is on the rack."""
        label = self.evening.label
        keep_offcut(
            self.shop,
            bar.section,
            parse_length(text),
            steel=bar.steel,
            label=label,
            clock=self.clock,
        )
        long = show_length(parse_length(text), self.shop.settings.shop.units)
        self.after_digits(f"{label}, {long} of {bar.words}")

    def ask_used(self) -> None:
        """Which one is used up."""
        choices = {one.words: partial(self.tell_used, one.label) for one in self.evening.offcuts}
        self.open_sub("WHICH OFFCUT IS USED UP?", choices)

    def tell_used(self, label: str) -> None:
        """It is gone."""
        self.told(partial(use_up, self.shop, label, clock=self.clock), f"{label} is used up")

    def ask_cut(self, cut: CutAsked) -> None:
        """How a length came out."""
        self.open_sub(
            f"HOW DID IT COME OUT? {cut.words}",
            {
                "right": partial(self.tell_right, cut),
                "too short": partial(self.ask_off, cut, -1.0),
                "too long": partial(self.ask_off, cut, 1.0),
            },
        )

    def tell_right(self, cut: CutAsked) -> None:
        """It was right."""
        self.told(partial(prove_cut, self.shop, cut, 0.0, clock=self.clock), f"{cut.words}: right")

    def ask_off(self, cut: CutAsked, sign: float) -> None:
        """By how much."""
        self.sub = None
        digits = length_digits(0.0, in_inches=self.in_inches)
        more, less = ("less", "TOO LONG") if sign > 0 else ("more", "TOO SHORT")
        says = f"how much {more} of the bar it should have been; {cut.words}"
        self.ask_digits(digits, f"{less} BY", says, partial(self.tell_off, cut, sign))

    def tell_off(self, cut: CutAsked, sign: float, text: str) -> None:
        """By so much."""
        prove_cut(self.shop, cut, sign * parse_length(text), clock=self.clock)
        self.after_digits(f"{cut.words}")

    def after_digits(self, words: str) -> None:
        """What the digits told is written down; the next row."""
        self.told(lambda: None, words)


def evening_after(shop: Shop, clock: Clock | None) -> EveningScreen:
    """The evening of a book, read anew.

    Args:
        shop: The book.
        clock: Of what is written down; the machine's own where None.
    """
    return EveningScreen(shop.again(), clock=clock)


def _first_of_review(shop: Shop) -> str:
    from forgelog.desk.review import look_back

    return look_back(shop, opening=True).review.first
