"""Simulates the demo book: every file of it, from a seed and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from random import Random

import msgspec

from forgelog.book.settings import BookSettings, read_shop
from forgelog.desk.errors import CannotDo
from forgelog.desk.simulate.day import Day
from forgelog.desk.simulate.evenings import Teller
from forgelog.desk.simulate.floor import SimulatedFloor
from forgelog.desk.simulate.journal import DEVICE, Journal
from forgelog.desk.simulate.offers import offered, took
from forgelog.desk.simulate.plan import DAYS, ORDERS, PlannedDay, PlannedOrder
from forgelog.desk.simulate.settings import SHOP, STOCK, TOOLS, readme
from forgelog.desk.simulate.smith import Slip, Smith
from forgelog.desk.simulate.watch import Watch
from forgelog.work.facts import AnyFact, HeatsCorrected, OrderDelivered, OrderTaken
from forgelog.work.fold import fold
from forgelog.work.progress import Progress, progress_of
from forgelog.work.state import State

SEED = 1871
"""Of the demo that is shipped."""
_POWER_OFF_S = 25 * 60.0


class Simulated(msgspec.Struct, frozen=True, kw_only=True):
    """What a seed gave."""

    files: dict[str, bytes]
    """Every file of the demo data, by its path: settings, journal and the page beside them."""
    missed: tuple[str, ...] = ()
    """Slips that were planned and did not come about with this seed."""


def simulate(
    seed: int = SEED,
    *,
    orders: tuple[PlannedOrder, ...] = ORDERS,
    days: tuple[PlannedDay, ...] = DAYS,
) -> Simulated:
    """The demo data. The same seed gives the same bytes, on any day and in any folder.

    Args:
        seed: Of all chance in it.
        orders: What the shop was asked for.
        days: When it worked, oldest first.

    Raises:
        CannotDo: what was simulated does not hold together.
    """
    simulation = _Simulation(seed)
    for day in days:
        simulation.desk_until(orders, day.day)
        simulation.day(day)
    simulation.desk_until(orders, date.max)
    journal = simulation.journal
    troubles = fold(journal.shop().whole).troubles
    if troubles:
        raise CannotDo(f"the simulation contradicts itself: {troubles[0].words}")
    book = {
        "shop.toml": SHOP.encode(),
        "tools.toml": TOOLS.encode(),
        "stock.toml": STOCK.encode(),
        **journal.files(),
    }
    files = {f"book/{path}": data for path, data in sorted(book.items())}
    return Simulated(
        files={"README.md": readme(seed).encode(), **files}, missed=tuple(simulation.missed)
    )


class _Simulation:
    """The shop as it goes through its weeks."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)
        shop, problems = read_shop(SHOP.encode())
        if problems:
            raise CannotDo(problems[0].text)
        self.rates = shop.rates
        self.watch = Watch()
        self.journal = Journal(self.rng, self.watch, BookSettings(shop=shop))
        self.smith = Smith(self.rng)
        self.teller = Teller(seed)
        self.ids: dict[str, str] = {}
        self.closed: set[str] = set()
        self.missed: list[str] = []

    def desk_until(self, orders: Iterable[PlannedOrder], day: date) -> None:
        """Take and deliver what was taken and delivered before a day, oldest first."""
        deeds: list[tuple[date, int, PlannedOrder]] = []
        for order in orders:
            if order.label not in self.ids and order.taken < day:
                deeds.append((order.taken, 1, order))
            if order.delivered and order.delivered < day and order.label not in self.closed:
                deeds.append((order.delivered, 0, order))
        for when, taken, order in sorted(deeds, key=lambda d: (d[0], d[1], d[2].label)):
            if not taken and not self.progress(order).finished:
                # With another seed it took longer than planned: one more day, before it goes.
                self.day(PlannedDay(day=when, orders=(order.label,), most_min=900.0))
            self.watch.switch_on(when, self.rng.randrange(17 * 60, 18 * 60))
            if taken:
                self.take(order)
            else:
                self.deliver(order)

    def progress(self, order: PlannedOrder) -> Progress:
        """How far an order is that was worked on."""
        state = fold(self.journal.shop().files)
        return progress_of(state, state.orders[self.ids[order.label]])

    def take(self, order: PlannedOrder) -> None:
        """The order comes in."""
        self.ids[order.label] = f"{DEVICE}-{self.journal.tail()}"
        taken = OrderTaken(
            order=self.ids[order.label],
            label=order.label,
            title=order.title,
            recipe=order.recipe,
            count=order.count,
            sizes_mm=order.sizes_mm,
            promised=order.promised.isoformat(),
        )
        order_id = self.ids[order.label]
        self.journal.at_desk(taken, *offered(order, order_id, self.rates))

    def deliver(self, order: PlannedOrder) -> None:
        """It is finished, and goes."""
        progress = self.progress(order)
        if not progress.finished:
            raise CannotDo(f"{order.label} is to be delivered with {progress.words} done")
        self.closed.add(order.label)
        day = order.delivered.isoformat() if order.delivered is not None else ""
        order_id = self.ids[order.label]
        delivered = OrderDelivered(order=order_id, how="fetched", day=day)
        self.journal.at_desk(*took(order, order_id), delivered)

    def day(self, planned: PlannedDay) -> None:
        """A day at the fire; after a power cut it goes on."""
        orders = tuple(self.ids[label] for label in planned.orders)
        self.watch.switch_on(planned.day, planned.at_min + self.rng.randrange(0, 25))

        def enough(state: State) -> bool:
            progress = progress_of(state, state.orders[orders[0]])
            if planned.share == 1 and len(orders) == 1:
                return False  # the screen says when all is finished
            return progress.done >= planned.share * progress.steps

        floor = SimulatedFloor(self.journal, orders, fire=planned.fire, method=planned.method)
        day = self._day(floor, planned, planned.slips, enough)
        day.work()
        while day.cut_off:
            self.watch.start_again(_POWER_OFF_S + self.rng.uniform(0, 600))
            floor = SimulatedFloor(self.journal, orders, continues=floor.id)
            day = self._day(floor, planned, tuple(day.slips), enough)
            day.work()
        self.missed += [f"{planned.day}: {slip.what}" for slip in day.slips]
        self.evening(floor.state, planned)
        if told := self.teller.tells(floor.state, floor.id, planned.day):
            self.watch.go_on(120)
            self.journal.at_desk(*told, rng=self.teller.rng)

    def _day(
        self,
        floor: SimulatedFloor,
        planned: PlannedDay,
        slips: tuple[Slip, ...],
        enough: Callable[[State], bool],
    ) -> Day:
        return Day(floor, self.smith, slips, enough, lies=planned.lies, most_min=planned.most_min)

    def evening(self, state: State, planned: PlannedDay) -> None:
        """The review asks for heats that were not pressed; of the last weeks' it still does."""
        if planned.day >= date(2026, 11, 1):
            return
        facts: list[AnyFact] = []
        for piece in state.pieces.values():
            for record in piece.done:
                if record.kind == "forge" and record.heats is None and not record.scrapped:
                    heats = (record.planned or 2) + 1
                    facts.append(HeatsCorrected(workpiece=piece.id, step=record.step, heats=heats))
        if facts:
            self.watch.go_on(self.rng.uniform(300, 1500))
            self.journal.at_desk(*facts)
