"""Home: open orders, a session to go on with, what needs seeing to, recipes, past sessions."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.desk.first_look import FirstLook, first_look
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.page import Page

if TYPE_CHECKING:
    from forgelog.desk.home import HomeView

RESUME, TAKE, FREE, PLAN, EVENING, REVIEW = "resume", "take", "free", "plan", "evening", "review"
LEARNT, TRENDS = "learnt", "trends"
CUT = "cut"
SUMS, DEVICE, LEAVE = "sums", "device", "leave"


class HomeScreen(FourKeyScreen):
    """Where the day begins and ends."""

    def __init__(self, shop: Shop, *, clock: Clock | None = None) -> None:
        """Make it.

        Args:
            shop: The book.
            clock: Of the sessions that are begun here; the machine's own where None.
        """
        super().__init__()
        self.shop = shop
        self.clock = clock
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
        rows: list[Item] = []
        if self.orders.resume_id:
            words = f"go on with the session of {self.orders.resume}"
            rows.append(Item(id=RESUME, words=words, title="CUT OFF"))
        title = "OPEN ORDERS"
        for order in self.orders.orders:
            rows.append(
                Item(
                    id=f"order {order.id}",
                    words=order.words,
                    right=order.far,
                    title=title,
                    markable=not order.held,
                )
            )
            title = ""
        rows.append(Item(id=TAKE, words="take an order", title=title))
        rows.append(Item(id=FREE, words="work without a recipe"))
        if any(not order.held for order in self.orders.orders):
            rows.append(Item(id=PLAN, words="plan the day"))
            rows.append(Item(id=CUT, words="cut list: what is sawn from which bar, what to buy"))
        words = "the evening: five minutes after the fire"
        rows.append(Item(id=EVENING, words=words, title="AFTER THE FIRE"))
        rows.append(Item(id=REVIEW, words="look back over all sessions"))
        rows.append(Item(id=LEARNT, words="what your own pieces teach"))
        rows.append(Item(id=TRENDS, words="trends: heats, hours, fire and hands"))
        rows.extend(self.read_items() if self.rest is not None else ())
        rows.append(Item(id=SUMS, words="the sums of the trade", title="SUMS"))
        rows.append(Item(id=DEVICE, words="keys, bell and view", title="THIS DEVICE"))
        rows.append(Item(id=LEAVE, words="leave forgelog"))
        return tuple(rows)

    def read_items(self) -> list[Item]:
        """Rows of what takes longer to read."""
        rest = self.rest
        assert rest is not None
        parts = (
            (
                "NEEDS SEEING TO",
                [(f"need {i}", need.words, "") for i, need in enumerate(rest.needs)],
            ),
            (
                "RECIPES",
                [
                    (
                        f"recipe {r.id}",
                        f"{r.name}: {r.says}" if r.says else r.name,
                        r.problems,
                    )
                    for r in rest.recipes
                ],
            ),
            (
                "PAST SESSIONS",
                [(f"session {s.session}", s.words, "") for s in rest.sessions],
            ),
        )
        return [
            Item(id=id_, words=words, right=right, title=title if i == 0 else "")
            for title, rows in parts
            for i, (id_, words, right) in enumerate(rows)
        ]

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
            CUT: Meaning("open the cut list", self.open_cut),
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

    def go_on(self) -> None:
        """Go on with the session that was cut off."""
        from forgelog.desk.learnt_memory import PATIENCE_S, learnt_so_far
        from forgelog.desk.session import resume
        from forgelog.screens.evening import evening_after
        from forgelog.screens.floor import FloorScreen, Session

        shop = self.shop.again()
        evening = None
        try:
            session: Session = resume(
                shop, clock=self.clock, learnt=learnt_so_far(shop, patience_s=PATIENCE_S)
            )
            evening = partial(evening_after, self.shop, self.clock)
        except FloorTaken:
            from forgelog.desk.onlooker import look_on

            session = look_on(shop, clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(FloorScreen(session, evening=evening))

    def open_layout(self, orders: list[str]) -> None:
        """Lay out some orders."""
        from forgelog.screens.layout import LayoutScreen

        self.house.push_screen(LayoutScreen(self.shop.again(), orders, clock=self.clock))

    def open_order(self, order: str) -> None:
        """Look at one order."""
        from forgelog.screens.orders import OrderScreen

        self.house.push_screen(OrderScreen(self.shop.again(), order))

    def take_order(self, recipe: str, *, for_shop: bool = False) -> None:
        """Take an order from a recipe."""
        from forgelog.screens.take_order import TakeOrderScreen

        try:
            page = TakeOrderScreen(
                self.shop.again(), recipe, for_shop=for_shop, on_taken=self.choose_order
            )
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

    def begin_free(self) -> None:
        """Begin work without a recipe."""
        from forgelog.screens.begin_free import BeginFreeScreen

        self.house.push_screen(BeginFreeScreen(self.shop.again(), on_taken=self.choose_order))

    def choose_order(self, order: str) -> None:
        """Choose an order that was just taken: it is what one wants next."""
        self.shop = self.shop.again()
        self.orders = self.looked()
        self.renew()
        ids = [item.id for item in self.chooser.items]
        self.chooser = self.chooser.moved(ids.index(f"order {order}") - self.chooser.at)

    def open_review(self, session: str | None) -> None:
        """Look back."""
        from forgelog.screens.review import ReviewScreen

        try:
            page = ReviewScreen(self.shop.again(), session)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

    def open_learnt(self) -> None:
        """What the journal teaches."""
        from forgelog.screens.learn import LearnScreen

        self.house.push_screen(LearnScreen(self.shop.again()))

    def open_trends(self) -> None:
        """How things have gone over the weeks."""
        from forgelog.screens.trends import TrendsScreen

        self.house.push_screen(TrendsScreen(self.shop.again()))

    def open_evening(self) -> None:
        """What the record still wants to know."""
        from forgelog.screens.evening import evening_after

        self.house.push_screen(evening_after(self.shop, self.clock))

    def open_cut(self) -> None:
        """The cut list of the marked orders, or of all."""
        from forgelog.screens.cut import CutScreen

        try:
            page = CutScreen(self.shop.again(), tuple(self.marked_orders()), clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

    def open_plan(self) -> None:
        """The plan of the day on every open order."""
        from forgelog.screens.plan import PlanScreen

        self.house.push_screen(PlanScreen(self.shop.again(), clock=self.clock))

    def open_sums(self) -> None:
        """The sums, in the shop's units and words."""
        from forgelog.screens.sums import SumsScreen

        shop = self.shop.settings.shop
        page = SumsScreen(units=shop.units, dialect=shop.dialect, book=str(self.shop.book))
        self.house.push_screen(page)

    def open_device(self) -> None:
        """Settings of this device."""
        from forgelog.screens.device import DeviceScreen

        self.house.push_screen(DeviceScreen())
