"""Orders that are done with."""

from __future__ import annotations

from forgelog.commands.order.printing import print_done_with, print_row

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.shop import Shop
    from forgelog.work.state import Order


def close(shop: Shop, args: argparse.Namespace) -> int:
    """Done with and not delivered, or called off."""
    from forgelog.desk.done_with import call_off, close_order, must_be_done
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    if not args.called_off:
        must_be_done(shop.state, order, "closed")
    shop = _with_hours(shop, order, args)
    if args.called_off:
        call_off(shop, order, args.called_off)
        return print_row(shop, order.id)
    close_order(shop, order, args.why, keep_spares=args.keep_spares)
    return print_done_with(shop, order.id)


def deliver(shop: Shop, args: argparse.Namespace) -> int:
    """The customer has it."""
    from forgelog.desk.done_with import deliver_order, must_be_done
    from forgelog.desk.orders import find_order

    order = find_order(shop.state, args.order)
    must_be_done(shop.state, order, "delivered")
    shop = _with_hours(shop, order, args)
    deliver_order(shop, order, args.how, args.note, day=args.day, keep_spares=args.keep_spares)
    return print_done_with(shop, order.id)


def _with_hours(shop: Shop, order: Order, args: argparse.Namespace) -> Shop:
    """What it took besides fire and bench, told before the order is done with."""
    if not args.hours:
        return shop
    from forgelog.desk.offers import read_hours, tell_hours

    tell_hours(shop, order, read_hours(args.hours))
    return shop.again()
