"""What pages and commands take in a large book: `python -m tests.bench.years_read BOOK [NAME]`.

The index is caught up first (minutes where it was not there). Each is then read in a program of its
own, its modules loaded beforehand: time of the wall, of the processor, and the most memory that it
had. Each is read twice, because what was told of a state of the journal may be kept.
"""

from __future__ import annotations

import multiprocessing
import os
import resource
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from time import perf_counter, process_time

from forgelog.desk.clock import RealClock
from forgelog.desk.evening import evening
from forgelog.desk.export import export
from forgelog.desk.first_look import first_look
from forgelog.desk.home import home
from forgelog.desk.in_play import in_play
from forgelog.desk.indexed import caught_up
from forgelog.desk.learnings import learnings_of
from forgelog.desk.learnt_memory import PATIENCE_S, learnt_so_far
from forgelog.desk.next_up import next_up
from forgelog.desk.order_view import order_shown
from forgelog.desk.plan import plan_of
from forgelog.desk.quote import quote_of
from forgelog.desk.review import review_view
from forgelog.desk.sharing import share
from forgelog.desk.shop import Shop, open_shop
from forgelog.desk.side_by_side import side_by_side
from forgelog.desk.trends import trends_of
from forgelog.work.state import Order


def an_order(shop: Shop, *, closed: bool) -> Order:
    """The newest order that is open, or closed."""
    orders = [o for o in shop.state.orders.values() if (o.closed is not None) == closed]
    return max(orders, key=lambda o: (bool(o.pins), o.taken_s, o.id))


def start_floor(shop: Shop) -> None:
    """All that the floor reads before it shows, without beginning a session."""
    orders = [o.id for o in shop.state.orders.values() if o.closed is None and o.held is None]
    in_play(shop, orders, RealClock().stamp())
    learnt_so_far(shop, patience_s=PATIENCE_S)


READS: dict[str, Callable[[Shop], object]] = {
    "Home, first screen": lambda shop: first_look(shop, RealClock().stamp()),
    "Home, all of it": lambda shop: home(shop, RealClock().stamp()),
    "floor, start": start_floor,
    "next": lambda shop: next_up(shop),
    "order, closed": lambda shop: order_shown(shop, an_order(shop, closed=True)),
    "quote, open order": lambda shop: quote_of(shop, an_order(shop, closed=False)),
    "quote, closed order": lambda shop: quote_of(shop, an_order(shop, closed=True)),
    "share": lambda shop: share(shop, a_recipe(shop)),
    "compare": lambda shop: side_by_side(
        str(shop.book), a_recipe(shop), f"{a_recipe(shop)}@{shop.recipe(a_recipe(shop)).revision}"
    ),
    "learn": lambda shop: learnings_of(shop),
    "review": lambda shop: review_view(shop),
    "trends": lambda shop: trends_of(shop),
    "evening": lambda shop: evening(shop),
    "plan": lambda shop: plan_of(shop),
    "export sessions": lambda shop: export(shop, "sessions"),
    "export steps": lambda shop: export(shop, "steps"),
}


def a_recipe(shop: Shop) -> str:
    """A recipe that the newest open order works from."""
    return an_order(shop, closed=False).recipe


def read_all(book: Path, names: Sequence[str] = ()) -> None:
    """Print what each read takes, or some of them."""
    caught_up(open_shop(book))
    print("load:", " ".join(f"{load:.1f}" for load in os.getloadavg()))
    print(f"{'':<22}{'first s':>9}{'cpu s':>9}{'again s':>9}{'cpu s':>9}{'MB':>7}")
    fresh = multiprocessing.get_context("spawn")
    for name in names or READS:
        figures: list[float] = []
        for _ in range(2):
            with ProcessPoolExecutor(1, mp_context=fresh) as alone:
                wall_s, cpu_s, most_mb = alone.submit(_read, str(book), name).result()
            figures += [wall_s, cpu_s]
        told = "".join(f"{figure:>9.2f}" for figure in figures)
        print(f"{name:<22}{told}{most_mb:>7.0f}", flush=True)


def _read(book: str, name: str) -> tuple[float, float, float]:
    wall_s, cpu_s = perf_counter(), process_time()
    READS[name](open_shop(book))
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return perf_counter() - wall_s, process_time() - cpu_s, most_mb


if __name__ == "__main__":
    read_all(Path(sys.argv[1]), sys.argv[2:])
