"""Sets a sheet for a line printer: 80 columns, ASCII alone, a form feed between pages."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from unicodedata import normalize

from forgelog.recipe.plain import code_point, harmless
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

WIDTH = 80
LINES = 60
"""Of a page, its head and foot among them; printers give 66 at six to the inch, less margins."""

Chunk = list[str]
"""Lines that stay together on a page where they can."""

_LETTERS = {
    "·": "-",
    "–": "-",
    "—": "-",
    "×": "x",
    "…": "...",
    "°": " deg ",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "ß": "ss",
    "æ": "ae",
    "Æ": "AE",
    "ø": "o",
    "Ø": "O",
    "€": "EUR",
    "£": "GBP",
}
"""Signs that Unicode knows no ASCII for, and people do."""


def set_lines(sheet: Sheet) -> str:
    """The sheet as plain lines, page by page.

    Args:
        sheet: What is told; its texts may be a stranger's.

    Returns:
        Lines of at most 80 letters of ASCII; pages parted by form feeds.
    """
    pages = list(_pages(_chunks(sheet)))
    head = ascii_only(sheet.head)
    foot = ascii_only(sheet.foot)[:WIDTH]
    done = []
    for number, page in enumerate(pages, 1):
        count = f"{number}/{len(pages)}"
        top = f"{head[: WIDTH - len(count) - 2]:<{WIDTH - len(count)}}{count}"
        done.append("\n".join([top, "=" * WIDTH, *page, "", foot]).rstrip() + "\n")
    return "\f".join(done)


def ascii_only(text: str) -> str:
    """A text in ASCII: accents left off, letters of other scripts named, as in "<U+4E2D>"."""
    text = harmless(text)
    if text.isascii():
        return text
    return "".join(_ascii(sign) for sign in text)


def _ascii(sign: str) -> str:
    if sign.isascii():
        return sign
    if sign in _LETTERS:
        return _LETTERS[sign]
    plain = normalize("NFKD", sign).encode("ascii", "ignore").decode()
    if plain and plain.isprintable():
        return plain
    return "" if normalize("NFKD", sign) == "" else f"<{code_point(sign)}>"


def _pages(chunks: Iterable[Chunk]) -> Iterator[list[str]]:
    room = LINES - 4
    page: list[str] = []
    for chunk in chunks:
        if chunk == ["\f"]:
            if page:
                yield page
            page = []
            continue
        if page and len(page) + len(chunk) > room:
            yield page
            page = []
        if not page:
            chunk = chunk[1:] if chunk and not chunk[0] else chunk
        while len(chunk) > room:
            yield chunk[:room]
            chunk = chunk[room:]
        page.extend(chunk)
    if page:
        yield page


def _chunks(sheet: Sheet) -> Iterator[Chunk]:
    yield [*_wrapped(f"{sheet.kind}: {sheet.title}"), ""]
    yield from _apart(sheet.lead)
    for part in sheet.parts:
        if part.new_page:
            yield ["\f"]
        title = _wrapped(part.title.upper())
        head = ["", *title, "-" * max(map(len, title))]
        for chunk in _apart(part.blocks):
            yield head + chunk
            head = []
        if head:
            yield head


def _apart(blocks: Iterable[AnyBlock]) -> Iterator[Chunk]:
    """The blocks, an empty line before each but the first; some bring their own."""
    for number, block in enumerate(blocks):
        gap = [""] if number and not isinstance(block, Step | Room) else []
        for chunk in _block(block):
            yield gap + chunk
            gap = []


def _block(block: AnyBlock) -> Iterator[Chunk]:
    match block:
        case Facts():
            yield from (list(_labelled(label, words)) for label, words in block.rows)
        case Words():
            words = f"** {block.words}" if block.strong else block.words
            yield _wrapped(words, "   " if block.strong else "")
        case Points():
            yield from (_wrapped(f"{block.sign} {item}", "  ") for item in block.items)
        case Checks():
            for item in block.items:
                note = f"; {item.note}" if item.note else ""
                box = "[x]" if item.done else "[ ]"
                yield _wrapped(f"{box} {item.words}{note}", "    ")
        case Table():
            yield from _table(block)
        case Step():
            yield list(_step(block))
        case Picture():
            if block.drawing.lines:
                yield ["", *(ascii_only(line)[:WIDTH] for line in block.drawing.lines), ""]
            if block.items:
                items = (f"{n} {item}" for n, item in enumerate(block.items, 1))
                yield [line for item in items for line in _wrapped(f"  {item}", "    ")]
        case Room():
            lines = [line for _ in range(block.lines) for line in ("", "_" * WIDTH)]
            yield ["", *_wrapped(block.title), *lines]


def _step(step: Step) -> Iterator[str]:
    yield ""
    aside = f" ({step.aside})" if step.aside else ""
    yield from _wrapped(f"{step.number:>3}. {step.title.upper()}{aside}", "     ")
    for label, words in step.facts:
        sign = "" if label == "!" else ":"
        lead = f"{label}{sign} " if label else ""
        yield from _wrapped(f"     {lead}{words}", "       ")
    for row in step.rows:
        yield from _row(row)


def _row(row: Row) -> Iterator[str]:
    """The label, then the cells, as many in a line as it holds."""
    cells = []
    for cell in row.cells:
        marks = ("[x]" if cell.crossed else "[ ]") * cell.boxes + ("________" if cell.blank else "")
        marks += "_" * 60 if cell.note else ""
        cells.append(ascii_only(f"{cell.name} {marks}".strip()))
    line = f"     {ascii_only(row.label)}:"
    if len(line) > WIDTH // 2:
        *above, line = _wrapped(line, "       ")
        yield from above
    for words in cells:
        if len(line) + 2 + len(words) > WIDTH and line.strip():
            yield line
            line = "      "
        line += f"  {words}"
        while len(line) > WIDTH:
            yield line[:WIDTH]
            line = "       " + line[WIDTH:]
    yield line


def _table(table: Table) -> Iterator[Chunk]:
    rows = [[ascii_only(cell) for cell in row] for row in (table.head, *table.rows)]
    right = table.right
    if table.ticked:
        sums = len(rows) - 1 if table.total else len(rows)
        rows = [["[ ]" if 0 < i < sums else "", *row] for i, row in enumerate(rows)]
        right = frozenset(i + 1 for i in right)
    columns = len(rows[0])
    wide = [max(1, *(len(row[i]) for row in rows)) for i in range(columns)]
    while sum(wide) + 2 * (columns - 1) > WIDTH:
        widest = wide.index(max(wide))
        wide[widest] -= 1
    titled = any(table.head)
    for number, row in enumerate(rows):
        if number == 0 and not titled:
            continue
        last = number == len(rows) - 1
        chunk = ["-" * WIDTH] if last and table.total and number else []
        chunk += _table_row(row, wide, right)
        if number == 0:
            chunk.append("-" * WIDTH)
        yield chunk


def _table_row(row: list[str], wide: list[int], right: frozenset[int]) -> list[str]:
    cells = [textwrap.wrap(cell, width=w) or [""] for cell, w in zip(row, wide, strict=True)]
    lines = []
    for number in range(max(map(len, cells))):
        parts = (cell[number] if number < len(cell) else "" for cell in cells)
        line = "  ".join(
            f"{part:>{w}}" if i in right else f"{part:<{w}}"
            for i, (part, w) in enumerate(zip(parts, wide, strict=True))
        )
        lines.append(line.rstrip())
    return lines


def _labelled(label: str, words: str) -> Iterator[str]:
    lead = f"{ascii_only(label):<12}  "
    yield from _wrapped(lead + words, " " * 14)


def _wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(
        ascii_only(words),
        width=WIDTH,
        subsequent_indent=indent,
        break_on_hyphens=False,
    ) or [""]
