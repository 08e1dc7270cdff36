"""Where the rows of Home lead: each page is loaded when it is opened."""

from __future__ import annotations

from abc import abstractmethod
from functools import partial
from typing import TYPE_CHECKING

from forgelog.desk.errors import CannotDo, FloorTaken
from forgelog.screens.fourkeys import FourKeyScreen

if TYPE_CHECKING:
    from collections.abc import Callable

    from forgelog.desk.clock import Clock
    from forgelog.desk.shop import Shop
    from forgelog.screens.paged import PagedScreen


class HomeDoors(FourKeyScreen):
    """A page from which all others are opened."""

    def __init__(self, shop: Shop, clock: Clock | None) -> None:
        """Make it.

        Args:
            shop: The book.
            clock: Of the sessions that are begun here; the machine's own where None.
        """
        super().__init__()
        self.shop = shop
        self.clock = clock

    @abstractmethod
    def choose_order(self, order: str) -> None:
        """An order was just taken."""

    def open(self, make: Callable[[], PagedScreen]) -> None:
        """Open a page, or say why it cannot be opened."""
        try:
            page = make()
        except CannotDo as problem:
            self.message = str(problem).split("\n")[0]
            return
        self.house.push_screen(page)

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

        self.open(
            lambda: TakeOrderScreen(
                self.shop.again(), recipe, for_shop=for_shop, on_taken=self.choose_order
            )
        )

    def begin_free(self) -> None:
        """Begin work without a recipe."""
        from forgelog.screens.begin_free import BeginFreeScreen

        self.house.push_screen(BeginFreeScreen(self.shop.again(), on_taken=self.choose_order))

    def open_review(self, session: str | None) -> None:
        """Look back."""
        from forgelog.screens.review import ReviewScreen

        self.open(lambda: ReviewScreen(self.shop.again(), session))

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

    def open_cut(self, orders: list[str]) -> None:
        """The cut list of some orders, or of all where none is named."""
        from forgelog.screens.cut import CutScreen

        self.open(lambda: CutScreen(self.shop.again(), tuple(orders), clock=self.clock))

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
