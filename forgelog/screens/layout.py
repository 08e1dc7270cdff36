"""The lay-out before the fire is lit: choices first, then stock, tools, cautions."""

from __future__ import annotations

from functools import partial

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.device import with_light
from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.desk.layout import LayoutView, Options, layout
from forgelog.desk.learnt_memory import PATIENCE_S, learnt_so_far
from forgelog.desk.session import FloorSession, start
from forgelog.desk.shop import Shop
from forgelog.screens.chooser import Chooser, Item, put_chooser
from forgelog.screens.fourkeys import FourKeyScreen, Meaning
from forgelog.screens.layout_text import Sheet, sheets
from forgelog.screens.page import Look, Page, cut, wrapped

LIGHT = "light the fire"
MOST_DOUBTS = 3
"""So many doubts about sizes stand on the first page."""
MOST_WORDS = 34
"""Letters that a key's meaning may have."""


class LayoutScreen(FourKeyScreen):
    """Chooses fire, method and light; shows what has to lie ready; lights the fire."""

    def __init__(self, shop: Shop, orders: list[str], *, clock: Clock | None = None) -> None:
        """Make it.

        Args:
            shop: The book, opened just now.
            orders: Ids of open orders.
            clock: Of the session; the machine's own where None.
        """
        super().__init__()
        self.shop = shop
        self.orders = orders
        self.clock = clock
        self.view: LayoutView = self.laid_out()
        self.at = {
            "fire": self.view.fires.at,
            "method": self.view.methods.at,
            "light": self.view.lights.at,
        }
        self.sheets: tuple[Sheet, ...] = ()
        self.sheet = 0
        """0 is the page of choices; then one after the other."""
        self.row = ""
        """Of a page with something to choose, what was last under the key there."""
        self.chooser = Chooser(items=self.items())

    def laid_out(self) -> LayoutView:
        """The lay-out as the book is now."""
        return layout(self.shop, self.orders, (self.clock or RealClock()).stamp())

    def on_screen_resume(self) -> None:
        """An order may have been changed meanwhile, or a question answered."""
        self.shop = self.shop.again()
        still_open = {o.id for o in self.shop.state.orders.values() if o.closed is None}
        self.orders = [order for order in self.orders if order in still_open]
        if not self.orders:
            self.back()
            return
        self.view = self.laid_out()
        self.chooser = self.chooser.with_items(self.items())

    def options(self, name: str) -> Options:
        """What there is to choose."""
        return {
            "fire": self.view.fires,
            "method": self.view.methods,
            "light": self.view.lights,
        }[name]

    def chosen(self, name: str) -> str:
        """Id of what is chosen."""
        return self.options(name).options[self.at[name]].id

    def head(self) -> tuple[str, str, str]:
        """Which orders, and which page."""
        titles = ", ".join(order.title for order in self.view.orders)
        return "LAY OUT", titles, f"page {self.sheet + 1} of {len(self.sheets) + 1}"

    def measure(self, width: int, rows: int) -> None:
        """The pages after the first hang on the window."""
        self.sheets = sheets(self.view, width - 2, rows - 1)
        self.sheet = min(self.sheet, len(self.sheets))

    def items(self) -> tuple[Item, ...]:
        """The rows of the first page."""
        view = self.view
        choices = tuple(
            Item(
                id=f"choice {name}",
                words=self.options(name).title,
                right=self.options(name).options[self.at[name]].words,
                title="FIRE, METHOD, LIGHT" if name == "fire" else "",
            )
            for name in ("fire", "method", "light")
        )
        moved = tuple(
            Item(id=f"moved {m.order}", words=m.words, title="ASKED FIRST" if i == 0 else "")
            for i, m in enumerate(view.moved)
        )
        orders = tuple(
            Item(
                id=f"order {order.id}",
                words=f"{order.title}: sizes, date, hold, deliver",
                right=order.progress.words,
                title="ORDERS" if i == 0 else "",
            )
            for i, order in enumerate(view.orders)
        )
        cut = Item(id="cut", words="cut list: which piece from which bar", title="SAW")
        return (*moved, Item(id="light", words=LIGHT), *choices, *orders, cut)

    def put_body(self, page: Page, top: int, rows: int) -> None:
        """The choices with what is missing, or one of the other pages."""
        if self.sheet:
            shown = self.sheets[self.sheet - 1]
            page.put(1, top, shown.title, Look.STRONG)
            chosen = self.row_id
            for y, (words, look) in enumerate(shown.lines[: rows - 1]):
                under = bool(chosen) and shown.rows.get(y) == chosen
                if under:
                    page.put(1, top + 1 + y, ">", Look.STRONG)
                page.put(3 if shown.rows else 1, top + 1 + y, words, Look.SIGN if under else look)
            return
        room = page.width - 2
        warnings = [row for words in self.warnings() for row in wrapped(words, room, most=3)]
        for y, words in enumerate(warnings):
            page.put(1, top + y, words, Look.HOT)
        down = len(warnings) + bool(warnings)
        put_chooser(page, top + down, rows - down, self.chooser)

    def warnings(self) -> list[str]:
        """What must not be overlooked, a line each."""
        view = self.view
        missing = [tool.words for tool in view.tools if tool.missing]
        lines = [problem.split("\n")[0] for problem in view.problems]
        lines.extend(f"LOOK AT {doubt}" for doubt in view.doubts[:MOST_DOUBTS])
        if len(view.doubts) > MOST_DOUBTS:
            lines.append(f"{len(view.doubts) - MOST_DOUBTS} more: `forgelog check` says them")
        if missing:
            lines.append(f"MISSING: {', '.join(missing)}")
        if view.hot:
            lines.append(f"HOT STILL: {', '.join(view.hot)}")
        return lines

    def meanings(self) -> dict[str, Meaning]:
        """SPACE turns the pages; on the first one TAB and ENTER choose."""
        count = len(self.sheets)
        on_to = self.sheets[self.sheet].title.lower() if self.sheet < count else "the choices"
        space = Meaning(f"on to {on_to}"[:34], partial(self.turn, 1))
        meanings = {
            "space": space,
            "q": Meaning("back to the orders", self.back),
            "right": space,
            "left": Meaning("page before", partial(self.turn, -1)),
        }
        if self.row_id:
            return meanings | {
                "enter": self.bar_meaning(),
                "tab": Meaning("next bar", partial(self.move_row, 1)),
                "backspace": Meaning("page before", partial(self.turn, -1)),
                "down": Meaning("next bar", partial(self.move_row, 1)),
                "up": Meaning("bar before", partial(self.move_row, -1)),
            }
        if self.sheet:
            return meanings | {
                "enter": self.light_meaning(),
                "tab": space,
                "backspace": Meaning("page before", partial(self.turn, -1)),
            }
        return meanings | {
            "enter": self.enter(),
            "tab": Meaning("next row", partial(self.move, 1)),
            "backspace": Meaning("back to the orders", self.back),
            "down": Meaning("next row", partial(self.move, 1)),
            "up": Meaning("row before", partial(self.move, -1)),
        }

    def enter(self) -> Meaning:
        """What ENTER does on the chosen row."""
        item = self.chooser.item
        kind, _, name = (item.id if item is not None else "light").partition(" ")
        if kind == "choice":
            return Meaning(f"another {name}", partial(self.choose, name))
        if kind == "order":
            return Meaning("open the order", partial(self.open_order, name))
        if kind == "cut":
            return Meaning("open the cut list", self.open_cut)
        if kind == "moved":
            return Meaning("say what to do about it", partial(self.open_moved, name))
        return self.light_meaning()

    def light_meaning(self) -> Meaning:
        """Light the fire, or why not yet."""
        if self.view.moved:
            return Meaning("first say what to do: page 1")
        if self.view.problems:
            return Meaning("not yet: see page 1 for why")
        return Meaning("light the fire, begin", self.light)

    def turn(self, by: int) -> None:
        """To another page, round the end."""
        self.sheet = (self.sheet + by) % (len(self.sheets) + 1)

    @property
    def row_id(self) -> str:
        """What is under the key on a page of stock: order and component; "" elsewhere."""
        ids = self.sheets[self.sheet - 1].ids if self.sheet else ()
        if not ids:
            return ""
        return self.row if self.row in ids else ids[0]

    def move_row(self, by: int) -> None:
        """Down or up the bars of this page, round the ends."""
        ids = self.sheets[self.sheet - 1].ids
        self.row = ids[(ids.index(self.row_id) + by) % len(ids)]

    def bar_meaning(self) -> Meaning:
        """Another bar for the component under the key."""
        order, _, component = self.row_id.partition(" ")
        name = next(s.name for s in self.view.stock if (s.order, s.component) == (order, component))
        words = cut(f"another bar for {name}", MOST_WORDS)
        return Meaning(words, partial(self.open_bar, order, component))

    def open_bar(self, order: str, component: str) -> None:
        """What it can be cut from."""
        from forgelog.screens.bar import BarScreen

        self.row = f"{order} {component}"
        try:
            self.house.push_screen(BarScreen(self.shop.again(), order, component))
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]

    def move(self, by: int) -> None:
        """Down or up the rows."""
        self.chooser = self.chooser.moved(by)

    def choose(self, name: str) -> None:
        """The next fire, method or light."""
        self.at[name] = (self.at[name] + 1) % len(self.options(name).options)
        self.chooser = self.chooser.with_items(self.items())

    def open_order(self, order: str) -> None:
        """Sizes, date and so on."""
        from forgelog.screens.orders import OrderScreen

        self.house.push_screen(OrderScreen(self.shop.again(), order))

    def open_cut(self) -> None:
        """The cut list of these orders."""
        from forgelog.screens.cut import CutScreen

        try:
            page = CutScreen(self.shop.again(), tuple(self.orders), clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

    def open_moved(self, order: str) -> None:
        """The recipe has changed: what now."""
        from forgelog.screens.moved import MovedScreen

        self.house.push_screen(MovedScreen(self.shop.again(), order))

    def light(self) -> None:
        """Begin the session."""
        from forgelog.screens.evening import evening_after
        from forgelog.screens.floor import FloorScreen, Session

        evening = None
        try:
            session: Session = self.begun()
            evening = partial(evening_after, self.shop, self.clock)
        except FloorTaken:
            from forgelog.desk.onlooker import look_on

            session = look_on(self.shop.again(), clock=self.clock)
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.change_device(with_light(self.house.device, self.chosen("light")))
        self.house.switch_screen(FloorScreen(session, evening=evening))

    def begun(self) -> FloorSession:
        """The session, with what the journal has taught."""
        shop = self.shop.again()
        return start(
            shop,
            self.orders,
            fire=self.chosen("fire"),
            method=self.chosen("method"),
            light=self.chosen("light"),
            clock=self.clock,
            learnt=learnt_so_far(shop, patience_s=PATIENCE_S),
        )
