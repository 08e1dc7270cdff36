"""Orders and tools that are looked at."""

from __future__ import annotations

from forgelog.commands import CLEAN
from forgelog.commands.order.printing import print_order
from forgelog.commands.telling import print_json

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.shop import Shop


def show_all(shop: Shop, args: argparse.Namespace) -> int:
    """The open orders, the next one promised first."""
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import orders_shown

    shown = orders_shown(shop, closed=args.closed)
    if args.json:
        print_json(shown)
        return CLEAN
    for row in order_rows(shown):
        print(row)
    if not shown:
        print("no open orders; `forgelog order take RECIPE` takes one")
    return CLEAN


def show_jobs(shop: Shop, args: argparse.Namespace) -> int:
    """Tools to be made or repaired, and what they hold up."""
    from forgelog.desk.tool_jobs import tool_jobs

    jobs = tool_jobs(shop)
    if args.json:
        print_json(jobs)
        return CLEAN
    for job in jobs:
        print(f"{job.name}: {job.state}, since {job.since}")
        for held in job.holds_up:
            print(f"    holds up {held.label}: {', '.join(held.steps)}")
        if job.order:
            print(f"    order {job.order} makes it")
        for recipe in () if job.order else job.recipes:
            print(f"    `forgelog order take {recipe} --for-shop` takes it in hand")
    if not jobs:
        print("no tool holds up a step")
    return CLEAN


def show_one(shop: Shop, args: argparse.Namespace) -> int:
    """One order: sizes, how far it is, where its pieces lie."""
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order

    shown = order_shown(shop, find_order(shop.state, args.order))
    if args.json:
        print_json(shown)
    else:
        print_order(shown)
    return CLEAN
