"""What can be done about a quote: offer it, note the answer, set hours and an order's own costs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.errors import CannotDo
from forgelog.desk.offers import HOURS, answer_offer, make_offer, set_costs
from forgelog.desk.quote import quote_of
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.screens.chooser import Item
from forgelog.screens.digits import hours_digits, money_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import OrderPage

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock
    from forgelog.desk.quote_told import QuoteTold

COSTS = ("carriage", "galvanising", "travel")
"""Costs that an order often has of its own; others are set with `quote ORDER --cost`."""
TO_COME = tuple(kind for kind in HOURS if kind not in ("fire", "bench"))


class QuoteDeedsScreen(OrderPage):
    """What can be done about the quote of one order."""

    def __init__(
        self,
        shop: Shop,
        told: QuoteTold,
        hours: Mapping[str, Decimal | None],
        *,
        named: Callable[[Mapping[str, Decimal | None]], None],
        clock: Clock | None = None,
    ) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            told: The quote, as it was shown.
            hours: Hours that the smith has named for it.
            named: Is told the hours whenever he names others.
            clock: None for the machine's own.
        """
        super().__init__(shop)
        self.told = told
        self.hours: dict[str, Decimal | None] = dict(hours)
        self.named = named
        self.clock = clock
        self.asked_to_offer = False
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """Which order, and the price that would be offered."""
        column = self.told.chosen
        price = f"{column.total or 'not priced'} {self.told.currency}".rstrip()
        return f"QUOTE {self.told.label}", self.told.title, price

    @property
    def closed(self) -> bool:
        """A closed order is offered no more; what it took can still be told."""
        return self.shop.state.orders[self.told.order].closed is not None

    def items(self) -> tuple[Item, ...]:
        """The offer, its answer, hours, costs, and what it took."""
        rows: list[Item] = []
        if not self.closed:
            rows += self.offer_items()
            rows += self.hour_items()
            rows += self.cost_items()
        if self.told.actual is not None:
            words = "say what it took besides fire and bench"
            rows.append(Item(id="took", words=words, title="AFTER THE WORK"))
        return tuple(rows)

    def offer_items(self) -> list[Item]:
        """The offer and its answer."""
        column = self.told.chosen
        price = f"{column.total} {self.told.currency}".rstrip() if column.net else "not priced"
        words = f"offer this price, {column.words}"
        rows = [Item(id="offer", words=words, right=price, title="OFFER")]
        offers = self.told.offers
        if offers:
            last = offers[-1]
            was = f"{last.total} {last.currency}".rstrip() + f", {last.answer or 'open'}"
            rows.append(Item(id="accepted", words="the customer took the last offer", right=was))
            rows.append(Item(id="declined", words="the customer did not take it"))
        return rows

    def hour_items(self) -> list[Item]:
        """Hours that are reckoned with."""
        known = {one.kind: one for one in self.told.chosen.hours}
        return [
            Item(
                id=f"hours {kind}",
                words=HOURS[kind],
                right=f"{known[kind].hours} h" if known[kind].hours else "none",
                title="" if at else "HOURS RECKONED WITH",
            )
            for at, kind in enumerate(TO_COME)
        ]

    def cost_items(self) -> list[Item]:
        """The order's own costs."""
        own = self.shop.state.orders[self.told.order].costs
        names = dict.fromkeys((*COSTS, *own))
        return [
            Item(
                id=f"cost {name}",
                words=harmless(name),
                right=harmless(own.get(name, "none")),
                title="" if at else "COSTS OF THIS ORDER ALONE",
            )
            for at, name in enumerate(names)
        ]

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        what, _, name = item.id.partition(" ")
        if what == "offer":
            return self.offer_meaning()
        if what in ("accepted", "declined"):
            return Meaning(f"note it as {what}", partial(self.answer, what == "accepted"))
        if what == "cost":
            return Meaning("set what it costs", partial(self.ask_cost, name))
        if what == "took":
            return Meaning("say what it took", self.open_took)
        return Meaning("set the hours", partial(self.ask_hours, name))

    def offer_meaning(self) -> Meaning:
        """Offering asks first."""
        if not self.told.chosen.net:
            return Meaning("nothing is priced yet")
        return Meaning("offer it: asks first", self.ask_to_offer)

    def meanings(self) -> dict[str, Meaning]:
        """The list's keys; offering is asked on another key than it was chosen with."""
        if not self.asked_to_offer:
            return super().meanings()
        leave = Meaning("do not offer it yet", self.leave_offer)
        return {
            "space": Meaning("write the offer down", self.offer),
            "enter": leave,
            "tab": leave,
            "backspace": leave,
        }

    def ask_to_offer(self) -> None:
        """An offer takes the place of the one before."""
        self.asked_to_offer = True
        column = self.told.chosen
        without = f", {column.without_words}" if column.without_words else ""
        self.message = f"offer {column.total} {self.told.currency}{without}? Offers before lapse."
        self.settle()

    def leave_offer(self) -> None:
        """It is not offered."""
        self.asked_to_offer = False

    def change(self, deed: Callable[[], object]) -> None:
        """Do something at the desk, and reckon anew."""
        deed()
        self.shop = self.shop.again()
        order = self.shop.state.orders[self.told.order]
        self.told = quote_of(
            self.shop, order, method=self.told.method, hours=self.hours, clock=self.clock
        )
        self.renew()

    def offer(self) -> None:
        """Written down."""
        self.asked_to_offer = False

        def deed() -> None:
            make_offer(self.shop, self.told, hours=self.hours, clock=self.clock)

        if self.tried(partial(self.change, deed)):
            self.message = "the offer is in the journal"

    def answer(self, accepted: bool) -> None:
        """What the customer said."""

        def deed() -> None:
            order = self.shop.state.orders[self.told.order]
            answer_offer(self.shop, order, accepted=accepted, clock=self.clock)

        self.tried(partial(self.change, deed))

    def open_took(self) -> None:
        """Hours that it really took."""
        from forgelog.screens.hours_took import HoursTookScreen

        page = HoursTookScreen(self.shop.again(), self.told.order, clock=self.clock)
        self.house.push_screen(page)

    def ask_hours(self, kind: str) -> None:
        """Hours of one kind, to be reckoned with."""
        now = next((h.hours for h in self.told.chosen.hours if h.kind == kind), "")
        says = "hours of this order, for the quote; they stay with the offer"
        self.ask_digits(
            hours_digits(now), HOURS[kind].upper(), says, partial(self.take_hours, kind)
        )

    def take_hours(self, kind: str, text: str) -> None:
        """So many."""
        self.hours[kind] = Decimal(text.removesuffix(" h"))
        self.named(self.hours)
        self.change(lambda: None)

    def ask_cost(self, name: str) -> None:
        """What one of the order's own costs comes to."""
        own = self.shop.state.orders[self.told.order].costs
        digits = money_digits(own.get(name, ""), self.told.digits)
        says = f"{self.told.currency or 'money'} for this order alone; nothing takes it off"
        self.ask_digits(digits, name.upper(), says, partial(self.take_cost, name))

    def take_cost(self, name: str, text: str) -> None:
        """So much; nothing takes it off."""
        order = self.shop.state.orders[self.told.order]
        if not Decimal(text):
            if name not in order.costs:
                raise CannotDo("there is no such cost to take off")
            text = "none"
        self.change(lambda: set_costs(self.shop, order, {name: text}, clock=self.clock))
