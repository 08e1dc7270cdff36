"""The near view: everything of the moment on one page, read from the anvil."""

from __future__ import annotations

from forgelog.floor.view import View
from forgelog.screens.card import card_for, put_card
from forgelog.screens.columns import columns_need, put_columns
from forgelog.screens.page import Line, Look, Page
from forgelog.screens.parts import fits, keys_height, put_head, put_keys, too_small
from forgelog.screens.signs import put_signs
from forgelog.screens.title import put_title, title_for


def near(view: View, width: int, height: int, signs: tuple[str, ...] = ()) -> tuple[Line, ...]:
    """Lay out the near view.

    Args:
        view: What the floor shows.
        width: Columns.
        height: Rows.
        signs: Further words to stand out, such as "NOT YET ON DISK".
    """
    if not fits(width, height):
        return too_small(width, height, view.keys).lines()
    page = Page(width, height)
    put_head(page, view.order, view.piece, view.progress)
    put_signs(page, 1, view, signs)
    bottom = height - keys_height(view.keys, width)
    put_keys(page, bottom, view.keys)
    page.put(1, bottom - 1, view.message, Look.STRONG)

    title = title_for(view, width, height)
    card = card_for(view, title, width, height)
    # Every part gets the least that it can do with; what is left goes round in this order.
    parts = {"card": max(card.least_rows, 4), "columns": 3, "next": 1, "gaps": 0}
    wanted = (
        ("columns", 4),
        ("card", card.need_rows),
        ("columns", columns_need(view, width)),
        ("gaps", 3),
        ("next", min(4, len(view.next))),
        ("gaps", 4 + 4 * (height >= 40)),
    )
    spare = bottom - 3 - title.rows - sum(parts.values())
    for part, want in wanted:
        more = max(0, min(want - parts[part], spare))
        parts[part] += more
        spare -= more
    # A gap goes under the title first, then over the columns, over NEXT and under the top row.
    under_title, over_columns, over_next, under_top = (
        (parts["gaps"] + lag) // 4 for lag in (3, 2, 1, 0)
    )
    y = 2 + under_top
    put_title(page, y, view, title)
    y += title.rows + under_title
    put_card(page, y, parts["card"], view, card)
    y += parts["card"] + over_columns
    put_columns(page, y, parts["columns"], view)
    y += parts["columns"] + over_next
    _put_next(page, y, parts["next"], view)
    return page.lines()


def _put_next(page: Page, y: int, rows: int, view: View) -> None:
    right = page.put_right(page.width - 1, y, view.status)
    if not view.next:
        return
    page.put(1, y, "NEXT", Look.STRONG)
    for i, line in enumerate(view.next[:rows]):
        most = (right if i == 0 else page.width) - 8
        page.put(7, y + i, line, Look.STRONG if i == 0 else Look.PLAIN, most=most)
