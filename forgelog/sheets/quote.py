"""The quote for the customer, without what it costs the shop; the inner sheet, which tells that."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.errors import CannotDo
from forgelog.desk.quote_pages import (
    HONEST,
    first_words,
    notes_of,
    offer_words,
    sum_rows,
    table_rows,
)
from forgelog.desk.quote_told import LineTold, OfferTold, QuoteTold
from forgelog.recipe.step_words import Fact
from forgelog.sheets.blocks import AnyBlock, Facts, Part, Points, Room, Sheet, Table, Words
from forgelog.sheets.job import pairs

TERMS = (
    "Forged by hand: sizes are as agreed, within the usual tolerance of the work. What a part may "
    "carry is not part of this offer: where it carries people, or could fall on them, a qualified "
    "engineer and the building rules of the place decide."
)


def quote_sheet(told: QuoteTold, customer: tuple[Fact, ...] = ()) -> Sheet:
    """What the customer gets: what is made, its price, how long it holds.

    An offer that stands is told as it was made; without one, the price of today.

    Args:
        told: The quote.
        customer: Who it is for; nothing where that was not asked for.

    Raises:
        CannotDo: nothing is priced yet, so that there is nothing to offer.
    """
    offer = standing(told)
    if offer is None and not told.chosen.total:
        raise CannotDo(
            "there is no price to print yet: put your rates into shop.toml; "
            f"`forgelog quote {told.label}` says which are missing"
        )
    return Sheet(
        kind="QUOTE",
        title=f"{told.count} x {told.recipe_name}" if told.count > 1 else told.recipe_name,
        head=f"QUOTE  {told.label}  {told.shop}",
        foot=f"order {told.label}, {offer.day if offer else told.day}",
        lead=tuple(_lead(told, offer, customer)),
        parts=tuple(_offered(told, offer)),
    )


def standing(told: QuoteTold) -> OfferTold | None:
    """The last offer, where it is open or was taken."""
    last = told.offers[-1] if told.offers else None
    return last if last and not last.lapsed and last.answer in ("", "accepted") else None


def _lead(
    told: QuoteTold, offer: OfferTold | None, customer: tuple[Fact, ...]
) -> Iterator[AnyBlock]:
    rows = [
        ("From", told.shop),
        ("Order", f"{told.label}: {told.title}"),
        ("Day", offer.day if offer else told.day),
        ("Holds until", offer.valid_until if offer else told.valid_until),
        ("Ready by", told.promised),
    ]
    yield Facts(rows=(*pairs(customer), *(row for row in rows if row[1])))
    if offer is None:
        yield Words(
            words="Not offered yet: this is the price of today, which is written down when it is "
            "offered.",
            strong=True,
        )
        if told.chosen.without_words:
            yield Words(
                words="It is not whole: the inner sheet says what is not in it.", strong=True
            )


def _offered(told: QuoteTold, offer: OfferTold | None) -> Iterator[Part]:
    what = told.says.split(". ")[0].strip().rstrip(".")
    sets = "1 set" if told.count == 1 else f"{told.count} sets"
    rows = [("How many", sets), ("What", what), ("Sizes", ", ".join(told.sizes))]
    yield Part(title="What is made", blocks=(Facts(rows=tuple(row for row in rows if row[1])),))
    yield Part(title="Price", blocks=tuple(_price(told, offer)))
    yield Part(
        title="Agreed",
        blocks=(Words(words=TERMS), Room(title="Day and name", lines=2)),
    )


def _price(told: QuoteTold, offer: OfferTold | None) -> Iterator[AnyBlock]:
    column = told.chosen
    net, tax, total, deposit = (
        (offer.net, offer.tax, offer.total, offer.deposit)
        if offer
        else (column.net, column.tax, column.total, column.deposit)
    )
    rows = [("price without tax", net), (column.tax_words if column.tax else "tax", tax)]
    rows = [row for row in rows if row[1] and tax]
    rows.append((f"price, {told.currency}".rstrip(", "), total))
    yield Table(
        head=("", told.currency),
        rows=tuple(rows),
        right=frozenset({1}),
        total=True,
    )
    within = [line.words for line in told.own if line.amount]
    if within:
        yield Words(words=f"In the price: {', '.join(within)}.")
    if deposit:
        yield Words(words=f"Of it as a deposit with the order: {deposit} {told.currency}".rstrip())


def inner_sheet(told: QuoteTold) -> Sheet:
    """What the price is made of, by each method; for the shop alone."""
    title = f"{told.label}: {told.title}"
    return Sheet(
        kind="COSTS, FOR THE SHOP ALONE",
        title=title,
        head=f"COSTS, FOR THE SHOP ALONE  {title}",
        foot=f"told {told.day} by forgelog",
        lead=tuple(_inner_lead(told)),
        parts=tuple(_inner_parts(told)),
    )


def _inner_lead(told: QuoteTold) -> Iterator[AnyBlock]:
    sets = "1 set" if told.count == 1 else f"{told.count} sets"
    rows = (
        ("What", f"{sets} of {told.recipe_name}"),
        ("Sizes", ", ".join(told.sizes) or "the recipe's"),
        ("Promised", told.promised or "no date"),
    )
    yield Facts(rows=rows)
    yield Words(words=first_words(told), strong=True)
    for problem in told.problems:
        yield Words(words=problem, strong=True)


def _inner_parts(told: QuoteTold) -> Iterator[Part]:
    yield Part(title="Costs and price", blocks=(*_costs(told), Words(words=told.rounding)))
    hours = tuple(
        (
            one.words,
            f"{one.hours} h" if one.hours else "not known",
            f"{one.low} to {one.high} h" if one.low and one.low != one.high else "",
            one.source,
        )
        for one in told.chosen.hours
        if one.hours or one.source
    )
    if hours:
        table = Table(head=("kind", "hours", "most often", "from"), rows=hours)
        yield Part(title=f"Hours, {told.chosen.words}", blocks=(table, Words(words=HONEST)))
    blanks = dict.fromkeys(
        f"{line.words}: {line.missing}" for c in told.columns for line in c.lines if line.missing
    )
    for name, lines in (
        ("Not set", blanks),
        ("Where the figures come from", notes_of(told)),
        ("Offers", [f"{offer.number}. {offer_words(offer)}" for offer in told.offers]),
    ):
        items = tuple(lines)
        if items:
            yield Part(title=name, blocks=(Points(items=items, sign="-"),))
    if told.actual is not None:
        rows = tuple(
            (line.words, line.quoted or "-", line.actual or "-", line.difference or "-", line.why)
            for line in told.actual.lines
        )
        head = ("", "quoted", "actual", "difference", "")
        table = Table(head=head, rows=rows, right=frozenset({1, 2, 3}))
        yield Part(title="Quoted and actual", blocks=(table,))


def _costs(told: QuoteTold) -> Iterator[AnyBlock]:
    many = len(told.columns) > 2
    head = [""]
    for column in told.columns:
        head += [column.words] if many else ["", column.words]
    rows: list[tuple[str, ...]] = []
    title = ""
    for one in table_rows(told):
        if one.title != title:
            title = one.title
            rows.append((title, *[""] * (len(head) - 1)))
        cells = [f"{one.words}{one.each}"]
        for line in one.lines:
            cells += [_amount(line)] if many else [line.quantity if line else "", _amount(line)]
        rows.append(tuple(cells))
    for words, amounts in sum_rows(told):
        if any(amounts):
            sums = [words]
            for amount in amounts:
                sums += [amount or "-"] if many else ["", amount or "-"]
            rows.append(tuple(sums))
    yield Table(head=tuple(head), rows=tuple(rows), right=frozenset(range(1, len(head))))


def _amount(line: LineTold | None) -> str:
    if line is None:
        return "-"
    return line.amount or "not set"
