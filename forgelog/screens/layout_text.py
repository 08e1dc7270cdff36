"""Pages of the lay-out that are only read: where things lie, stock, tools, cautions."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from forgelog.desk.layout import LayoutView
from forgelog.screens.page import Look, Span, wrapped


class Sheet(msgspec.Struct, frozen=True):
    """One page."""

    title: str
    lines: tuple[Span, ...]


def sheets(view: LayoutView, width: int, rows: int) -> tuple[Sheet, ...]:
    """The pages, those with nothing on them left out, long ones in parts.

    Args:
        view: The lay-out.
        width: Columns.
        rows: Rows of a page, without its title.
    """
    parts = (
        ("WHERE PIECES LIE", _lies(view)),
        ("STOCK TO CUT", _stock(view)),
        ("TOOLS AND JIGS", _tools(view)),
        ("CAUTIONS", [(caution, Look.PLAIN) for caution in view.cautions]),
    )
    found: list[Sheet] = []
    for title, texts in parts:
        found.extend(_paged(title, _wrapped(texts, width), max(1, rows)))
    return tuple(found)


def _lies(view: LayoutView) -> list[Span]:
    texts: list[Span] = [(f"HOT STILL: {hot}", Look.HOT) for hot in view.hot]
    for lies in view.lies:
        texts.append((lies.words, Look.STRONG))
        if lies.note:
            texts.append((f"    note: {lies.note}", Look.PLAIN))
    return texts


def _stock(view: LayoutView) -> list[Span]:
    texts: list[Span] = []
    for stock in view.stock:
        texts.append((stock.words, Look.STRONG))
        rack = f"on the rack: {stock.rack}" if stock.rack else "nothing on the rack's list"
        texts.append((f"    {stock.steel}, {stock.total} together; {rack}", Look.PLAIN))
    return texts


def _tools(view: LayoutView) -> list[Span]:
    texts: list[Span] = []
    for tool in view.tools:
        sign = "MISSING: " if tool.missing else ""
        texts.append((f"{sign}{tool.words}", Look.HOT if tool.missing else Look.STRONG))
        now = f"set now: {tool.set_now}; " if tool.set_now else ""
        if now or tool.missing:
            texts.append((f"    {now}for: {', '.join(tool.for_steps)}", Look.PLAIN))
    return texts


def _wrapped(texts: Iterable[Span], width: int) -> list[Span]:
    rows: list[Span] = []
    for text, look in texts:
        indent = " " * (len(text) - len(text.lstrip()))
        for i, row in enumerate(wrapped(text, width - len(indent) - 4)):
            more = "" if i == 0 else "    "
            rows.append((f"{indent}{more}{row}", look))
    return rows


def _paged(title: str, rows: list[Span], high: int) -> list[Sheet]:
    count = -(-len(rows) // high)
    return [
        Sheet(
            f"{title}, {i + 1} of {count}" if count > 1 else title,
            tuple(rows[i * high : (i + 1) * high]),
        )
        for i in range(count)
    ]
