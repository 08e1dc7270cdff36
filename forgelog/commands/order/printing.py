"""How orders are printed, in words or as JSON."""

from __future__ import annotations

from forgelog.commands import CLEAN

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.desk.order_view import OrderShown
    from forgelog.desk.shop import Shop


def print_row(shop: Shop, order: str) -> int:
    """The row of an order as it stands now."""
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import order_shown

    shop = shop.again()
    for row in order_rows((order_shown(shop, shop.state.orders[order]),)):
        print(row)
    return CLEAN


def print_done_with(shop: Shop, order: str) -> int:
    """The order as it was closed, and what was left of it: spares, and pieces left out."""
    from forgelog.desk.order_text import order_rows
    from forgelog.desk.order_view import order_shown

    shop = shop.again()
    shown = order_shown(shop, shop.state.orders[order])
    for row in order_rows((shown,)):
        print(row)
    for spare in shown.spares:
        print(f"spare left: {spare}")
    for words in shown.left_out:
        print(f"left out: {words}")
    return CLEAN


def print_order(shown: OrderShown) -> None:
    """All that is told of an order."""
    from forgelog.desk.order_text import order_lines

    for line in order_lines(shown):
        print(line)
