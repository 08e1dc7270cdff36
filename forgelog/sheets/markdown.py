"""Sets a sheet as Markdown: headings, lists and tables; whatever people wrote is plain text in it.

Every sign that Markdown, or HTML inside it, would obey is escaped; a drawing is told in letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from forgelog.recipe.plain import harmless
from forgelog.sheets.blocks import (
    AnyBlock,
    Checks,
    Facts,
    Picture,
    Points,
    Room,
    Row,
    Sheet,
    Step,
    Table,
    Words,
)

# Some readers make a link of any word with a point in it.
_OBEYED = re.compile(r"([\\`*_{}\[\]<>#|~&!$^=@]|:(?=//|[\w+-]+:)|/(?=/)|(?<=\w)\.(?=[^\W\d]))")
_BEGINS = re.compile(r"^(\s*)([-+]|\d+[.)])")
"""What would begin a list at the head of a paragraph."""


def set_markdown(sheet: Sheet) -> str:
    """The sheet as one file of Markdown (CommonMark, with the tables that most readers know).

    Args:
        sheet: What is told; its texts may be a stranger's.
    """
    lines = [f"# {plain(sheet.kind)}: {plain(sheet.title)}", ""]
    for block in sheet.lead:
        lines += [*_block(block), ""]
    for part in sheet.parts:
        lines += [f"## {plain(part.title)}", ""]
        for block in part.blocks:
            lines += [*_block(block), ""]
    lines += ["---", "", plain(sheet.foot)]
    return "\n".join(lines) + "\n"


def plain(text: str) -> str:
    """A text on one line in which nothing is Markdown."""
    shown = " ".join(harmless(text).split())
    shown = _OBEYED.sub(r"\\\1", shown)
    return _BEGINS.sub(lambda found: f"{found[1]}{found[2][:-1]}\\{found[2][-1]}", shown)


def _block(block: AnyBlock) -> Iterator[str]:
    match block:
        case Facts():
            yield from (f"- **{plain(label)}**: {plain(words)}" for label, words in block.rows)
        case Words():
            words = plain(block.words)
            yield f"**{words}**" if block.strong and words else words
        case Points():
            yield from (f"- {plain(item)}" for item in block.items)
        case Checks():
            for item in block.items:
                note = f" ({plain(item.note)})" if item.note else ""
                yield f"- [{'x' if item.done else ' '}] {plain(item.words)}{note}"
        case Table():
            yield from _table(block)
        case Step():
            yield from _step(block)
        case Picture():
            yield plain(block.drawing.words)
            yield ""
            yield from _fenced(block.drawing.lines)
            yield from (f"{n}. {plain(item)}" for n, item in enumerate(block.items, 1))
        case Room():
            yield f"**{plain(block.title)}**"


def _table(table: Table) -> Iterator[str]:
    columns = range(len(table.head))
    yield _row(table.head)
    yield "|" + "|".join("---:" if i in table.right else "---" for i in columns) + "|"
    yield from map(_row, table.rows)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(plain(cell) or " " for cell in cells) + " |"


def _step(step: Step) -> Iterator[str]:
    aside = f" ({plain(step.aside)})" if step.aside else ""
    yield f"### {step.number}. {plain(step.title)}{aside}"
    yield ""
    yield from (
        f"- {plain(f'{label}: {words}' if label else words)}" for label, words in step.facts
    )
    yield from (f"- {_ticks(row)}" for row in step.rows)


def _ticks(row: Row) -> str:
    names = [plain(cell.name) for cell in row.cells if cell.name]
    return f"{plain(row.label)}: {', '.join(names)}" if names else plain(row.label)


def _fenced(lines: Iterable[str]) -> Iterator[str]:
    """Letters that keep their columns, within a fence that none of them can close."""
    shown = [harmless(line) for line in lines]
    if not shown:
        return
    longest = max((len(run) for line in shown for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield from (f"{fence}text", *shown, fence, "")
