"""What an order took besides fire and bench, told with four keys: the next quote begins with it."""

from __future__ import annotations

from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.offers import HOURS, TOLD_KINDS, tell_hours
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.screens.chooser import Item
from forgelog.screens.digits import hours_digits
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.order_page import OrderPage

if TYPE_CHECKING:
    from forgelog.desk.clock import Clock

SAYS = "what it really took: the next quote of this recipe begins with it"


class HoursTookScreen(OrderPage):
    """Hours of one order that no step of its recipe stands for."""

    def __init__(self, shop: Shop, order: str, *, clock: Clock | None = None) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            order: Id of the order, open or closed.
            clock: None for the machine's own.
        """
        super().__init__(shop)
        self.order_id = order
        self.clock = clock
        self.renew()

    def head(self) -> tuple[str, str, str]:
        """Which order."""
        order = self.shop.state.orders[self.order_id]
        return f"HOURS {harmless(order.label)}", harmless(order.title), ""

    def items(self) -> tuple[Item, ...]:
        """The way out, and each kind with what was told of it."""
        told = self.shop.state.orders[self.order_id].hours
        kinds = (
            Item(
                id=f"took {kind}",
                words=HOURS[kind],
                right=f"{harmless(told[kind])} h" if kind in told else "not told",
                title="" if at else "WHAT IT TOOK BESIDES FIRE AND BENCH",
            )
            for at, kind in enumerate(TOLD_KINDS)
        )
        return (Item(id="leave", words="that is all"), *kinds)

    def choose(self, item: Item) -> Meaning:
        """ENTER on a row."""
        if item.id == "leave":
            return Meaning("leave this page", self.back)
        kind = item.id.removeprefix("took ")
        return Meaning("set the hours", partial(self.ask_hours, kind))

    def ask_hours(self, kind: str) -> None:
        """How many of one kind."""
        now = self.shop.state.orders[self.order_id].hours.get(kind, "")
        self.ask_digits(
            hours_digits(now), HOURS[kind].upper(), SAYS, partial(self.take_hours, kind)
        )

    def take_hours(self, kind: str, text: str) -> None:
        """So many."""
        order = self.shop.state.orders[self.order_id]
        hours: dict[str, Decimal | None] = {kind: Decimal(text.removesuffix(" h"))}
        tell_hours(self.shop, order, hours, clock=self.clock)
        self.shop = self.shop.again()
        self.renew()
