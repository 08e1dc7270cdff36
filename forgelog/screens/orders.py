"""An order that was taken, with four keys: its quote, its date, its sizes, held, closed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from forgelog.desk.customers import note_customer
from forgelog.desk.order_view import OrderShown, order_shown
from forgelog.desk.orders import (
    change_sizes,
    close_order,
    free_order,
    hold_order,
    promise_order,
)
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Item
from forgelog.screens.digits import date_digits, length_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import DATE_SAYS, OrderPage, asked_date
from forgelog.units import parse_length
from forgelog.work.state import Order


class OrderScreen(OrderPage):
    """An order that was taken."""

    def __init__(self, shop: Shop, order: str) -> None:
        super().__init__(shop)
        self.order_id = order
        self.asked_to_close = False
        self.shown: OrderShown = order_shown(shop, shop.state.orders[order])
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """Which order, and how far it is."""
        shown = self.shown
        far = f"{shown.steps_done} of {shown.steps} steps"
        return f"ORDER {shown.label}", shown.title, far

    def items(self) -> tuple[Item, ...]:
        """Quote, date, sizes, held, closed."""
        shown = self.shown
        sizes = (
            Item(
                id=f"size {size.name}",
                words=f"{size.name}: {size.says}" if size.says else size.name,
                right=size.shown + ("" if size.given else ", as the recipe"),
                title="SIZES" if i == 0 else "",
            )
            for i, size in enumerate(shown.sizes)
        )
        bought = (
            Item(
                id=f"bought {one.id}",
                words=one.words,
                title="TO BUY" if i == 0 else "",
            )
            for i, one in enumerate(shown.bought)
        )
        held = shown.held is not None
        return (
            Item(id="date", words="promised for", right=shown.promised or "no date"),
            *((Item(id="no date", words="no date after all"),) if shown.promised else ()),
            Item(
                id="hold",
                words="held: nothing is to be done on it" if held else "hold it for now",
                right="held" if held else "",
            ),
            Item(id="close", words="close it: delivered, or called off"),
            Item(id="quote", words="the quote: what it costs, what is asked for it"),
            *self.customer_items(),
            *sizes,
            *bought,
        )

    def customer_items(self) -> tuple[Item, ...]:
        """Who it is for, where it goes, and what the smith noted of the way there."""
        one = self.shown.customer
        if one is None:
            return (Item(id="customer", words="who for", right="nobody named", title="WHO FOR"),)
        rows = [("who for", one.name or "no name")]
        rows += [("", line) for line in one.address]
        rows += [("notes", one.notes)] if one.notes else []
        rows += [("", line) for line in one.more]
        rows += [("look at", one.problem)] if one.problem else []
        return tuple(
            Item(
                id=f"customer {i}",
                words=f"{what}: {says}" if what else f"    {says}",
                title="WHO FOR" if i == 0 else "",
            )
            for i, (what, says) in enumerate(rows)
        )

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        if item.id == "customer":
            return Meaning("say who it is for", self.ask_customer)
        if item.id.startswith("customer "):
            return Meaning("the order's customer file says so")
        if item.id == "quote":
            return Meaning("open the quote", self.open_quote)
        if item.id == "date":
            return Meaning("set the date", self.ask_date)
        if item.id == "no date":
            return Meaning("promise no date", self.drop_date)
        if item.id == "hold":
            return Meaning(
                "work on it again" if self.shown.held is not None else "hold it", self.hold
            )
        if item.id == "close":
            return Meaning("close it: asks first", self.ask_to_close)
        if item.id.startswith("bought "):
            return Meaning("the recipe says what to buy")
        return Meaning("set this size", partial(self.ask_size, item.id.removeprefix("size ")))

    def meanings(self) -> dict[str, Meaning]:
        """The list's keys; closing is asked on another key than it was chosen with."""
        if not self.asked_to_close:
            return super().meanings()
        leave = Meaning("leave it open", self.leave_open)
        return {
            "space": Meaning("close the order", self.close_it),
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

    def open_quote(self) -> None:
        """What it costs, and what is asked for it."""
        from forgelog.screens.quote import QuoteScreen

        self.house.push_screen(QuoteScreen(self.shop.again(), self.order_id))

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

    def ask_to_close(self) -> None:
        """A closed order is worked on no more."""
        self.asked_to_close = True
        self.message = "close this order? It leaves the list of open orders."

    def leave_open(self) -> None:
        """It stays open."""
        self.asked_to_close = False

    def close_it(self) -> None:
        """Written down, and back."""
        self.asked_to_close = False
        shop = self.shop.again()
        if self.tried(lambda: close_order(shop, shop.state.orders[self.order_id])):
            self.back()
