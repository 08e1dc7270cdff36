"""Orders that are changed: sizes, bars, dates, spares, hours."""

from __future__ import annotations

from forgelog.commands import CLEAN
from forgelog.commands.order.printing import print_order, print_row

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.shop import Shop


def size(shop: Shop, args: argparse.Namespace) -> int:
    """The customer's sizes are others."""
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import change_sizes, find_order, read_sizes
    from forgelog.desk.recipe_moved import moved_lines

    order = find_order(shop.state, args.order)
    change_sizes(shop, order, read_sizes(args.sizes))
    shop = shop.again()
    order = shop.state.orders[order.id]
    print("changed: ", end="")
    print_order(order_shown(shop, order))
    for line in moved_lines(shop, order):
        print(line)
    return CLEAN


def bar(shop: Shop, args: argparse.Namespace) -> int:
    """Components are cut from other bars."""
    from forgelog.desk.bars import choose_bars, read_bars
    from forgelog.desk.layout_doubts import doubts_of
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order
    from forgelog.desk.recipe_moved import moved_lines

    order = find_order(shop.state, args.order)
    choose_bars(shop, order, read_bars(args.bars))
    shop = shop.again()
    order = shop.state.orders[order.id]
    print("changed: ", end="")
    print_order(order_shown(shop, order))
    for doubt in doubts_of(shop, order):
        print(f"  look at: {doubt}")
    for line in moved_lines(shop, order):
        print(line)
    return CLEAN


def customer(shop: Shop, args: argparse.Namespace) -> int:
    """Who it is for, where nobody is named yet."""
    from forgelog.desk.customers import note_customer
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    note_customer(shop, order, args.name)
    return print_row(shop, order.id)


def hold(shop: Shop, args: argparse.Namespace) -> int:
    """Nothing is to be done on it for now."""
    from forgelog.desk.orders import find_order, hold_order

    order = find_order(shop.state, args.order)
    hold_order(shop, order, args.why)
    return print_row(shop, order.id)


def free(shop: Shop, args: argparse.Namespace) -> int:
    """It may be worked on again."""
    from forgelog.desk.orders import find_order, free_order

    order = find_order(shop.state, args.order)
    free_order(shop, order)
    return print_row(shop, order.id)


def promise(shop: Shop, args: argparse.Namespace) -> int:
    """A date, or none any more."""
    from forgelog.desk.orders import find_order, promise_order

    order = find_order(shop.state, args.order)
    promise_order(shop, order, "" if args.date == "none" else args.date)
    return print_row(shop, order.id)


def spare(shop: Shop, args: argparse.Namespace) -> int:
    """More of a component than the order wants."""
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import find_order
    from forgelog.desk.spares import add_spares

    order = find_order(shop.state, args.order)
    add_spares(shop, order, args.component, args.count, mark=args.mark)
    shop = shop.again()
    for spare in order_shown(shop, shop.state.orders[order.id]).spares:
        print(f"spare: {spare}")
    return CLEAN


def hours(shop: Shop, args: argparse.Namespace) -> int:
    """What it took besides fire and bench."""
    from forgelog.desk.offers import read_hours, tell_hours
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    after = tell_hours(shop, order, read_hours(args.hours)).orders[order.id]
    told = ", ".join(f"{kind} {hours} h" for kind, hours in after.hours.items())
    print(f"told: {told or 'nothing'}")
    return CLEAN
