"""A quote in words: titled pages of plain lines, for the shell and for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from forgelog.desk.quote_told import ColumnTold, LineTold, OfferTold, QuoteTold
from forgelog.desk.review_pages import Page
from forgelog.desk.review_words import cut, folded

NARROWEST = 78
"""A window of 80 columns has a margin at either side."""
AMOUNT, QUANTITY, WORDS = 12, 11, 24
"""Columns of an amount, of a quantity, and of the words at least."""
HONEST = (
    "Most often means four in five if the stated spreads hold: hours as the plan and the record "
    "have them, prices as you set them."
)


class TableRow(msgspec.Struct, frozen=True, kw_only=True):
    """One row of the table: the same line in each column, where it is in it."""

    title: str
    words: str
    each: str
    """ ", at 1.80"; "" where there is no price of one."""
    lines: tuple[LineTold | None, ...]


def first_words(told: QuoteTold) -> str:
    """The one thing worth knowing."""
    priced = [c for c in told.columns if c.net]
    if not priced:
        return "Nothing is priced yet: put your rates into shop.toml; each line says where."
    prices = "; ".join(f"{c.words} {c.net}" for c in priced)
    words = f"{prices} {told.currency}".rstrip() + ", tax left out"
    column = told.chosen
    if column.without_words:
        words += f". Price {column.without_words}"
    if offer := _standing(told):
        words += f". Offered: {offer_words(offer)}"
    return f"{words}."


def write_quote(told: QuoteTold, width: int) -> tuple[Page, ...]:
    """The pages of a quote; one that has nothing to say is left out.

    Args:
        told: The quote.
        width: Columns that no line is to exceed; below 78 it is taken for 78.
    """
    width = max(NARROWEST, width)

    def page(title: str, lines: Iterable[str]) -> Page:
        return Page(title=cut(title, width), lines=tuple(line.rstrip() for line in lines))

    currency = f" · {told.currency}" if told.currency else ""
    pages = [
        page(f"COSTS AND PRICE{currency}", _table(told, width)),
        page("NOT SET", _blanks(told, width)),
        page(f"HOURS · {told.chosen.words}", _hours(told.chosen, width)),
        page(
            "WHERE THE FIGURES COME FROM",
            (line for note in notes_of(told) for line in _hung(note, width)),
        ),
        page("OFFERS", _offers(told, width)),
        page("QUOTED AND ACTUAL", write_actual(told, width)),
        page("LOOK AT", (line for p in told.problems for line in folded(p, width))),
    ]
    return tuple(p for p in pages if p.lines)


def _table(told: QuoteTold, width: int) -> Iterator[str]:
    count = len(told.columns)
    quantities = WORDS + count * (AMOUNT + QUANTITY) <= width
    each = AMOUNT + QUANTITY if quantities else AMOUNT
    wide = max(WORDS, width - count * each)

    def row(words: str, cells: Iterable[tuple[str, str]]) -> str:
        text = cut(words, wide - 1).ljust(wide)
        for quantity, amount in cells:
            text += (quantity.rjust(QUANTITY) if quantities else "") + amount.rjust(AMOUNT)
        return text

    marks = [
        cut(f"{c.words}{' *' if count > 1 and c.method == told.method else ''}", each - 1)
        for c in told.columns
    ]
    yield " " * wide + "".join(mark.rjust(each) for mark in marks)
    title = ""
    for one in table_rows(told):
        if one.title != title:
            title = one.title
            yield title
        cells = [
            (line.quantity, line.amount or "not set") if line is not None else ("", "-")
            for line in one.lines
        ]
        yield row(f"  {cut(one.words, wide - 3 - len(one.each))}{one.each}", cells)
    yield ""
    for words, amounts in sum_rows(told):
        if any(amounts):
            yield row(words, (("", amount or "-") for amount in amounts))
    yield ""
    if any(c.net_low != c.net_high for c in told.columns):
        for c in told.columns:
            yield from folded(f"{c.words}: most often {c.net_low} to {c.net_high}.", width)
    for c in told.columns:
        if c.without_words:
            yield from folded(f"{c.words}: {c.without_words}.", width)
    if told.valid_until:
        yield f"An offer made now holds until {told.valid_until}."
    if count > 1:
        yield f"* the price is taken from this column ({told.chosen.words})."
    yield from folded(told.rounding, width)


def sum_rows(told: QuoteTold) -> Iterator[tuple[str, list[str]]]:
    """What the lines come to, column by column."""
    columns = told.columns
    yield "price without tax", [c.net for c in columns]
    yield told.chosen.tax_words if told.chosen.tax else "tax", [c.tax for c in columns]
    yield "PRICE", [c.total for c in columns]
    yield told.chosen.deposit_words, [c.deposit for c in columns]
    yield "rest on delivery", [c.rest for c in columns]


def table_rows(told: QuoteTold) -> Iterator[TableRow]:
    """Every line of any column once, in an order that fits them all."""
    by_id = [{line.id: line for line in c.lines} for c in told.columns]
    order: list[str] = []
    for c in told.columns:
        for at, line in enumerate(c.lines):
            if line.id not in order:
                after = order.index(c.lines[at - 1].id) + 1 if at else 0
                order.insert(after, line.id)
    for name in order:
        lines = tuple(lines.get(name) for lines in by_id)
        one = next(line for line in lines if line is not None)
        each = f", at {one.each}" if one.each else ""
        yield TableRow(title=one.title, words=one.words, each=each, lines=lines)


def _blanks(told: QuoteTold, width: int) -> Iterator[str]:
    blanks = dict.fromkeys(
        f"{line.words}: {line.missing}" for c in told.columns for line in c.lines if line.missing
    )
    for words in blanks:
        yield from _hung(words, width)
    if not told.chosen.tax:
        yield f"tax: {told.chosen.tax_words}"


def _hours(column: ColumnTold, width: int) -> Iterator[str]:
    for one in column.hours:
        if not one.hours and not one.source:
            continue
        head = f"{one.words}: {one.hours or 'not known'}{' h' if one.hours else ''}"
        if one.low and one.low != one.high:
            head += f", most often {one.low} to {one.high} h"
        yield from _hung(f"{head} ({one.source})" if one.source else head, width)
    yield from folded(HONEST, width)


def notes_of(told: QuoteTold) -> Iterator[str]:
    """Where the figures of the lines come from; lines of one source together."""
    sources: dict[str, list[str]] = {}
    for line in told.chosen.lines:
        if line.note and not line.id.startswith("hours:"):
            sources.setdefault(line.note, []).append(line.words)
    yield from (f"{'; '.join(words)}: {note}" for note, words in sources.items())


def _offers(told: QuoteTold, width: int) -> Iterator[str]:
    for offer in told.offers:
        yield from _hung(f"{offer.number}. {offer_words(offer)}", width)


def offer_words(offer: OfferTold) -> str:
    """An offer in a line: what was asked, when, and how it stands."""
    money = f" {offer.currency}" if offer.currency else ""
    words = f"{offer.total}{money} on {offer.day}"
    if offer.total != offer.net:
        words = f"{offer.total}{money} with tax ({offer.net} without) on {offer.day}"
    words += f", {offer.answer or 'open'}"
    if not offer.answer and offer.valid_until:
        words += f", {'lapsed on' if offer.lapsed else 'holds until'} {offer.valid_until}"
    return words


def _standing(told: QuoteTold) -> OfferTold | None:
    return told.offers[-1] if told.offers else None


def write_actual(told: QuoteTold, width: int) -> Iterator[str]:
    """How the work came out, in lines no wider than so many columns."""
    actual = told.actual
    if actual is None:
        return
    wide = max(WORDS, width - 3 * 13)
    yield " " * wide + "".join(word.rjust(13) for word in ("quoted", "actual", "difference"))
    for line in actual.lines:
        cells = (line.quoted or "-", line.actual or "-", line.difference or "-")
        yield cut(line.words, wide - 1).ljust(wide) + "".join(c.rjust(13) for c in cells)
        if line.why:
            yield from folded(line.why, width, "    ")
    yield ""
    yield f"{actual.hours} h in all that are known{'' if actual.finished else '; work goes on'}."
    if actual.earned_hour:
        money = f"{actual.earned_hour} {told.currency}".rstrip()
        yield from folded(f"An hour earned {money}: {actual.earned_words}.", width)
    else:
        yield from folded(f"What an hour earned is not known: {actual.earned_words}.", width)


def _hung(text: str, width: int) -> Iterator[str]:
    """The text folded, its later lines indented."""
    lines = folded(text, width - 2)
    yield from lines[:1]
    yield from (f"  {line}" for line in lines[1:])
