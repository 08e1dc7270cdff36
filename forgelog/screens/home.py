"""Home: open orders, a session to go on with, what needs seeing to, recipes, past sessions."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual.worker import get_current_worker

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.first_look import FirstLook, first_look
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import Meaning
from forgelog.screens.home_doors import HomeDoors
from forgelog.screens.home_rows import (
    CUT,
    DEVICE,
    EVENING,
    FREE,
    LEARNT,
    LEAVE,
    PLAN,
    RESUME,
    REVIEW,
    SUMS,
    TAKE,
    TRENDS,
    home_rows,
)
from forgelog.screens.page import Page

if TYPE_CHECKING:
    from forgelog.desk.home import HomeView


class HomeScreen(HomeDoors):
    """Where the day begins and ends."""

    def __init__(self, shop: Shop, *, clock: Clock | None = None) -> None:
        """Make it.

        Args:
            shop: The book.
            clock: Of the sessions that are begun here; the machine's own where None.
        """
        super().__init__(shop, clock)
        self.orders: FirstLook = self.looked()
        self.was_left = False
        """Whether another page has been on top of this one."""
        self.rest: HomeView | None = None
        """What takes longer to read; None until it has been."""
        self.chooser = Chooser(items=self.items())

    def looked(self) -> FirstLook:
        """The orders as they stand now."""
        return first_look(self.shop, (self.clock or RealClock()).stamp())

    def on_mount(self) -> None:
        """The orders are seen at once; all else is read behind them."""
        self.call_after_refresh(self.read_rest)

    def on_screen_resume(self) -> None:
        """Back from another page: the book may say something else now."""
        if not self.house.all_on_disk:
            self.message = "the last presses could not be brought to the disk: they are lost"
        if not self.was_left:
            return
        self.shop = self.shop.again()
        self.orders = self.looked()
        self.renew()
        self.read_rest()

    def on_screen_suspend(self) -> None:
        """Another page is on top: when this one is seen again, the book may have changed."""
        self.was_left = True
        self.workers.cancel_node(self)

    def read_rest(self) -> None:
        """Read recipes, sessions and what needs seeing to, without holding up a key."""
        shop = self.shop.again()
        self.run_worker(
            partial(self.read_in_thread, shop), thread=True, exclusive=True, exit_on_error=False
        )

    def read_in_thread(self, shop: Shop) -> None:
        """In a thread: hands the result to the page."""
        from forgelog.desk.faults import note_fault
        from forgelog.desk.home import home

        try:
            rest = home(shop, (self.clock or RealClock()).stamp())
        except Exception as fault:
            note_fault(fault, "reading what Home shows")
            words = f"recipes and sessions could not be read: {fault}"
            self.house.call_from_thread(self.show_rest, None, words)
            return
        self.house.call_from_thread(self.show_rest, rest, "")
        self.read_ahead(shop)

    def read_ahead(self, shop: Shop) -> None:
        """In the same thread, once all is shown: so the review and the floor find it ready.

        It stops when another page is opened: that one reads what it wants by itself.
        """
        from forgelog.desk.ahead import read_ahead
        from forgelog.desk.faults import note_fault

        worker = get_current_worker()
        try:
            read_ahead(shop, lambda: worker.is_cancelled, clock=self.clock)
        except Exception as fault:
            note_fault(fault, "reading ahead")

    def show_rest(self, rest: HomeView | None, words: str) -> None:
        """It has been read."""
        self.rest = rest if rest is not None else self.rest
        self.message = words or self.message
        self.renew()
        self.canvas.redraw()

    def renew(self) -> None:
        """The rows as they stand now; the choice stays where it is."""
        self.chooser = self.chooser.with_items(self.items())

    def head(self) -> tuple[str, str, str]:
        """Whose book it is."""
        book = self.rest.shop if self.rest is not None else self.orders.book
        return "HOME", book, "PRACTICE COPY" if self.orders.practice_copy else ""

    def items(self) -> tuple[Item, ...]:
        """Every row, in the order in which it may be wanted."""
        return home_rows(self.orders, self.rest)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The list."""
        put_chooser(page, top, rows, self.chooser)

    def meanings(self) -> dict[str, Meaning]:
        """They hang on the chosen row."""
        item = self.chooser.item
        assert item is not None
        space = Meaning("only open orders can be marked")
        if item.markable:
            marked = item.id in self.chooser.marked
            space = Meaning("take the mark off" if marked else "mark it", self.mark)
        return {
            "space": space,
            "enter": self.enter(item),
            "tab": Meaning("next", partial(self.move, 1)),
            "backspace": Meaning("the one before", partial(self.move, -1)),
            "down": Meaning("next", partial(self.move, 1)),
            "up": Meaning("the one before", partial(self.move, -1)),
            "q": Meaning("leave forgelog", self.back),
        }

    def enter(self, item: Item) -> Meaning:
        """What ENTER does on a row."""
        kind, _, name = item.id.partition(" ")
        if kind == "order":
            return self.enter_order(name, item)
        if kind == "recipe":
            return self.enter_recipe(name)
        if kind == "need":
            return self.enter_need(int(name))
        return {
            RESUME: Meaning("go on where it was cut off", self.go_on),
            TAKE: Meaning("choose a recipe", self.to_recipes),
            FREE: Meaning("say what it is cut from", self.begin_free),
            PLAN: Meaning("plan the day", self.open_plan),
            CUT: Meaning("open the cut list", partial(self.open_cut, self.marked_orders())),
            EVENING: Meaning("open it", self.open_evening),
            LEARNT: Meaning("open it", self.open_learnt),
            TRENDS: Meaning("open them", self.open_trends),
            REVIEW: Meaning("open the review", partial(self.open_review, None)),
            SUMS: Meaning("open them", self.open_sums),
            DEVICE: Meaning("open it", self.open_device),
            LEAVE: Meaning("leave forgelog", self.back),
            "session": Meaning("look back at it", partial(self.open_review, name)),
        }[kind]

    def enter_order(self, name: str, item: Item) -> Meaning:
        """Lay out the marked orders, or this one; a held one is looked at."""
        if not item.markable:
            return Meaning("open the held order", partial(self.open_order, name))
        orders = self.marked_orders() or [name]
        words = "lay out this order" if len(orders) == 1 else f"lay out {len(orders)} orders"
        if len(orders) == 1 and orders != [name]:
            words = "lay out the marked order"
        return Meaning(words, partial(self.open_layout, orders))

    def enter_recipe(self, name: str) -> Meaning:
        """Take an order from it."""
        rest = self.rest
        usable = {r.id: r.usable for r in rest.recipes} if rest is not None else {}
        if not usable.get(name):
            return Meaning("it has errors: see `forgelog check`")
        return Meaning("take an order of it", partial(self.take_order, name))

    def enter_need(self, index: int) -> Meaning:
        """Where it is seen to."""
        rest = self.rest
        if rest is None or index >= len(rest.needs):
            return Meaning("it has been seen to")
        need = rest.needs[index]
        if need.kind in ("rests", "heats", "record"):
            return Meaning("open the review", partial(self.open_review, None))
        if need.recipe:
            take = partial(self.take_order, need.recipe, for_shop=True)
            return Meaning("make it: take that recipe", take)
        if need.order and need.kind in ("temper", "tools", "order"):
            return Meaning("lay out its order", partial(self.open_layout, [need.order]))
        return Meaning("to be seen to in the book's files")

    def marked_orders(self) -> list[str]:
        """Ids of the marked orders, in the order of the list."""
        return [
            item.id.removeprefix("order ")
            for item in self.chooser.items
            if item.id in self.chooser.marked
        ]

    def mark(self) -> None:
        """Mark the chosen order, or take its mark off."""
        self.chooser = self.chooser.with_mark_turned()

    def move(self, by: int) -> None:
        """Down or up the list."""
        self.chooser = self.chooser.moved(by)

    def to_recipes(self) -> None:
        """To the first recipe of the list."""
        ids = [item.id for item in self.chooser.items]
        first = next((i for i, id_ in enumerate(ids) if id_.startswith("recipe ")), None)
        if first is None:
            still = "the recipes are still being read" if self.rest is None else "no recipes yet"
            self.message = still
        else:
            self.chooser = self.chooser.moved(first - self.chooser.at)

    def choose_order(self, order: str) -> None:
        """Choose an order that was just taken: it is what one wants next."""
        self.shop = self.shop.again()
        self.orders = self.looked()
        self.renew()
        ids = [item.id for item in self.chooser.items]
        self.chooser = self.chooser.moved(ids.index(f"order {order}") - self.chooser.at)
