"""An order that was taken, with four keys: quote, date, sizes, spares, and how it ends."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from forgelog.desk.customers import note_customer
from forgelog.desk.done_with import call_off, close_order, deliver_order
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_view import OrderShown, order_shown
from forgelog.desk.orders import (
    change_sizes,
    free_order,
    hold_order,
    promise_order,
)
from forgelog.desk.shop import Shop
from forgelog.desk.spares import add_spares, components_for_spares, recipe_for_spares
from forgelog.recipe.resolved import Component
from forgelog.screens.chooser import Item
from forgelog.screens.digits import date_digits, length_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import DATE_SAYS, OrderPage, asked_date
from forgelog.screens.order_rows import (
    bought_rows,
    customer_rows,
    ending_rows,
    piece_rows,
    sheet_rows,
    size_rows,
    spare_rows,
)
from forgelog.units import parse_length
from forgelog.work.state import Order


class Asked(NamedTuple):
    """A deed that ends an order, asked about first."""

    words: str
    """What is asked."""
    key: str
    """What SPACE then does."""
    deed: Callable[[Shop, Order], object]


class OrderScreen(OrderPage):
    """An order that was taken."""

    def __init__(self, shop: Shop, order: str) -> None:
        super().__init__(shop)
        self.order_id = order
        self.asked: Asked | None = None
        self.shown: OrderShown = order_shown(shop, shop.state.orders[order])
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """Which order, and how far it is."""
        shown = self.shown
        far = f"{shown.steps_done} of {shown.steps} steps"
        return f"ORDER {shown.label}", shown.title, far

    def items(self) -> tuple[Item, ...]:
        """Date, held, quote, the ways it ends, who for, to print, sizes, what to buy and so on."""
        shown = self.shown
        held = shown.held is not None
        return (
            Item(id="date", words="promised for", right=shown.promised or "no date"),
            *((Item(id="no date", words="no date after all"),) if shown.promised else ()),
            Item(
                id="hold",
                words="held: nothing is to be done on it" if held else "hold it for now",
                right="held" if held else "",
            ),
            *(
                (Item(id="draft", words="write the recipe of it, with its gaps marked"),)
                if shown.free
                else ()
            ),
            Item(id="quote", words="the quote: what it costs", right=shown.offered or "no offer"),
            Item(id="cut", words="cut list: what is sawn from which bar"),
            *ending_rows(shown),
            *customer_rows(shown),
            *sheet_rows(),
            *size_rows(shown),
            *bought_rows(shown),
            *spare_rows(shown, self.for_spares()),
            *piece_rows(shown),
        )

    def for_spares(self) -> tuple[tuple[Component, str], ...]:
        """What spares can be made of; nothing where the recipe cannot be worked from."""
        try:
            order = self.shop.state.orders[self.order_id]
            return components_for_spares(recipe_for_spares(self.shop, order))
        except CannotDo:
            return ()

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        if item.id == "customer":
            return Meaning("say who it is for", self.ask_customer)
        if item.id.startswith("customer "):
            return Meaning("the order's customer file says so")
        if item.id == "draft":
            return Meaning("write the draft", self.write_draft)
        if item.id == "cut":
            return Meaning("open the cut list", self.open_cut)
        if item.id == "quote":
            return Meaning("open the quote", self.open_quote)
        if item.id.startswith("sheet "):
            kind = item.id.removeprefix("sheet ")
            return Meaning("write it as a page", partial(self.write_sheet, kind))
        if item.id == "date":
            return Meaning("set the date", self.ask_date)
        if item.id == "no date":
            return Meaning("promise no date", self.drop_date)
        if item.id == "hold":
            return Meaning(
                "work on it again" if self.shown.held is not None else "hold it", self.hold
            )
        if item.id.startswith("deliver ") or item.id in ("close", "call off"):
            return self.ending(item.id)
        if item.id.startswith("spare "):
            _, component, mark = item.id.split(" ", 2)
            return Meaning("make one more", partial(self.add_spare, component, mark))
        if item.id.startswith(("piece ", "of spare ")):
            return Meaning("the floor and the lay-out see to it")
        if item.id.startswith("bought "):
            return Meaning("the recipe says what to buy")
        return Meaning("set this size", partial(self.ask_size, item.id.removeprefix("size ")))

    def ending(self, id_: str) -> Meaning:
        """Deliver it, close it or call it off; the first two only when all is done."""
        if id_ == "call off":
            return Meaning("say why: asks first", self.ask_to_call_off)
        undone = self.shown.undone
        if undone:
            return Meaning("not yet: what is undone", partial(self.say, "; ".join(undone)))
        spares = len(self.shown.spares)
        left = f" Spares left: {'; '.join(self.shown.spares)}." if spares else ""
        if id_ == "close":
            asked = Asked(f"close this order?{left}", "close the order", close_order)
            return Meaning("close it: asks first", partial(self.ask, asked))
        how = id_.removeprefix("deliver ")
        asked = Asked(
            f"delivered, {how}? It leaves the list of open orders.{left}",
            f"yes, {how}",
            lambda shop, order: deliver_order(shop, order, how, keep_spares=bool(spares)),
        )
        return Meaning("it is delivered: asks first", partial(self.ask, asked))

    def meanings(self) -> dict[str, Meaning]:
        """The list's keys; an end is asked about on another key than it was chosen with."""
        if self.asked is None:
            return super().meanings()
        leave = Meaning("leave it open", self.leave_open)
        return {
            "space": Meaning(self.asked.key, self.end_it),
            "enter": leave,
            "tab": leave,
            "backspace": leave,
        }

    def change(self, deed: Callable[[Shop, Order], object]) -> None:
        """Do something with the order at the desk, and show it as it stands then."""
        shop = self.shop.again()
        deed(shop, shop.state.orders[self.order_id])
        self.shop = shop.again()
        self.shown = order_shown(self.shop, self.shop.state.orders[self.order_id])
        self.renew()

    def ask_customer(self) -> None:
        """Who it is for."""
        self.ask_text("who for", self.set_customer)

    def set_customer(self, text: str) -> None:
        """The name, into a file of its own."""
        self.change(lambda shop, order: note_customer(shop, order, text))

    def write_draft(self) -> None:
        """The recipe of work that was done without one, among the book's recipes."""
        from forgelog.desk.draft import draft_of, write_draft

        def deed() -> None:
            shop = self.shop.again()
            draft = draft_of(shop, shop.state.orders[self.order_id])
            path = write_draft(shop, draft)
            self.say(f"recipes/{path.name} is written; its {draft.gaps} gaps are marked")

        self.tried(deed)

    def open_cut(self) -> None:
        """What is sawn for it."""
        self.tried(self.show_cut)

    def show_cut(self) -> None:
        """Open its cut list.

        Raises:
            CannotDo: it was closed meanwhile.
        """
        from forgelog.screens.cut import CutScreen

        self.house.push_screen(CutScreen(self.shop.again(), (self.order_id,)))

    def open_quote(self) -> None:
        """What it costs, and what is asked for it."""
        from forgelog.screens.quote import QuoteScreen

        self.house.push_screen(QuoteScreen(self.shop.again(), self.order_id))

    def write_sheet(self, kind: str) -> None:
        """A page to print, into the book; says where it lies."""
        from forgelog.sheets.making import write_sheet

        order = self.order_id
        self.tried(lambda: self.say(write_sheet(self.shop.again(), kind, order=order)))

    def hold(self) -> None:
        """Hold it, or work on it again."""
        held = self.shown.held is not None
        self.tried(partial(self.change, free_order if held else hold_order))

    def ask_date(self) -> None:
        """When it is promised."""
        digits = date_digits(asked_date(self.shown.promised))
        self.ask_digits(digits, "PROMISED FOR", DATE_SAYS, self.set_date)

    def set_date(self, text: str) -> None:
        """The date."""
        self.change(lambda shop, order: promise_order(shop, order, text))

    def drop_date(self) -> None:
        """No date after all."""
        self.tried(partial(self.set_date, ""))

    def ask_size(self, name: str) -> None:
        """The customer's size is another one."""
        size = next(size for size in self.shown.sizes if size.name == name)
        says = size.says
        if self.shown.begun:
            says += " · work has begun: the next lay-out asks what follows from it"
        digits = length_digits(size.mm, in_inches=self.in_inches)
        self.ask_digits(digits, name.upper(), says, partial(self.set_size, name))

    def set_size(self, name: str, text: str) -> None:
        """One size."""
        sizes_mm = {name: parse_length(text)}
        self.change(lambda shop, order: change_sizes(shop, order, sizes_mm))

    def say(self, words: str) -> None:
        """A line above the keys."""
        self.message = words

    def add_spare(self, component: str, mark: str) -> None:
        """One more than the order wants."""
        deed = partial(add_spares, component=component, mark=mark)
        if self.tried(lambda: self.change(deed)):
            self.message = "one spare more"

    def ask(self, asked: Asked) -> None:
        """A closed order is worked on no more."""
        self.asked = asked
        self.message = asked.words

    def ask_to_call_off(self) -> None:
        """Why it is given up."""
        self.ask_text("why it is called off", self.called_off_for)

    def called_off_for(self, why: str) -> None:
        """Asked once more, for it cannot be taken back."""
        self.ask(
            Asked(
                "call this order off? It leaves the list of open orders.",
                "call it off",
                lambda shop, order: call_off(shop, order, why),
            )
        )

    def leave_open(self) -> None:
        """It stays open."""
        self.asked = None

    def end_it(self) -> None:
        """Written down, and back."""
        asked, self.asked = self.asked, None
        shop = self.shop.again()
        if asked is not None and self.tried(
            lambda: asked.deed(shop, shop.state.orders[self.order_id])
        ):
            self.ask_what_it_took()

    def ask_what_it_took(self) -> None:
        """Hours that no step stands for, while they are fresh; not of what was called off."""
        shop = self.shop.again()
        order = shop.state.orders[self.order_id]
        if order.called_off or order.hours or len(self.house.screen_stack) < 2:
            self.back()
            return
        from forgelog.screens.hours_took import HoursTookScreen

        self.house.switch_screen(HoursTookScreen(shop, self.order_id))
