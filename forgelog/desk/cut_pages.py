"""A cut list in words: titled pages of plain lines, for the shell and for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from forgelog.desk.cut_told import BarTold, CutTold, SectionTold, taken_words
from forgelog.desk.review_pages import Page
from forgelog.desk.review_words import cut, folded

NARROWEST = 78
"""A window of 80 columns has a margin at either side."""
HOW = (
    "Marks are from the zero end of the whole bar, so all can be struck before the first cut; "
    "saw beyond the mark."
)


def write_cut(told: CutTold, width: int) -> tuple[Page, ...]:
    """The pages of a cut list: what to buy and what to know, then one for each bar section.

    Args:
        told: The cut list.
        width: Columns that no line is to exceed; below 78 it is taken for 78.
    """
    width = max(NARROWEST, width)
    pages = [_page("TO SAW, AND TO BUY", _first(told, width), width)]
    for section in told.sections:
        title = f"{section.section.upper()} · {section.steel} · {section.mass}"
        pages.append(_page(title, _section(section, width), width))
    return tuple(pages)


def bar_shown(told: CutTold, page: Sequence[str], row: int) -> BarTold | None:
    """The bar that a page shows from some row on: the first that begins there, or the one above.

    Args:
        told: The cut list.
        page: Lines of one of its pages.
        row: First line that is shown.

    Returns:
        On a page without a bar, the first of the list; None where the list has none.
    """
    lines = (*page[row:], *reversed(page[:row]))
    starts = {f"{bar.number}.": bar for bar in told.bars}
    found = (starts.get(line.partition(" ")[0]) for line in lines)
    first = told.bars[0] if told.bars else None
    return next((bar for bar in found if bar is not None), first)


def _page(title: str, lines: Iterable[str], width: int) -> Page:
    return Page(title=cut(title, width), lines=tuple(line.rstrip() for line in lines))


def _first(told: CutTold, width: int) -> Iterator[str]:
    for order in told.orders:
        yield cut(f"for {order.label}: {order.title}", width)
    for line in told.buy:
        yield from folded(f"buy {line}", width)
    for section in told.sections:
        yield cut(f"saw {section.section}, {section.steel}: {_from(section)}", width)
    if told.pieces:
        yield ""
        yield from folded(
            f"{told.mass} of steel in the pieces. A saw cut takes {told.kerf}; new bars are "
            f"{told.bar}; offcuts under {told.least} are not kept.",
            width,
        )
        yield from folded(HOW, width)
    for title, lines in (
        ("longer than any bar", [line for s in told.sections for line in s.lacking]),
        ("not in the list", told.unsized),
        ("left out", told.left_out),
        ("to know", told.notes),
    ):
        if lines:
            yield ""
            yield f"{title}:"
            for line in lines:
                yield from folded(line, width, "  ")


def _from(section: SectionTold) -> str:
    many = "piece" if section.pieces == 1 else "pieces"
    bars = taken_words(section.bars) or "no bar"
    return f"{section.pieces} {many}, {section.needed}, from {bars}"


def _section(section: SectionTold, width: int) -> Iterator[str]:
    for bar in section.bars:
        yield from _bar(bar, width)
        yield ""
    for line in (*section.lacking, *section.notes):
        yield from folded(line, width)


def _bar(bar: BarTold, width: int) -> Iterator[str]:
    yield cut(f"{bar.number}. {bar.words}", width)
    for run in bar.runs:
        yield cut(f"   {run.words}", width)
        if run.note:
            yield from folded(run.note, width, "      ")
        at = "at" if run.count == 1 else "each at"
        yield from folded(f"mark {at} {_marks(run.marks)}", width, "      ")
    cuts = "once" if bar.cuts == 1 else f"{bar.cuts} times"
    yield cut(f"   saw {cuts}; {bar.rest_words}", width)


def _marks(marks: tuple[str, ...]) -> str:
    """The unit once: "480, 962, 1444 mm"."""
    unit = marks[-1].rpartition(" ")[2]
    if any(not mark.endswith(f" {unit}") for mark in marks):
        return ", ".join(marks)
    return ", ".join(mark.removesuffix(f" {unit}") for mark in marks) + f" {unit}"
