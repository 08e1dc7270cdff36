"""Pages of the lay-out after the first: where things lie, stock, what to buy, tools, cautions."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import msgspec

from forgelog.desk.layout import LayoutView
from forgelog.screens.page import Look, Span, wrapped


class Sheet(msgspec.Struct, frozen=True):
    """One page."""

    title: str
    lines: tuple[Span, ...]
    rows: dict[int, str] = {}
    """Lines at which something begins that can be chosen, and its id."""

    @property
    def ids(self) -> tuple[str, ...]:
        """What can be chosen, from the top."""
        return tuple(self.rows.values())


class Row(NamedTuple):
    """A text of a page before it is broken into lines."""

    words: str
    look: Look
    id: str = ""
    """Of what can be chosen there."""


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
        ("TO BUY", _bought(view)),
        ("TOOLS AND JIGS", _tools(view)),
        ("CAUTIONS", [Row(caution, Look.PLAIN) for caution in view.cautions]),
    )
    found: list[Sheet] = []
    for title, texts in parts:
        found.extend(_paged(title, _wrapped(texts, width), max(1, rows)))
    return tuple(found)


def _lies(view: LayoutView) -> list[Row]:
    texts = [Row(f"HOT STILL: {hot}", Look.HOT) for hot in view.hot]
    for lies in view.lies:
        texts.append(Row(lies.words, Look.STRONG))
        if lies.note:
            texts.append(Row(f"    note: {lies.note}", Look.PLAIN))
    return texts


def _stock(view: LayoutView) -> list[Row]:
    texts: list[Row] = []
    for stock in view.stock:
        name = f"{stock.order} {stock.component}"
        known = any(row.id == name for row in texts)  # pieces that keep what they had, once more
        texts.append(Row(stock.words, Look.STRONG, "" if known else name))
        texts.extend(Row(f"    {more}", Look.PLAIN) for more in stock.more)
        rack = f"on the rack: {stock.rack}" if stock.rack else "nothing on the rack's list"
        texts.append(Row(f"    {stock.steel}, {stock.total} together; {rack}", Look.PLAIN))
    return texts


def _bought(view: LayoutView) -> list[Row]:
    texts: list[Row] = []
    for order in view.orders:
        for bought in order.bought:
            texts.append(Row(f"{order.label}: {bought.counted}", Look.STRONG))
            if bought.says:
                texts.append(Row(f"    {bought.says}", Look.PLAIN))
    return texts


def _tools(view: LayoutView) -> list[Row]:
    texts: list[Row] = []
    for tool in view.tools:
        sign = "MISSING: " if tool.missing else ""
        texts.append(Row(f"{sign}{tool.words}", Look.HOT if tool.missing else Look.STRONG))
        now = f"set now: {tool.set_now}; " if tool.set_now else ""
        if now or tool.missing:
            texts.append(Row(f"    {now}for: {', '.join(tool.for_steps)}", Look.PLAIN))
    return texts


def _wrapped(texts: Iterable[Row], width: int) -> list[Row]:
    rows: list[Row] = []
    for text in texts:
        indent = " " * (len(text.words) - len(text.words.lstrip()))
        for i, row in enumerate(wrapped(text.words, width - len(indent) - 6)):
            more = "" if i == 0 else "    "
            rows.append(Row(f"{indent}{more}{row}", text.look, text.id if i == 0 else ""))
    return rows


def _paged(title: str, rows: list[Row], high: int) -> list[Sheet]:
    count = -(-len(rows) // high)
    parts = [rows[i * high : (i + 1) * high] for i in range(count)]
    return [
        Sheet(
            f"{title}, {i + 1} of {count}" if count > 1 else title,
            tuple((row.words, row.look) for row in part),
            {line: row.id for line, row in enumerate(part) if row.id},
        )
        for i, part in enumerate(parts)
    ]
