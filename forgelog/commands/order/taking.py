"""Orders that are taken: from a recipe, or work without one."""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.order.printing import print_order

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.shop import Shop


def take(shop: Shop, args: argparse.Namespace) -> int:
    """Take an order from a recipe of the book."""
    from forgelog.desk.customers import customer_name, note_customer
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.order_view import order_shown
    from forgelog.desk.orders import has_been, read_sizes, take_order

    name = customer_name(args.customer)
    order = take_order(
        shop,
        args.recipe,
        label=args.label,
        title=args.title,
        count=args.count,
        sizes_mm=read_sizes(args.size),
        promised=args.promised,
        for_shop=args.for_shop,
    )
    not_noted = ""
    try:
        if name:
            note_customer(shop, order, name)
    except CannotDo as problem:
        not_noted = str(problem)
    print("taken: ", end="")
    print_order(order_shown(shop.again(), order))
    if has_been(order.promised):
        print(f"  look at   {order.promised} has been: forgelog order promise puts it right")
    if not_noted:
        raise Refused(f"the order is taken; {not_noted}")
    return CLEAN


def begin(shop: Shop, args: argparse.Namespace) -> int:
    """Begin work without a recipe."""
    from forgelog.desk.free_work import read_part, take_free
    from forgelog.desk.order_view import order_shown

    order = take_free(
        shop,
        args.title,
        [read_part(text) for text in args.piece],
        steel=args.steel,
        label=args.label,
        count=args.count,
    )
    print("begun: ", end="")
    print_order(order_shown(shop.again(), order))
    return CLEAN
