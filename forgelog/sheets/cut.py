"""The cut list: bar by bar, where the saw goes, with a box for every piece."""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.desk.cut_told import BarTold, CutTold, RunTold, SectionTold
from forgelog.desk.review_words import counted
from forgelog.sheets.blocks import (
    AnyBlock,
    Cell,
    Check,
    Checks,
    Facts,
    Part,
    Points,
    Room,
    Row,
    Sheet,
    Step,
    Words,
)
from forgelog.sheets.drawings import draw_bar

MOST_NAMED = 4
"""Orders that are named in the title."""


def cut_sheet(told: CutTold, day: str) -> Sheet:
    """The cut list of some orders, or of all.

    Args:
        told: What is cut.
        day: YYYY-MM-DD, when it was told.
    """
    orders = ", ".join(order.label for order in told.orders) or "no order"
    if len(told.orders) > MOST_NAMED:
        orders = f"{len(told.orders)} orders"
    return Sheet(
        kind="CUT LIST",
        title=orders,
        head=f"CUT LIST  {orders}",
        foot=f"told {day} by forgelog; marks are the far ends of the pieces, from the zero end",
        lead=tuple(_lead(told)),
        parts=tuple(_parts(told)),
    )


def _lead(told: CutTold) -> Iterator[AnyBlock]:
    rows = [(order.label, order.title) for order in told.orders]
    rows.append(("Pieces", f"{told.pieces}, {told.mass} as they are cut"))
    rows.append(("Saw cut", f"{told.kerf}; offcuts below {told.least} are not kept"))
    yield Facts(rows=tuple(rows))
    yield Words(words=told.first, strong=True)


def _parts(told: CutTold) -> Iterator[Part]:
    if told.buy:
        items = tuple(Check(words=words) for words in told.buy)
        yield Part(title="To buy", blocks=(Checks(items=items),))
    for section in told.sections:
        yield Part(title=f"{section.section}, {section.steel}", blocks=tuple(_section(section)))
    notes = (*told.unsized, *told.left_out, *told.notes)
    if notes:
        yield Part(title="To know", blocks=(Points(items=notes, sign="-"),))
    yield Part(title="Notes", blocks=(Room(title="What was cut otherwise", lines=4),))


def _section(section: SectionTold) -> Iterator[AnyBlock]:
    pieces = counted(section.pieces, "piece")
    yield Facts(rows=(("To cut", f"{pieces}, {section.needed}, {section.mass}"),))
    for words in section.lacking:
        yield Words(words=words, strong=True)
    for bar in section.bars:
        yield _bar(bar)
    if section.notes:
        yield Points(items=section.notes, sign="-")


def _bar(bar: BarTold) -> Step:
    ends = [end for run in bar.runs for end in run.marks_mm]
    facts = [("Where", bar.where)] if bar.where else []
    facts.append(("Saw cuts", f"{bar.cuts}, {bar.kerf} in all"))
    return Step(
        number=bar.number,
        title=bar.words,
        facts=tuple(facts),
        strip=draw_bar(bar.long_mm, ends, bar.words),
        rows=(*(_run(run) for run in bar.runs), Row(label=bar.rest_words, cells=(Cell(boxes=1),))),
    )


def _run(run: RunTold) -> Row:
    note = f" ({run.note})" if run.note else ""
    cells = tuple(Cell(name=mark, boxes=1) for mark in run.marks)
    return Row(label=f"{run.words}{note}; mark at", cells=cells)
