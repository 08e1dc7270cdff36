"""A new order from a recipe of the book, with four keys."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from forgelog.desk.customers import customer_name, note_customer
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import at_sizes, date_of, take_order
from forgelog.desk.shop import Shop
from forgelog.recipe.prose import render
from forgelog.screens.chooser import Item
from forgelog.screens.digits import count_digits, date_digits, length_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import DATE_SAYS, OrderPage, asked_date
from forgelog.units import parse_length, show_length


class TakeOrderScreen(OrderPage):
    """A new order from a recipe of the book."""

    def __init__(
        self,
        shop: Shop,
        recipe: str,
        *,
        for_shop: bool = False,
        on_taken: Callable[[str], None] | None = None,
    ) -> None:
        """Make it.

        Args:
            shop: The book.
            recipe: Id of a recipe in it.
            for_shop: True for a tool of the shop's own.
            on_taken: Told the id of the order once it has been taken.

        Raises:
            CannotDo: there is no such recipe, or it has errors.
        """
        super().__init__(shop)
        self.on_taken = on_taken
        self.for_shop = for_shop
        self.recipe = shop.recipe(recipe)
        self.count = 1
        self.promised = ""
        self.customer = ""
        self.sizes_mm = dict(at_sizes(self.recipe, {}).sizes_mm)
        self.given: dict[str, float] = {}
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """Which recipe."""
        return "TAKE AN ORDER", self.recipe.name, "FOR THE SHOP" if self.for_shop else ""

    def items(self) -> tuple[Item, ...]:
        """Sets, sizes, date, and the order itself."""
        units = self.shop.settings.shop.units
        sizes = (
            Item(
                id=f"size {name}",
                words=f"{name}: {render(self.recipe.sizes[name].says, units)}",
                right=show_length(mm, units),
                title="SIZES" if i == 0 else "",
            )
            for i, (name, mm) in enumerate(self.sizes_mm.items())
        )
        return (
            Item(id="take", words="take this order", title="WHEN ALL IS RIGHT"),
            Item(id="count", words="how many sets", right=str(self.count), title="WHAT"),
            *(
                ()
                if self.for_shop
                else (Item(id="customer", words="who for", right=self.customer or "nobody named"),)
            ),
            Item(id="date", words="promised for", right=self.promised or "no date"),
            *((Item(id="no date", words="no date after all"),) if self.promised else ()),
            *sizes,
        )

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        if item.id == "take":
            return Meaning("take the order", self.take)
        if item.id == "count":
            return Meaning("set how many", self.ask_count)
        if item.id == "customer":
            return Meaning("say who it is for", self.ask_customer)
        if item.id == "date":
            return Meaning("set the date", self.ask_date)
        if item.id == "no date":
            return Meaning("promise no date", self.drop_date)
        return Meaning("set this size", partial(self.ask_size, item.id.removeprefix("size ")))

    def ask_customer(self) -> None:
        """Who it is for."""
        self.ask_text("who for", self.set_customer)

    def set_customer(self, text: str) -> None:
        """The name; it goes into a file of its own, never into the journal."""
        self.customer = customer_name(text)

    def ask_count(self) -> None:
        """How many sets."""
        self.ask_digits(count_digits(self.count), "HOW MANY SETS", "", self.set_count)

    def set_count(self, text: str) -> None:
        """So many."""
        if not int(text):
            raise CannotDo("at least one set")
        self.count = int(text)

    def ask_date(self) -> None:
        """When it is promised."""
        self.ask_digits(
            date_digits(asked_date(self.promised)), "PROMISED FOR", DATE_SAYS, self.set_date
        )

    def set_date(self, text: str) -> None:
        """The date."""
        self.promised = date_of(text)

    def drop_date(self) -> None:
        """No date after all."""
        self.promised = ""
        self.renew()

    def ask_size(self, name: str) -> None:
        """The customer's size."""
        says = render(self.recipe.sizes[name].says, self.shop.settings.shop.units)
        digits = length_digits(self.sizes_mm[name], in_inches=self.in_inches)
        self.ask_digits(digits, name.upper(), says, partial(self.set_size, name))

    def set_size(self, name: str, text: str) -> None:
        """One size; the others follow it where the recipe says so."""
        given = {**self.given, name: parse_length(text)}
        self.sizes_mm = dict(at_sizes(self.recipe, given).sizes_mm)
        self.given = given

    def take(self) -> None:
        """Write the order down, and who it is for."""
        problem = ""

        def deed() -> None:
            nonlocal problem
            shop = self.shop.again()
            order = take_order(
                shop,
                self.recipe.id,
                count=self.count,
                sizes_mm=self.given,
                promised=self.promised,
                for_shop=self.for_shop,
            )
            if self.customer:
                try:
                    note_customer(shop, order, self.customer)
                except CannotDo as not_noted:
                    problem = f"the order is taken; {not_noted}"
            if self.on_taken is not None:
                self.on_taken(order.id)

        if self.tried(deed):
            self.back_with(problem)
